"""Some lines of a logger's file: its head, and rows from all over it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from rustboard.weather.logger_file.cells import split_line
from rustboard.weather.logger_file.decode import LoggerText
from rustboard.weather.logger_file.moment_shapes import Kind, Shape, shape_of, understood
from rustboard.weather.logger_file.moments import NO_TIME, as_bytes, read_moments
from rustboard.weather.logger_file.numbers import no_reading, split_number
from rustboard.weather.logger_file.options import DATE_ORDERS, MOST_HEADER_ROWS, Delimiter

_FEW: Final = 200
_MANY: Final = 20_000
"""Rows looked at for the order of dates: at one reading a second still one an hour in a file of two years."""
_IN_A_ROW: Final = 2_000


@dataclass(frozen=True, slots=True)
class Sample:
    """Rows of cells.

    Attributes:
        head: all lines before the readings, from the first.
        rows: from all over the file, in its order. first: the first ones, one after the other.
    """

    delimiter: Delimiter
    head: list[list[str]]
    rows: list[list[str]]
    first: list[list[str]]

    def some(self) -> list[list[str]]:
        """Return fewer of `rows`, still from all over the file."""
        return self.rows[:: max(1, len(self.rows) // _IN_A_ROW)]


def some_lines(text: LoggerText) -> list[str]:
    """Return a few lines from beyond the head of a file, empty ones left out."""
    begin = 1 if len(text) < 2 * _FEW else len(text) // 4
    step = max(1, (len(text) - begin + 1) // _FEW)
    found = [text.line(number) for number in range(begin, len(text) + 1, step)]
    return [each for each in found if each.strip()]


def rows_below(text: LoggerText, header_rows: int, delimiter: Delimiter) -> Sample:
    """Return the sample of a file whose readings begin below its first ``header_rows`` lines."""
    begin = header_rows + 1
    step = max(1, (len(text) - begin + 1) // _MANY)
    last = min(len(text), begin + _IN_A_ROW - 1)

    def cells(number: int) -> list[str]:
        return split_line(text.line(number), delimiter)

    first = [cells(number) for number in range(begin, last + 1)]
    rows = first if step == 1 and last == len(text) else [cells(each) for each in range(begin, len(text) + 1, step)]
    return Sample(delimiter, [cells(number) for number in range(1, begin)], _with_cells(rows), _with_cells(first))


def _with_cells(rows: list[list[str]]) -> list[list[str]]:
    return [each for each in rows if any(each)]


def most_lines_of_head(text: LoggerText) -> int:
    """Return how many lines are looked at for the first reading."""
    return min(len(text), MOST_HEADER_ROWS + 1)


# ---- what a cell looks like


def shape_in(cell: str, kind: Kind) -> Shape | None:
    """Return what a cell means as a time in any order of dates, or None."""
    if len(cell) > 60:
        return None
    shape = shape_of(cell)
    return next((found for order in DATE_ORDERS if (found := understood(shape, kind, order)) is not None), None)


def is_time(cell: str, kind: Kind) -> bool:
    """Return whether a cell is a time that exists in some order of dates."""
    if shape_in(cell, kind) is None:
        return False
    cells = as_bytes([cell])
    return any(read_moments(cells, kind, order).seconds[0] != NO_TIME for order in DATE_ORDERS)


def is_number(cell: str) -> bool:
    """Return whether a cell holds a number, with either decimal mark and perhaps a unit behind it."""
    return split_number(cell, ".") is not None or split_number(cell, ",") is not None


def is_bare_number(cell: str) -> bool:
    """Return whether a cell holds a number and nothing else."""
    return any((found := split_number(cell, mark)) is not None and not found[1] for mark in (".", ","))


def is_value(cell: str) -> bool:
    """Return whether a cell holds a number or says that there is none."""
    return is_bare_number(cell) or no_reading(cell)
