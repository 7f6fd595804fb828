"""Days as old tables write them, over a column or in a cell.

Beside what `typed_dates` reads: a month by its name, a year of two digits (taken as 20..), a spreadsheet's day
number, and ``day 3`` or ``week 2`` counted from the day on which exposure began.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from typing import Final

from rustboard.board.cells import quoted
from rustboard.board.typed_dates import DateOrder, Moment, TypedDate, agreed_order, moment_of, read_typed_date
from rustboard.support.problems import InputError

_FIRST_SERIAL: Final = 18_264  # 1950-01-01
_LAST_SERIAL: Final = 73_050  # 2099-12-31
_SERIAL_ZERO: Final = datetime(1899, 12, 30)
_SERIAL: Final = re.compile(r"[0-9]{5}(?:[.,][0-9]+)?")
_SHORT_YEAR: Final = re.compile(r"([0-9]{1,2})([./-])([0-9]{1,2})\2([0-9]{2})(?=$|[ T])")
_SPAN: Final = re.compile(r"(day|days|tag|tage|d|week|weeks|woche|wk|w)[\s._:-]*([0-9]{1,4})", re.IGNORECASE)
_SPAN_BEHIND: Final = re.compile(r"([0-9]{1,4})\s*\.?\s*(days?|tage?|weeks?|wochen?|wk)", re.IGNORECASE)
_NAMED: Final = re.compile(r"([0-9]{1,2})\.?[\s-]*([^\W\d_]{3,9})\.?[\s,-]*([0-9]{4}|[0-9]{2})(?:[\s,]+(.+))?")
_NAMED_FIRST: Final = re.compile(r"([^\W\d_]{3,9})\.?\s+([0-9]{1,2})(?:st|nd|rd|th)?,?\s+([0-9]{4})(?:[\s,]+(.+))?")
_MONTHS: Final = (
    ("january", "januar", "jänner", "jan"), ("february", "februar", "feb"), ("march", "märz", "maerz", "mar", "mrz"),
    ("april", "apr"), ("may", "mai"), ("june", "juni", "jun"), ("july", "juli", "jul"), ("august", "aug"),
    ("september", "sep", "sept"), ("october", "oktober", "oct", "okt"), ("november", "nov"),
    ("december", "dezember", "dec", "dez"),
)  # fmt: skip
_MONTH_OF: Final = {name: number for number, names in enumerate(_MONTHS, 1) for name in names}


@dataclass(frozen=True, slots=True)
class WrittenDay:
    """A day as written.

    Attributes:
        typed: the date, or None for one that is counted. days: after the beginning of exposure.
        short_year: whether its year has two digits.
    """

    text: str
    typed: TypedDate | None = None
    days: int = 0
    short_year: bool = False


def read_day(text: str, *, serials: bool = True) -> WrittenDay:
    """Take a day apart.

    Args:
        text: one line.
        serials: whether a number of five digits is a spreadsheet's day number.

    Raises:
        InputError: no day.
    """
    if serials and _SERIAL.fullmatch(text):
        number = float(text.replace(",", "."))
        if _FIRST_SERIAL <= number <= _LAST_SERIAL:
            return WrittenDay(text, _of_serial(text, number))
    span = _SPAN.fullmatch(text)
    if span is not None:
        return WrittenDay(text, days=_days(span[1], span[2]))
    span = _SPAN_BEHIND.fullmatch(text)
    if span is not None:
        return WrittenDay(text, days=_days(span[2], span[1]))
    named = _named(text)
    if named is not None:
        return named
    short = _SHORT_YEAR.match(text)
    if short is not None:
        whole = f"{short[1]}{short[2]}{short[3]}{short[2]}20{short[4]}{text[short.end() :]}"
        return WrittenDay(text, read_typed_date(whole)._replace(text=text), short_year=True)
    return WrittenDay(text, read_typed_date(text))


def _days(unit: str, number: str) -> int:
    return int(number) * (7 if unit[0] in "wW" else 1)


def _of_serial(text: str, number: float) -> TypedDate:
    when = _SERIAL_ZERO + timedelta(seconds=round(number * 86_400))
    hour = when.time() if when.time() != time() else None
    return TypedDate(text, when.year, when.month, when.day, True, hour)


def _named(text: str) -> WrittenDay | None:
    found = _NAMED.fullmatch(text)
    if found is not None:
        day, name, year, hour = found[1], found[2], found[3], found[4]
    else:
        found = _NAMED_FIRST.fullmatch(text)
        if found is None:
            return None
        day, name, year, hour = found[2], found[1], found[3], found[4]
    month = _MONTH_OF.get(name.casefold())
    if month is None:
        return None
    short = len(year) == 2
    iso = f"{'20' if short else ''}{year}-{month}-{int(day)}"
    typed = read_typed_date(f"{iso} {hour}" if hour else iso)
    return WrittenDay(text, typed._replace(text=text), short_year=short)


def is_day(text: str) -> bool:
    """Return whether a text over a column is a day."""
    try:
        read_day(text)
    except InputError:
        return False
    return True


def order_of(days: Iterable[tuple[int, WrittenDay]]) -> DateOrder | None:
    """Return the order of day and month; None when no day settles it, or two contradict each other."""
    try:
        return agreed_order((row, each.typed) for row, each in days if each.typed is not None)
    except InputError:
        return None


def has_open_order(days: Iterable[WrittenDay]) -> bool:
    """Return whether any day can be read in two ways, or only in one order."""
    return any(
        each.typed is not None and not each.typed.year_first and each.typed.first != each.typed.second
        for each in days
    )


def moment(day: WrittenDay, order: DateOrder | None, day_zero: date | None) -> Moment:
    """Return the point in time that a day means.

    Raises:
        InputError: which number is the day is not known, nor when exposure began, or the calendar has no such day.
    """
    if day.typed is None:
        if day_zero is None:
            raise InputError(f"{quoted(day.text)} counts from the first day; say on which date that was.")
        try:
            return Moment(datetime.combine(day_zero, time()) + timedelta(days=day.days), False)
        except OverflowError:
            raise InputError(f"{quoted(day.text)} is after the last day of the calendar; mend it.") from None
    if order is None and has_open_order([day]):
        raise InputError(f"{quoted(day.text)} can be read in two ways; say which number is the day.")
    return moment_of(day.typed, order or "day first")
