"""Times in a column of texts, all rows at once."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from rustboard.board.cells import quoted
from rustboard.weather.logger_file.moment_shapes import Kind, Place, Shape, depends_on_order, shape_of, understood
from rustboard.weather.logger_file.options import DateOrder
from rustboard.weather.packing import EARLIEST_SECONDS, LATEST_SECONDS
from rustboard.weather.readings import Seconds

Bytes = NDArray[np.uint8]
"""Texts in UTF-8, one a row, filled up with zeros."""

NO_TIME: Final[int] = int(np.iinfo(np.int64).min)
MOST_SHAPES: Final = 1_000
"""Most shapes of times in one column: one logger's differ by the name of the month and by left out zeros."""
_DAY: Final = 86_400
_HOUR: Final = 3_600
_DIGIT: Final = 48
_TURN_OF_CENTURY: Final = 70
"""Two digits from here on mean the years from 1970, below the years from 2000 (common practice, no source)."""
_SERIAL_OF_1970: Final = 25_569
_MONTH_DAYS: Final = np.array([0, 31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31])
_NO_OFFSET: Final = np.int32(2**31 - 1)


@dataclass(frozen=True, slots=True)
class Moments:
    """Times of a column.

    Attributes:
        seconds: as the clock showed them, since 1970-01-01 00:00 (or since midnight for times of day); `NO_TIME`
            where the text is no time.
        offsets: seconds that the text says its clock is ahead of UTC. has_offset: where it says so.
        counts: whether a time is given as a bare number of seconds or milliseconds since 1970.
    """

    seconds: Seconds
    offsets: Seconds
    has_offset: NDArray[np.bool_]
    counts: bool


def as_bytes(texts: list[str], width: int = 64) -> Bytes:
    """Return texts as rows of bytes; a longer one is cut, and then is no time."""
    cells = np.array([each.encode()[:width] for each in texts], dtype=f"S{width}")
    return cells.view(np.uint8).reshape(len(texts), width)


def read_moments(cells: Bytes, kind: Kind, order: DateOrder) -> Moments:
    """Return the times in a column.

    Args:
        cells: the texts. One that fills its whole row was longer perhaps, and is no time.
        kind: what the column holds.
        order: of the numbers in a date.
    """
    count, width = cells.shape
    seconds = np.full(count, NO_TIME, np.int64)
    offsets = np.full(count, _NO_OFFSET, np.int64)
    counted = False
    shapes, codes = _shapes(cells)
    for code, shape in enumerate(shapes):
        plan = understood(shape, kind, order) if len(shape) < width else None
        if plan is None:
            continue
        rows: slice | NDArray[np.int64] = slice(None) if len(shapes) == 1 else np.flatnonzero(codes == code)
        taken = cells[rows]
        plan = _hours_of_days(taken, plan)
        seconds[rows] = _seconds(taken, plan, kind)
        counted = counted or plan.count in ("seconds", "milliseconds")
        if plan.offset is not None:
            offsets[rows] = _offsets(taken, plan)
    has_offset = offsets != _NO_OFFSET
    return Moments(seconds, np.where(has_offset, offsets, 0), has_offset, counted)


def why_no_time(text: str, kind: Kind, order: DateOrder) -> str:
    """Return a sentence about a text that is no time."""
    if not text.strip():
        return "There is no time here."
    if understood(shape_of(text), kind, order) is None:
        wanted = {"time": "a date and time", "date": "a date", "clock time": "a time of day"}[kind]
        return f"{quoted(text)} is not {wanted}; mend it or leave the row out."
    if kind == "clock time":
        return f"No clock shows {quoted(text)}; mend it or leave the row out."
    read = f" when dates have the {order}" if depends_on_order(shape_of(text), kind) else ""
    return f"There is no {quoted(text)} in calendar and clock{read}; mend it or leave the row out."


# ---- shapes


