"""When to look at a board: days worth suggesting, which looks were done, which one is next.

Days are whole days of the calendar after the one on which exposure began: a look is on day 2 when it is on the second
date after the start, whatever the hour. An inspection counts for the planned day nearest to its own, so half of the
gap between two planned days belongs to each; just between them it counts for the earlier one, as a late look. Before
the first planned day half a gap counts, at least one day, for the picture on the evening before; after the last
planned day every inspection counts for the last.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Sequence
from datetime import datetime, timedelta
from itertools import pairwise
from typing import Final, NamedTuple

from rustboard.board.cells import quoted, read_whole
from rustboard.board.inspection_days import LONGEST_DAYS, MOST_DAYS, InspectionDays
from rustboard.support.problems import InputError

LONGEST_GAP_DAYS: Final = 90
"""A quarter of a year, so that every season is seen (own advice, no source)."""

_CLOSE: Final = 9 / 8
"""A doubled day that the end follows so closely is left out: two looks within days of each other tell one thing."""


class NextLook(NamedTuple):
    """The planned inspection that a visit made now would count for.

    Attributes:
        day: of exposure.
        due: when; day 0 is due as exposure begins, the others at the calendar's hour.
        overdue_days: dates gone by since it was due; 0 = today, negative = still to come.
        missed: planned days between the last inspection and this one that nobody came for.
    """

    day: int
    due: datetime
    overdue_days: int
    missed: int


class PlannedLook(NamedTuple):
    """One planned inspection and what became of it.

    Attributes:
        due: None while no start is known.
        done: when the inspection that counts for it was, or None.
    """

    day: int
    due: datetime | None
    done: datetime | None


def suggested_days(duration_days: int) -> tuple[int, ...]:
    """Return days on which to look at a board that is to hang so many days, the last of them its last.

    Day 0 is for the picture and the look before anything happens. Then come 1, 2, 4, 8 and so on, each about twice
    the one before, which catches first rust early at the cost of few visits. After day 128 the steps are even ones of
    at most `LONGEST_GAP_DAYS` (longer ones where a calendar of `MOST_DAYS` days would not reach). Own advice, no
    source.

    Raises:
        InputError: no run lasts so long.
    """
    if not 0 <= duration_days <= LONGEST_DAYS:
        raise InputError(f"A board hangs from 0 to {LONGEST_DAYS:,} days; check how long it is to hang.")
    days = [0]
    day = 1
    while day < duration_days and (day < 2 or day / 2 <= LONGEST_GAP_DAYS):
        days.append(day)
        day *= 2
    if len(days) > 2 and duration_days <= days[-1] * _CLOSE:
        days.pop()
    return tuple(days) + _even_steps(days[-1], duration_days, MOST_DAYS - len(days))


def _even_steps(after: int, end: int, most: int) -> tuple[int, ...]:
    """Return days from ``after``, left out, to ``end`` in steps that differ by a day at most."""
    rest = end - after
    count = min(-(-rest // LONGEST_GAP_DAYS), most)
    return tuple(after + rest * step // count for step in range(1, count + 1))


def checked_days(days: Iterable[int]) -> tuple[int, ...]:
    """Return the days of a calendar as they are.

    Raises:
        InputError: a day that cannot be, days that do not rise, or too many.
    """
    found = tuple(days)
    if len(found) > MOST_DAYS:
        raise InputError(f"{len(found)} days are too many; a calendar has at most {MOST_DAYS}.")
    for day in found:
        if not 0 <= day <= LONGEST_DAYS:
            raise InputError(f"Day {day} is not between 0 and {LONGEST_DAYS:,}; mend or remove it.")
    for one, other in pairwise(found):
        if one >= other:
            raise InputError(f"Day {other} stands after day {one}; write every day once, from the first to the last.")
    return found


def read_days(text: str) -> tuple[int, ...]:
    """Return the days that somebody typed, sorted, each once: ``1, 2, 4, 8``; blanks and semicolons do as well.

    Raises:
        InputError: something is not a whole number, or as `checked_days`.
    """
    words = text.replace(",", " ").replace(";", " ").split()
    if len(words) > 10 * MOST_DAYS:
        raise InputError(f"{len(words)} days are too many; a calendar has at most {MOST_DAYS}.")
    return checked_days(sorted({_day(word) for word in words}))


def _day(word: str) -> int:
    try:
        return read_whole(word)
    except InputError:
        raise InputError(f"{quoted(word)} is not a day; write whole numbers such as 1, 2, 4, 8.") from None


def day_number(started: datetime, when: datetime) -> int:
    """Return how many dates ``when`` is after the date of the start."""
    return (when.date() - started.date()).days


def look_time(calendar: InspectionDays, started: datetime, day: int) -> datetime:
    """Return when a planned look is due: day 0 as exposure begins, the others at the calendar's hour."""
    if day == 0:
        return started
    return datetime.combine(started.date() + timedelta(days=day), calendar.hour)


def look_at(days: Sequence[int], day: int) -> int | None:
    """Return which of the planned days, counted from 0, an inspection on ``day`` counts for, or None."""
    if not days:
        return None
    after = bisect_left(days, day)
    if after == len(days):
        return after - 1
    if after == 0:
        reach = max(1.0, (days[1] - days[0]) / 2) if len(days) > 1 else 1.0
        return 0 if days[0] - day <= reach else None
    return after - 1 if day - days[after - 1] <= days[after] - day else after


def next_look(
    calendar: InspectionDays, started: datetime | None, last_inspection: datetime | None, now: datetime
) -> NextLook | None:
    """Return the planned look that is due or comes next; None when none is left, or when no start is known.

    A look stays due until a visit would count for the one after it; then it is missed.
    """
    days = calendar.days
    if started is None or not days:
        return None
    seen = None if last_inspection is None else look_at(days, day_number(started, last_inspection))
    first_open = 0 if seen is None else seen + 1
    if first_open == len(days):
        return None
    today = day_number(started, now)
    number = max(first_open, look_at(days, today) or 0)
    due = look_time(calendar, started, days[number])
    return NextLook(days[number], due, today - days[number], number - first_open)


def planned_looks(
    calendar: InspectionDays, started: datetime | None, inspections: Iterable[datetime]
) -> list[PlannedLook]:
    """Return every planned look by day; of several inspections that count for one, the nearest is named."""
    days = calendar.days
    if started is None:
        return [PlannedLook(day, None, None) for day in days]
    done: dict[int, datetime] = {}
    for at in sorted(inspections):
        day = day_number(started, at)
        number = look_at(days, day)
        if number is None:
            continue
        held = done.get(number)
        if held is None or abs(day - days[number]) < abs(day_number(started, held) - days[number]):
            done[number] = at
    return [PlannedLook(day, look_time(calendar, started, day), done.get(number)) for number, day in enumerate(days)]
