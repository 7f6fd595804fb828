"""The end that was planned for a board, and whether it is reached: the fair moment to stop and judge."""

from __future__ import annotations

from typing import NamedTuple

from rustboard.board.inspection_calendar import day_number, look_at
from rustboard.board.question_time import written_after_start
from rustboard.board.record import BoardRecord


class PlannedEnd(NamedTuple):
    """The last planned inspection.

    Attributes:
        day: of exposure.
        reached: whether an inspection counts for it.
        question_late: whether the question was written or changed after the start.
    """

    day: int
    reached: bool
    question_late: bool


def planned_end(record: BoardRecord) -> PlannedEnd | None:
    """Return the planned end of a board; None where no inspections or only the start were planned."""
    days, started = record.calendar.days, record.day_zero()
    if not days or days[-1] <= 0:
        return None
    inspections = record.inspections_in_order()
    reached = False
    if started is not None and inspections:
        reached = look_at(days, day_number(started, inspections[-1].at)) == len(days) - 1
    question = record.question
    return PlannedEnd(days[-1], reached, question is not None and written_after_start(question, record))
