"""The calendar of planned inspections: one row, checked, undone."""

from __future__ import annotations

from collections.abc import Callable
from datetime import time

import pytest

from rustboard.board.inspection_days import LONGEST_DAYS, MOST_DAYS, InspectionDays
from rustboard.operations.calendars import set_calendar
from rustboard.operations.plans import whole_plan_of
from rustboard.session.looking import look_at_board
from rustboard.session.session import Session


def said(session: Session) -> str:
    summary = session.undo_summary()
    assert summary is not None
    return summary.text()


def test_a_calendar_is_kept_as_one_row_and_undone(session: Session) -> None:
    session.do(set_calendar, InspectionDays((0, 1, 2, 4)))
    assert said(session) == "Plan inspections on days 0, 1, 2, 4"
    session.do(set_calendar, InspectionDays((0, 7), time(16, 30, 12), remind=False))
    assert session.record.calendars == {1: InspectionDays((0, 7), time(16, 30), False, 1)}
    session.undo()
    assert session.record.calendar == InspectionDays((0, 1, 2, 4), key=1)
    session.undo()
    assert session.record.calendars == {}
    session.redo()
    assert session.record.calendar.days == (0, 1, 2, 4)


def test_what_the_events_are_known_by_is_given_once(session: Session) -> None:
    session.do(set_calendar, InspectionDays((0, 1, 2, 4)))
    given = session.record.calendar.uid
    assert len(given) == 24
    session.do(set_calendar, InspectionDays((), time(8), uid="ab" * 12))
    session.do(set_calendar, InspectionDays((0, 7)))
    assert session.record.calendar.uid == given
    session.undo()
    session.redo()
    assert session.record.calendar.uid == look_at_board(session.folder).calendar.uid == given
    assert whole_plan_of(session.record).calendar.uid == ""


def test_the_summary_says_what_changed(session: Session) -> None:
    session.do(set_calendar, InspectionDays((0, 7)))
    session.do(set_calendar, InspectionDays((0, 7), time(8, 15)))
    assert said(session) == "Plan inspections at 08:15"
    session.do(set_calendar, InspectionDays((0, 7), time(8, 15), remind=False))
    assert said(session) == "Do not remind of inspections"
    session.do(set_calendar, InspectionDays((0, 7), time(8, 15)))
    assert said(session) == "Remind of inspections"
    session.do(set_calendar, InspectionDays((), time(8, 15)))
    assert said(session) == "Plan no inspections"
    assert session.record.calendar.hour == time(8, 15)
    session.do(set_calendar, InspectionDays(tuple(range(MOST_DAYS))))
    assert said(session) == "Plan inspections on days 0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11 … 399 (400)"


@pytest.mark.parametrize(
    ("days", "words"),
    [
        ((1, 1), "Day 1 stands after day 1"),
        ((2, 1), "Day 1 stands after day 2"),
        ((-1,), "Day -1 is not between 0"),
        ((LONGEST_DAYS + 1,), "is not between 0"),
        (tuple(range(MOST_DAYS + 1)), "at most 400"),
    ],
)
def test_days_that_cannot_be_are_refused(refused: Callable[..., str], days: tuple[int, ...], words: str) -> None:
    assert words in refused(set_calendar, InspectionDays(days))
