"""Whether a question was written down in time: before the exposure began, as the board's dates stand now."""

from __future__ import annotations

from rustboard.board.question import Question
from rustboard.board.record import BoardRecord


def written_after_start(question: Question, record: BoardRecord) -> bool:
    """Return whether a question was written or changed after the exposure had begun.

    What was late when it was written stays late. What was in time then may be late by a start that was stated, moved
    or inspected only afterwards, so the board's first day is asked each time.
    """
    started = record.day_zero()
    after = question.written is not None and started is not None and question.written > started
    return question.late or after
