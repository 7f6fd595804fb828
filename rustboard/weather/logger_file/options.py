"""How a logger's file is written: all that can be guessed from it and changed by a person."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any, Final, Literal, get_args

from rustboard.board.clock_names import is_zone
from rustboard.board.weather import QUANTITIES, Quantity
from rustboard.support.problems import InputError
from rustboard.support.text import NAME_LIMIT, one_line

Delimiter = Literal[",", ";", "\t", "|", " "]
"""What stands between two cells; a blank stands for any run of blanks and tabs."""
DELIMITERS: Final[tuple[Delimiter, ...]] = get_args(Delimiter)

DecimalMark = Literal[".", ","]
DECIMAL_MARKS: Final[tuple[DecimalMark, ...]] = get_args(DecimalMark)

DateOrder = Literal["year first", "day first", "month first"]
"""Order of the numbers in a date without a month's name. A year of four digits in front always means year, month,
day."""
DATE_ORDERS: Final[tuple[DateOrder, ...]] = get_args(DateOrder)

Role = Literal[
    "ignored",
    "time",
    "date",
    "clock time",
    "temperature",
    "humidity",
    "rain",
    "rain total",
    "rain rate",
    "wind",
    "dew point",
]
"""What a column holds: nothing we read, date and time in one cell, one of the two, or a quantity."""
ROLES: Final[tuple[Role, ...]] = get_args(Role)

Unit = Literal["", "C", "F", "K", "%", "fraction", "mm", "in", "mm/h", "in/h", "m/s", "km/h", "mph", "kn"]
UNITS: Final[tuple[Unit, ...]] = get_args(Unit)

UNITS_OF: Final[Mapping[Quantity, tuple[Unit, ...]]] = {
    "temperature": ("C", "F", "K"),
    "humidity": ("%", "fraction"),
    "rain": ("mm", "in"),
    "rain total": ("mm", "in"),
    "rain rate": ("mm/h", "in/h"),
    "wind": ("m/s", "km/h", "mph", "kn"),
    "dew point": ("C", "F", "K"),
}
"""Units in which each quantity may be written; the first is the unit it is kept in."""

MOST_COLUMNS: Final = 1_000
MOST_HEADER_ROWS: Final = 1_000
_FORMAT: Final = 1
_FIXED_CLOCK: Final = re.compile(r"UTC[+-](?:0[0-9]|1[0-4]):[0-5][0-9]")
_ZONE_NAME: Final = re.compile(r"[A-Za-z0-9_+-]{1,40}(?:/[A-Za-z0-9_+-]{1,40}){0,3}")


@dataclass(frozen=True, slots=True)
class Column:
    """One column.

    Attributes:
        title: as it stands in the file, one line; empty when the file has none.
        role: what it holds.
        unit: of a quantity, one of `UNITS_OF`; empty for all others.
    """

    title: str
    role: Role = "ignored"
    unit: Unit = ""

    @property
    def quantity(self) -> Quantity | None:
        """Return the quantity it holds, or None."""
        return next((each for each in QUANTITIES if each == self.role), None)


@dataclass(frozen=True, slots=True)
class FileOptions:
    """How one file is written.

    Attributes:
        header_rows: lines before the first row of readings, empty ones counted.
        title_row: which of them holds the titles of the columns, 1 = the first line; 0 = none does.
        columns: from the left; columns further to the right are ignored.
        clock: what the times are told by, as `rustboard.board.weather.WeatherFile.clock`.
        logger: which logger wrote it, or empty when the file does not say.
    """

    delimiter: Delimiter
    decimal_mark: DecimalMark
    header_rows: int
    title_row: int
    date_order: DateOrder
    columns: tuple[Column, ...]
    clock: str = ""
    logger: str = ""

    def indices(self, role: Role) -> list[int]:
        """Return the places of all columns with a role, 0 = the first."""
        return [number for number, each in enumerate(self.columns) if each.role == role]

    def quantities(self) -> tuple[Quantity, ...]:
        """Return the quantities that are read, in the order of `QUANTITIES`."""
        held = {each.role for each in self.columns}
        return tuple(each for each in QUANTITIES if each in held)

    def with_column(self, index: int, role: Role, unit: Unit = "") -> FileOptions:
        """Return the same with another role for one column; another column that had this role is ignored then.

        A unit that the role cannot have is replaced by the first it can have.
        """
        columns = [Column(each.title) if role != "ignored" and each.role == role else each for each in self.columns]
        columns[index] = Column(self.columns[index].title, role, fitting_unit(role, unit))
        return replace(self, columns=tuple(columns))


def fitting_unit(role: Role, unit: Unit) -> Unit:
    """Return a unit that a column of this role may have: the one given, or else the first; empty for no quantity."""
    quantity = next((each for each in QUANTITIES if each == role), None)
    if quantity is None:
        return ""
    allowed = UNITS_OF[quantity]
    return unit if unit in allowed else allowed[0]


def checked_clock(text: str) -> str:
    """Return what a file's times are told by as it is kept.

    Raises:
        InputError: neither empty nor ``UTC``, ``UTC+01:00`` or the name of a zone that exists.
    """
    clock = one_line(text, 80)
    if clock in ("", "UTC") or _FIXED_CLOCK.fullmatch(clock):
        return clock
    if _ZONE_NAME.fullmatch(clock) and is_zone(clock):
        return clock
    raise InputError(
        "This is no clock; leave it empty for the board's own, or write UTC, a difference such as UTC+01:00, or a "
        "zone such as Europe/Berlin."
    )


def check_options(options: FileOptions) -> None:
    """Refuse options under which no file can be read.

    Raises:
        InputError: no column of times, a role held by two columns, no quantity, a clock that is none.
    """
    for role in ROLES[1:]:
        if len(options.indices(role)) > 1:
            raise InputError(f"Two columns are said to hold the {role}; ignore one of them.")
    if options.indices("time"):
        if options.indices("date") or options.indices("clock time"):
            raise InputError("Choose one column with date and time, or one with the date and one with the time.")
    elif not (options.indices("date") and options.indices("clock time")):
        raise InputError("No column holds the time of the readings; say which column does.")
    if not options.quantities():
        raise InputError("No column holds readings; say which column holds the temperature, humidity, rain or wind.")
    for each in options.columns:
        if each.unit != fitting_unit(each.role, each.unit):
            raise InputError(f"A column of {each.role} cannot have the unit “{each.unit}”; choose another unit.")
    checked_clock(options.clock)


# ---- as JSON


def options_to_json(options: FileOptions) -> dict[str, object]:
    """Return options as an object of JSON, to be kept as a profile."""
    return {
        "format": _FORMAT,
        "delimiter": options.delimiter,
        "decimal_mark": options.decimal_mark,
        "header_rows": options.header_rows,
        "title_row": options.title_row,
        "date_order": options.date_order,
        "clock": options.clock,
        "logger": options.logger,
        "columns": [[each.title, each.role, each.unit] for each in options.columns],
    }


def options_from_json(content: object) -> FileOptions:
    """Return the options that `options_to_json` made an object of.

    Raises:
        InputError: the object is damaged, or options in it make no sense.
    """
    try:
        options = _options_from(content)
    except (KeyError, TypeError, ValueError, OverflowError):
        raise InputError("The profile kept for such files is damaged; delete it and keep it anew.") from None
    check_options(options)
    return options


def _options_from(content: Any) -> FileOptions:
    columns = content["columns"]
    if content["format"] != _FORMAT or not isinstance(columns, list) or len(columns) > MOST_COLUMNS:
        raise ValueError("not of this format")
    header_rows = _whole(content["header_rows"], MOST_HEADER_ROWS)
    return FileOptions(
        delimiter=_one_of(content["delimiter"], DELIMITERS),
        decimal_mark=_one_of(content["decimal_mark"], DECIMAL_MARKS),
        header_rows=header_rows,
        title_row=_whole(content["title_row"], header_rows),
        date_order=_one_of(content["date_order"], DATE_ORDERS),
        columns=tuple(map(_column_from, columns)),
        clock=_line(content["clock"]),
        logger=_line(content["logger"]),
    )


def _column_from(kept: Any) -> Column:
    title, role, unit = kept
    return Column(_line(title), _one_of(role, ROLES), _one_of(unit, UNITS))


def _one_of(value: object, allowed: Any) -> Any:
    if not isinstance(value, str) or value not in allowed:
        raise ValueError("a word is not one of those allowed")
    return value


def _whole(value: object, most: int) -> int:
    if not isinstance(value, int) or isinstance(value, bool) or not 0 <= value <= most:
        raise ValueError("a number is damaged")
    return value


def _line(value: object) -> str:
    if not isinstance(value, str) or len(value) > NAME_LIMIT:
        raise ValueError("a text is missing or too long")
    return one_line(value)
