"""What a day of the calendar shows."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

from rustboard.board.record import BoardRecord
from rustboard.board.weather import DayNote

MOST_FILLED = 400
"""Empty days filled in one step at most."""


@dataclass(frozen=True, slots=True)
class CalendarDays:
    """What is known of days, by date.

    Attributes:
        notes: the weather noted. disturbed: how many disturbances. inspected: days with an inspection.
    """

    notes: dict[date, DayNote]
    disturbed: dict[date, int]
    inspected: frozenset[date]


def calendar_days(record: BoardRecord) -> CalendarDays:
    """Return what a board's calendar shows."""
    disturbed: dict[date, int] = {}
    for each in record.disturbances.values():
        disturbed[each.at.date()] = disturbed.get(each.at.date(), 0) + 1
    return CalendarDays(
        {each.day: each for each in record.day_notes.values()},
        disturbed,
        frozenset(each.at.date() for each in record.inspections.values()),
    )


def empty_days_before(days: CalendarDays, today: date) -> list[date]:
    """Return the days since the first one noted, before ``today``, of which nothing is noted; the last ones only."""
    first = min((each for each in days.notes if each < today), default=today)
    number = min((today - first).days, MOST_FILLED)
    since = (today - timedelta(days=back) for back in reversed(range(1, number)))
    return [each for each in since if each not in days.notes]
