"""What a column may hold. A file may be a stranger's or damaged, and SQLite looks at types only when it writes.

Each function returns the value as the domain has it, or raises ValueError (or TypeError or OverflowError, for JSON of
the wrong shape).
"""

from __future__ import annotations

import json
import math
from collections.abc import Collection
from datetime import datetime, time
from typing import Any, TypeVar

from rustboard.board.plan_rules import RANGES
from rustboard.board.position import MOST_COLUMNS, MOST_ROWS, Position
from rustboard.board.typed_dates import FIRST_YEAR, LAST_YEAR
from rustboard.support.text import NAME_LIMIT, NOTE_LIMIT, many_lines, one_line

T = TypeVar("T")
LARGEST_KEY = 2**62


def line(value: object) -> str:
    """Return a text of one line, made safe to show."""
    if not isinstance(value, str):
        raise ValueError("a text is missing")
    if len(value) <= NAME_LIMIT and value.isprintable():  # what this program wrote is always so
        return value
    return one_line(value[: 2 * NAME_LIMIT])


def needed(value: object) -> str:
    """Return a text of one line that is not empty."""
    found = line(value)
    if not found:
        raise ValueError("a text is empty")
    return found


def note(value: object) -> str:
    """Return a text of many lines, made safe to show."""
    if not isinstance(value, str):
        raise ValueError("a text is missing")
    if len(value) <= NOTE_LIMIT and value.isprintable():
        return value
    return many_lines(value[: 2 * NOTE_LIMIT])


def one_of(value: object, allowed: Collection[T]) -> T:
    """Return a value that is among those allowed."""
    for each in allowed:
        if value == each and type(value) is type(each):
            return each
    raise ValueError("a word is not one of those allowed")


def whole(value: object, low: int, high: int) -> int:
    """Return a whole number within its range."""
    if not isinstance(value, int) or not low <= value <= high:
        raise ValueError("a number is damaged")
    return value


def key(value: object) -> int:
    """Return the key of a row."""
    return whole(value, 1, LARGEST_KEY)


def key_or_none(value: object) -> int | None:
    """Return the key of a row, or None."""
    return None if value is None else key(value)


def position(row: object, column: object) -> Position:
    """Return a position that some board has, from the numbers of its row and column."""
    return Position(whole(row, 0, MOST_ROWS - 1), whole(column, 0, MOST_COLUMNS - 1))


def finite(value: object) -> float:
    """Return a finite number."""
    if not isinstance(value, int | float) or not math.isfinite(value):
        raise ValueError("a number is damaged")
    return float(value)


def within(value: object, low: float, high: float) -> float:
    """Return a number within a range."""
    if type(value) is float and low <= value <= high:  # nearly always so; a board may hold a million of them
        return value
    number = finite(value)
    if not low <= number <= high:
        raise ValueError("a number is out of range")
    return number


def amount(name: str, value: object) -> float:
    """Return a number within the range that the rules of a plan give it by name."""
    low, high, _ = RANGES[name]
    return within(value, low, high)


def amount_or_none(name: str, value: object) -> float | None:
    """Return `amount`, or None."""
    return None if value is None else amount(name, value)


def flag(value: object) -> bool:
    """Return a truth kept as 0 or 1."""
    return bool(whole(value, 0, 1))


def percent(value: object) -> float:
    """Return a number from 0 to 100."""
    return within(value, 0, 100)


def moment(value: object) -> datetime:
    """Return a wall-clock time."""
    if not isinstance(value, str):
        raise ValueError("a time is missing")
    when = datetime.fromisoformat(value).replace(tzinfo=None)
    if not FIRST_YEAR <= when.year <= LAST_YEAR:
        raise ValueError("a year is out of range")
    return when


def moment_or_none(value: object) -> datetime | None:
    """Return a wall-clock time, or None."""
    return None if value is None else moment(value)


def moment_text(when: datetime | None) -> str | None:
    """Return how a time is kept."""
    return None if when is None else when.isoformat()


def hour(value: object) -> time:
    """Return a time of day to the minute."""
    return time.fromisoformat(text(value)).replace(second=0, microsecond=0, tzinfo=None)


def items(value: object, most: int) -> list[Any]:
    """Return the items of a JSON list."""
    content = json.loads(text(value))
    if not isinstance(content, list) or len(content) > most:
        raise ValueError("a list is damaged")
    return content


def lines(value: object, most: int) -> tuple[str, ...]:
    """Return the texts of a JSON list, each of one line and safe to show."""
    return tuple(line(each) for each in items(value, most))


def homography(value: object) -> tuple[float, ...]:
    """Return the 9 numbers of a JSON list that place a photo; none for a photo that is not placed."""
    numbers = tuple(finite(each) for each in items(value, most=9))
    if len(numbers) not in (0, 9):
        raise ValueError("a photo's placing is damaged")
    return numbers


def text(value: object) -> str:
    """Return a text as it is."""
    if not isinstance(value, str):
        raise ValueError("a text is missing")
    return value


def points(value: object, most: int) -> tuple[tuple[float, float], ...]:
    """Return the corner points of a JSON list of pairs."""
    return tuple((finite(x), finite(y)) for x, y in items(value, most))
