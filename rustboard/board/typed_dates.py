"""Dates as people and spreadsheets write them.

ISO dates (``2026-03-02``, with or without a time) mean one thing. ``02.03.2026`` may be 2 March or 3 February: such
dates count only when one date somewhere in the same file settles the order, and never by guessing.
"""

from __future__ import annotations

import calendar
import re
from collections.abc import Iterable
from datetime import datetime, time
from typing import Final, Literal, NamedTuple

from rustboard.board.cells import quoted
from rustboard.support.problems import InputError

FIRST_YEAR: Final = 1900
LAST_YEAR: Final = 2200

DateOrder = Literal["day first", "month first"]

_MONTHS: Final = ("January", "February", "March", "April", "May", "June", "July", "August", "September", "October",
                  "November", "December")  # fmt: skip
_DATE: Final = re.compile(r"([0-9]{1,4})([-/.])([0-9]{1,2})\2([0-9]{1,4})")
_TIME: Final = re.compile(
    r"([0-9]{1,2}):([0-9]{2})(?::([0-9]{2})(?:[.,]([0-9]{1,9}))?)?\s*([AaPp])?(?(5)[Mm])"
    r"\s*(?:Z|[+-][0-9]{2}(?::?[0-9]{2})?)?"
)
_HOW = "write dates as year-month-day, such as 2026-03-02"


class Moment(NamedTuple):
    """A point in wall-clock time; midnight when no hour was written."""

    when: datetime
    has_hour: bool


class TypedDate(NamedTuple):
    """A date as written, before it is known which number is the day.

    Attributes:
        text: the cell.
        first, second: the two numbers beside the year; month and day when ``year_first``.
        hour: None when no time of day was written.
    """

    text: str
    year: int
    first: int
    second: int
    year_first: bool
    hour: time | None


def read_typed_date(text: str) -> TypedDate:
    """Take a date apart.

    A zone or offset behind the time (``Z``, ``+02:00``) is dropped: the program keeps the time that the clock on
    the wall showed, and that is what stands before the offset.

    Raises:
        InputError: no date, a year without four digits or outside 1900 to 2200, or no time of day.
    """
    date_text, _, time_text = text.partition("T") if "T" in text[:11] else text.partition(" ")
    found = _DATE.fullmatch(date_text)
    if found is None:
        raise InputError(f"{quoted(text)} is not a date; {_HOW}.")
    one, two, three = found[1], found[3], found[4]
    year_first = len(one) == 4
    if {len(one), len(three)} not in ({4, 1}, {4, 2}):
        raise InputError(f"{quoted(text)} has no year of four digits; {_HOW}.")
    hour = _read_time(time_text.strip()) if time_text.strip() else None
    if year_first:
        typed = TypedDate(text, int(one), int(two), int(three), True, hour)
    else:
        typed = TypedDate(text, int(three), int(one), int(two), False, hour)
    if not FIRST_YEAR <= typed.year <= LAST_YEAR:
        raise InputError(f"The year {typed.year} is not between {FIRST_YEAR} and {LAST_YEAR}; mend the date.")
    return typed


def _read_time(text: str) -> time:
    found = _TIME.fullmatch(text)
    wrong = InputError(f"{quoted(text)} is not a time of day; write hours and minutes, such as 09:00.")
    if found is None:
        raise wrong
    hour = int(found[1])
    if found[5]:
        if not 1 <= hour <= 12:
            raise wrong
        hour = hour % 12 + (12 if found[5] in "Pp" else 0)
    microsecond = int((found[4] or "0").ljust(6, "0")[:6])
    try:
        return time(hour, int(found[2]), int(found[3] or 0), microsecond)
    except ValueError:
        raise wrong from None


def moment_of(typed: TypedDate, order: DateOrder = "day first") -> Moment:
    """Return the point in time that a date means.

    Raises:
        InputError: the calendar has no such day.
    """
    month, day = typed.first, typed.second
    if not typed.year_first and order == "day first":
        month, day = day, month
    if not 1 <= month <= 12:
        raise InputError(f"{quoted(typed.text)} has no month {month} in the calendar; mend the date.")
    if not _exists(typed.year, month, day):
        raise InputError(f"The calendar has no {day} {_MONTHS[month - 1]} {typed.year}; mend the date.")
    hour = typed.hour or time()
    return Moment(datetime.combine(datetime(typed.year, month, day), hour), typed.hour is not None)


def read_iso_moment(text: str) -> Moment:
    """Return the point in time that an ISO date, with or without a time, names.

    Raises:
        InputError: the text is not year-month-day, or the calendar has no such day.
    """
    typed = read_typed_date(text)
    if not typed.year_first:
        raise InputError(f"{quoted(text)} can be read in two ways; {_HOW}.")
    return moment_of(typed)


def agreed_order(dates: Iterable[tuple[int, TypedDate]]) -> DateOrder:
    """Return the order of day and month in a file's dates.

    Args:
        dates: row number and date, for all dates in the file.

    Returns:
        The one order in which the file's dates exist; ``day first`` when it makes no difference.

    Raises:
        InputError: no date settles the order, or two dates contradict each other.
    """
    settling: dict[DateOrder, tuple[int, TypedDate]] = {}
    open_date: tuple[int, TypedDate] | None = None
    for row, typed in dates:
        if typed.year_first or typed.first == typed.second:
            continue
        day_first = _exists(typed.year, typed.second, typed.first)
        month_first = _exists(typed.year, typed.first, typed.second)
        if day_first and month_first:
            open_date = open_date or (row, typed)
        elif day_first or month_first:
            settling.setdefault("day first" if day_first else "month first", (row, typed))
    return _settled(settling, open_date)


def _settled(settling: dict[DateOrder, tuple[int, TypedDate]], open_date: tuple[int, TypedDate] | None) -> DateOrder:
    if len(settling) == 2:
        (row, typed), (other_row, other) = sorted(settling.values(), key=lambda each: each[0])
        raise InputError(
            f"{quoted(other.text)} here and {quoted(typed.text)} in row {row} put day and month in different order; "
            f"{_HOW}.",
            row=other_row,
        )
    if not settling and open_date is not None:
        row, typed = open_date
        raise InputError(
            f"{quoted(typed.text)} can be {typed.first} {_MONTHS[typed.second - 1]} or "
            f"{typed.second} {_MONTHS[typed.first - 1]}, and no other date in the file settles it; {_HOW}.",
            row=row,
        )
    return next(iter(settling), "day first")


def _exists(year: int, month: int, day: int) -> bool:
    return 1 <= month <= 12 and 1 <= day <= calendar.monthrange(year, month)[1]
