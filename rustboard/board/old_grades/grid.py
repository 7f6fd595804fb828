"""A sheet of an old table as it stands: texts by row number and place, wherever they come from."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Final

from rustboard.board.csv_table import DELIMITERS, decode
from rustboard.board.position import row_letters
from rustboard.board.problem_list import ProblemList
from rustboard.board.table_rows import MOST_COLUMNS_IN_FILE, MOST_ROWS_IN_FILE
from rustboard.support.text import counted, from_spreadsheet, many_lines, one_line

MOST_CELLS: Final = 1_000_000
"""Filled cells of one sheet."""
LONGEST_CELL: Final = 32_767
_ROWS_LOOKED_AT: Final = 60
_HINT: Final = re.compile(r"sep=([,;\t])\r?\n")


@dataclass(frozen=True, slots=True, eq=False)
class Grid:
    """One sheet.

    Attributes:
        file: name of the file. sheet: of the sheet; empty where the file has none.
        rows: the filled rows by their number, without the empty cells at their end.
        faults: sentences about single cells by row number and place.
        hidden: whether the sheet is hidden in its workbook.
        delimiter: between the cells of a text file, else empty.
    """

    file: str
    sheet: str
    rows: Mapping[int, tuple[str, ...]] = field(repr=False)
    faults: Mapping[tuple[int, int], str] = field(default_factory=dict, repr=False)
    hidden: bool = False
    delimiter: str = ""

    @property
    def width(self) -> int:
        """How many columns there are."""
        return max((len(each) for each in self.rows.values()), default=0)

    @property
    def numbers(self) -> list[int]:
        """Numbers of the filled rows, from the top."""
        return list(self.rows)

    def text(self, row: int, column: int) -> str:
        """Return a cell as one safe line, an apostrophe against formulas taken off."""
        return one_line(self._raw(row, column))

    def lines(self, row: int, column: int) -> str:
        """Return a cell as safe text with its line breaks."""
        return many_lines(self._raw(row, column))

    def _raw(self, row: int, column: int) -> str:
        cells = self.rows.get(row, ())
        return from_spreadsheet(cells[column]) if 0 <= column < len(cells) else ""

    def place(self, column: int, title: str = "") -> str:
        """Return how a column is named: its letter, and its title where it has one."""
        return f"{row_letters(column)} ({one_line(title, 40)})" if title else row_letters(column)

    @property
    def where(self) -> str:
        """The file, and its sheet where it has one."""
        return f"{self.file}, sheet {one_line(self.sheet, 60)}" if self.sheet else self.file


class CellBudget:
    """Counts rows, columns and cells of one sheet against their limits."""

    def __init__(self, problems: ProblemList) -> None:
        self._rows = 0
        self._left = MOST_CELLS
        self._problems = problems

    def spend(self, width: int) -> None:
        """Count a filled row.

        Raises:
            InputError: it is one too many, or too wide.
        """
        self._rows += 1
        self._left -= width
        if self._rows > MOST_ROWS_IN_FILE:
            raise self._problems.refusal(
                f"The table has more than {MOST_ROWS_IN_FILE:,} filled rows; split it into several."
            )
        if width > MOST_COLUMNS_IN_FILE:
            raise self._problems.refusal(
                f"The table has more than {MOST_COLUMNS_IN_FILE:,} columns; delete those that are not used."
            )
        if self._left < 0:
            raise self._problems.refusal(
                f"The table has more than {counted(MOST_CELLS, 'filled cell')}; split it into several."
            )


def filled_row(cells: list[str]) -> tuple[str, ...]:
    """Return a row without the blanks at its end."""
    end = len(cells)
    while end and not cells[end - 1].strip():
        end -= 1
    return tuple(cells[:end])


def read_csv_grid(data: bytes, file: str, delimiter: str = "") -> Grid:
    """Read a text file as a grid.

    Args:
        data: the file's bytes, in any encoding that `csv_table.decode` knows.
        file: its name.
        delimiter: between the cells; empty = the one under which most rows have the same number of cells.

    Raises:
        InputError: no text, empty, or too large.
    """
    problems = ProblemList(file)
    text = decode(data, problems)
    hint = _HINT.match(text)
    shift = 0
    if hint is not None:
        text, shift = text[hint.end() :], 1
        delimiter = delimiter or hint[1]
    delimiter = delimiter or _likely_delimiter(text)
    budget = CellBudget(problems)
    rows: dict[int, tuple[str, ...]] = {}
    for number, cells in enumerate(_records(text, delimiter, problems), 1 + shift):
        row = filled_row(cells)
        if row:
            budget.spend(len(row))
            rows[number] = row
    return Grid(file, "", rows, delimiter=delimiter)


def _records(text: str, delimiter: str, problems: ProblemList) -> Iterator[list[str]]:
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, skipinitialspace=True)
    while True:
        try:
            yield next(reader)
        except StopIteration:
            return
        except csv.Error:
            raise problems.refusal(
                "From this row on the file cannot be read as a table; look for a quotation mark that is not closed.",
                row=reader.line_num,
            ) from None


def _likely_delimiter(text: str) -> str:
    beginning = "\n".join(text.splitlines()[:_ROWS_LOOKED_AT])

    def score(delimiter: str) -> tuple[int, int]:
        try:
            reader = csv.reader(io.StringIO(beginning, newline=""), delimiter=delimiter, skipinitialspace=True)
            widths = [len(filled_row(row)) for row in reader]
        except csv.Error:
            return 0, 0
        wide = [each for each in widths if each > 1]
        if not wide:
            return 0, 0
        usual = max(set(wide), key=wide.count)
        return len(wide), wide.count(usual) * usual

    return max((";", "\t", *DELIMITERS), key=score)
