"""A question is in time only as the board's dates stand now."""

from __future__ import annotations

from datetime import datetime

import pytest

from rustboard.board.model import Board, Inspection
from rustboard.board.question import Question
from rustboard.board.question_time import written_after_start
from rustboard.board.record import BoardRecord

WRITTEN = datetime(2026, 3, 2, 9)


def board(started: datetime | None = None, inspected: datetime | None = None) -> BoardRecord:
    inspections = {} if inspected is None else {1: Inspection(inspected, key=1)}
    return BoardRecord(Board("Quay", started=started), inspections=inspections)


@pytest.mark.parametrize(
    ("record", "late"),
    [
        (board(), False),
        (board(started=datetime(2026, 3, 3)), False),
        (board(started=WRITTEN), False),
        (board(started=datetime(2026, 3, 1)), True),
        (board(inspected=datetime(2026, 3, 1)), True),
        (board(inspected=datetime(2026, 3, 9)), False),
    ],
)
def test_a_start_stated_or_moved_afterwards_counts(record: BoardRecord, late: bool) -> None:
    assert written_after_start(Question(written=WRITTEN), record) is late


def test_what_was_late_once_stays_late() -> None:
    assert written_after_start(Question(written=WRITTEN, late=True), board(started=datetime(2027, 1, 1)))


def test_a_question_without_a_time_is_late_only_when_it_was_marked_so() -> None:
    assert not written_after_start(Question(), board(started=datetime(2026, 3, 1)))