def _shapes(cells: Bytes) -> tuple[list[str], NDArray[np.int64]]:
    """Return the commonest shapes and the place in that list of each row's."""
    count, width = cells.shape
    if count == 0:
        return [], np.zeros(0, np.int64)
    padded = -(-width // 8) * 8
    plain = np.zeros((count, padded), np.uint8)
    np.copyto(plain[:, :width], cells)
    plain[(plain - np.uint8(_DIGIT)) < 10] = _DIGIT
    words = plain.view(np.uint64)
    factors = np.random.default_rng(0).integers(1, 2**63, words.shape[1], dtype=np.uint64) * np.uint64(2) + np.uint64(
        1
    )
    marks = np.zeros(count, np.uint64)
    for column, factor in enumerate(factors):
        marks += words[:, column] * factor
    if (marks == marks[0]).all():
        return [_text(plain[0])], np.zeros(count, np.int64)
    _, first, codes, counts = np.unique(marks, return_index=True, return_inverse=True, return_counts=True)
    commonest = np.argsort(-counts, kind="stable")
    place = np.empty(len(commonest), np.int64)
    place[commonest] = np.arange(len(commonest))
    return [_text(plain[first[each]]) for each in commonest[:MOST_SHAPES]], place[codes]


def _text(row: Bytes) -> str:
    return row.tobytes().rstrip(b"\0").decode("latin-1")


# ---- numbers of all rows at the same places


def _seconds(cells: Bytes, plan: Shape, kind: Kind) -> Seconds:
    seconds = _since_1970(cells, plan) if plan.count else _from_calendar(cells, plan, kind)
    if kind == "date":
        seconds = np.where(seconds == NO_TIME, NO_TIME, seconds - seconds % _DAY)
    if kind == "clock time":
        return seconds
    in_range = (seconds >= EARLIEST_SECONDS) & (seconds < LATEST_SECONDS - 2 * _DAY)
    return np.where(in_range, seconds, NO_TIME)


def _hours_of_days(cells: Bytes, plan: Shape) -> Shape:
    """Return what ten digits mean: year, month, day and hour where they all begin so, or else seconds since 1970."""
    if plan.count != "seconds" or plan.whole is None or plan.part is not None or plan.whole[1] - plan.whole[0] != 10:
        return plan
    begin = plan.whole[0]
    dated = Shape((begin, begin + 4), (begin + 4, begin + 6), (begin + 6, begin + 8), (begin + 8, begin + 10))
    found = _from_calendar(cells, dated, "time")
    century = _number(cells, (begin, begin + 2))
    return dated if bool(((found != NO_TIME) & (century >= 19) & (century <= 20)).all()) else plan


def _since_1970(cells: Bytes, plan: Shape) -> Seconds:
    whole = _number(cells, plan.whole)
    if plan.count == "seconds":
        return whole
    if plan.count == "milliseconds":
        return whole // 1000
    seconds = np.zeros(len(cells))
    if plan.part is not None:
        seconds = np.rint(_number(cells, plan.part) / 10.0 ** (plan.part[1] - plan.part[0]) * _DAY)
    if plan.whole is not None:
        whole = whole - _SERIAL_OF_1970
    return whole * _DAY + seconds.astype(np.int64)


def _from_calendar(cells: Bytes, plan: Shape, kind: Kind) -> Seconds:
    seconds, good = _time_of_day(cells, plan)
    if kind != "clock time":
        days, exists = _days(cells, plan)
        seconds = seconds + days * _DAY
        good &= exists
    return np.where(good, seconds, NO_TIME)


def _time_of_day(cells: Bytes, plan: Shape) -> tuple[Seconds, NDArray[np.bool_]]:
    hour, minute, second = (_number(cells, each) for each in (plan.hour, plan.minute, plan.second))
    good = (minute < 60) & (second < 60)
    if plan.half:
        good &= (hour >= 1) & (hour <= 12)
        hour = hour % 12 + (12 if plan.half == "p" else 0)
    else:  # 24:00 is midnight at the end of the day, as weather services write it
        good &= (hour < 24) | ((hour == 24) & (minute == 0) & (second == 0))
    return hour * _HOUR + minute * 60 + second, good


def _days(cells: Bytes, plan: Shape) -> tuple[Seconds, NDArray[np.bool_]]:
    """Return days since 1970-01-01 and whether the calendar has them."""
    year, day = _number(cells, plan.year), _number(cells, plan.day)
    month = np.full(len(cells), plan.month) if isinstance(plan.month, int) else _number(cells, plan.month)
    if plan.year is not None and plan.year[1] - plan.year[0] == 2:
        year = year + np.where(year < _TURN_OF_CENTURY, 2000, 1900)
    good = (month >= 1) & (month <= 12) & (day >= 1) & (year >= 1900) & (year <= 2200)
    month = np.where(good, month, 1)
    leap = (year % 4 == 0) & ((year % 100 != 0) | (year % 400 == 0))
    good &= day <= _MONTH_DAYS[month] + (leap & (month == 2))
    # Days before a month in a year that begins in March, so that the odd day comes last (Hinnant, days_from_civil).
    shifted = year - (month <= 2)
    days = (153 * ((month + 9) % 12) + 2) // 5 + day - 1
    return 365 * shifted + shifted // 4 - shifted // 100 + shifted // 400 + days - 719_468, good


def _offsets(cells: Bytes, plan: Shape) -> Seconds:
    ahead, past = _number(cells, plan.ahead), _number(cells, plan.past)
    return (plan.offset or 0) + plan.sign * (ahead * _HOUR + past * 60)


def _number(cells: Bytes, place: Place | None) -> Seconds:
    """Return the number in the digits at one place of every row; 0 without a place."""
    number = np.zeros(len(cells), np.int64)
    if place is not None:
        for column in range(*place):
            number = number * 10 + (cells[:, column] - np.uint8(_DIGIT))
    return number
