"""Some lines of a logger's file: its head, and rows from all over it."""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from rustboard.weather.logger_file.cells import split_line
from rustboard.weather.logger_file.decode import LoggerText
from rustboard.weather.logger_file.moment_shapes import Kind, Shape, shape_of, understood
from rustboard.weather.logger_file.moments import NO_TIME, as_bytes, read_moments
from rustboard.weather.logger_file.numbers import no_reading, split_number, unit_word
from rustboard.weather.logger_file.options import DATE_ORDERS, DECIMAL_MARKS, MOST_HEADER_ROWS, Delimiter

_FEW: Final = 120
_MANY: Final = 20_000
_OF_MORE: Final = 6_000
"""Rows looked at for the order of dates: all of a file, or some of a larger one, which surely has several from each
of its days."""
_IN_A_ROW: Final = 2_000
_MOST_BYTES: Final = 8_000_000
_SEPARATORS: Final = ' \t,;|"'
_MOST_CELLS: Final = 200_000


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
        widest = max(map(len, self.rows), default=1)
        few = min(_IN_A_ROW, max(_FEW, _MOST_CELLS // widest))
        return self.rows[:: max(1, len(self.rows) // few)]


def _spread(first: int, last: int, most: int) -> Sequence[int]:
    """Return numbers of lines from all over a file, in order, the same each time.

    They are drawn and not evenly spaced, because every second line, or every tenth, may be of another kind.
    """
    numbers = range(first, last + 1)
    return numbers if len(numbers) <= most else sorted(random.Random(0).sample(numbers, most))


def some_lines(text: LoggerText) -> list[str]:
    """Return a few lines from beyond the head of a file, those without anything but separators left out."""
    begin = 1 if len(text) < 2 * _FEW else len(text) // 4
    found = [text.line(number) for number in _spread(begin, len(text), _FEW)]
    return [each for each in found if each.strip(_SEPARATORS)]


def rows_below(text: LoggerText, header_rows: int, delimiter: Delimiter) -> Sample:
    """Return the sample of a file whose readings begin below its first ``header_rows`` lines."""
    begin = header_rows + 1
    usual = len(text.data) // len(text) + 1
    many = max(_FEW, min(_MANY if len(text) <= _MANY else _OF_MORE, _MOST_BYTES // usual))
    last = min(len(text), begin + min(_IN_A_ROW, many) - 1)

    def cells(number: int) -> list[str]:
        return split_line(text.line(number), delimiter)

    first = [cells(number) for number in range(begin, last + 1)]
    rows = first if last == len(text) else [cells(each) for each in _spread(begin, len(text), many)]
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


@lru_cache(maxsize=1024)
def is_time(cell: str, kind: Kind) -> bool:
    """Return whether a cell is a time that exists in some order of dates."""
    if shape_in(cell, kind) is None:
        return False
    cells = as_bytes([cell])
    return any(read_moments(cells, kind, order).seconds[0] != NO_TIME for order in DATE_ORDERS)


def is_bare_number(cell: str) -> bool:
    """Return whether a cell holds a number and nothing else."""
    return any((found := split_number(cell, mark)) is not None and not found[1] for mark in DECIMAL_MARKS)


def is_value(cell: str) -> bool:
    """Return whether a cell holds a number, perhaps with its unit, or says that there is none."""
    if no_reading(cell):
        return True
    found = [split_number(cell, mark) for mark in DECIMAL_MARKS]
    return any(each is not None and (not each[1] or unit_word(each[1]) != "") for each in found)
