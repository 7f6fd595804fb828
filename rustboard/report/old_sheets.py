"""The sheets of a workbook as grids, for old tables of grades: each cell as a person would have typed it."""

from __future__ import annotations

import math
import warnings
from collections.abc import Sequence
from datetime import date, datetime, time, timedelta
from typing import Any, Final, NamedTuple

from rustboard.board.old_grades.grid import LONGEST_CELL, CellBudget, Grid, filled_row
from rustboard.board.problem_list import ProblemList
from rustboard.board.table_rows import MOST_ROWS_OF_A_SHEET
from rustboard.report.sheet_reading import MOST_SHEETS, Limits, look_at_parts, open_workbook, unreadable

_LIMITS: Final = Limits(256 << 20, 6_000_000, 1_000_000, 400_000, "table of grades")
_MOST_PLACES: Final = 5_000_000
"""Cells of one sheet, empty ones between filled ones too."""
_NO_RESULT: Final = "The file has no result for this cell's formula; save it once in a spreadsheet program."
_ERROR: Final = "The cell shows the error {0} and no value; mend its formula."
_WHOLE_UP_TO: Final = 1e15


class SheetName(NamedTuple):
    """A sheet that can be chosen."""

    name: str
    hidden: bool


class OldWorkbook:
    """A stranger's workbook; its sheets are read when they are wanted.

    Attributes:
        sheets: those that can be chosen, hidden ones last.
    """

    def __init__(self, data: bytes, file: str) -> None:
        """Look at the workbook's parts and list its sheets.

        Raises:
            InputError: no workbook, a locked or an old one, too large or unreadable.
        """
        self._data, self._file = data, file
        problems = ProblemList(file)
        look_at_parts(data, problems, _LIMITS)
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # about ornaments that are of no matter here
            self._book = open_workbook(data, problems, results=True)
        shown = [SheetName(each.title, each.sheet_state != "visible") for each in self._book.worksheets[:MOST_SHEETS]]
        self.sheets = tuple(sorted(shown, key=lambda each: each.hidden))

    def grid(self, sheet: str, most_rows: int = MOST_ROWS_OF_A_SHEET) -> Grid:
        """Return one sheet.

        Args:
            sheet: its name.
            most_rows: rows of it, from the top, empty ones too.

        Raises:
            InputError: it has too many cells, or cannot be read.
        """
        problems = ProblemList(self._file)
        budget = CellBudget(problems)
        rows: dict[int, tuple[str, ...]] = {}
        faults: dict[tuple[int, int], str] = {}
        texts: dict[str, str] = {}  # a sheet repeats the same few texts, which are kept once
        worksheet: Any = self._book[sheet]
        for number, cells in _rows_of(worksheet, most_rows, problems):
            row = filled_row([texts.setdefault(text, text) for text in map(_text, cells)])
            if row:
                budget.spend(len(row))
                rows[number] = row
                faults |= {(number, n): _ERROR.format(row[n]) for n, each in enumerate(cells) if _is_error(each)}
        if most_rows >= MOST_ROWS_OF_A_SHEET:
            self._note_missing_results(sheet, rows, faults)
        hidden = next(each.hidden for each in self.sheets if each.name == sheet)
        return Grid(self._file, sheet, rows, faults, hidden)

    def _note_missing_results(
        self, sheet: str, rows: dict[int, tuple[str, ...]], faults: dict[tuple[int, int], str]
    ) -> None:
        """Mark the formulas without a result: an empty cell would say that nothing was graded."""
        problems = ProblemList(self._file)
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            formulas: Any = open_workbook(self._data, problems, results=False)[sheet]
        for number, cells in _rows_of(formulas, MOST_ROWS_OF_A_SHEET, problems):
            for place, cell in enumerate(cells):
                if getattr(cell, "data_type", "") != "f":
                    continue
                known = rows.get(number, ())
                if place >= len(known) or not known[place]:
                    text = str(getattr(cell.value, "text", None) or cell.value)[:LONGEST_CELL]
                    rows[number] = (*known, *[""] * (place - len(known)), text, *known[place + 1 :])
                    faults[number, place] = _NO_RESULT
        ordered = dict(sorted(rows.items()))
        rows.clear()
        rows.update(ordered)


def _is_error(cell: Any) -> bool:
    return getattr(cell, "data_type", "") == "e"


def _rows_of(worksheet: Any, most_rows: int, problems: ProblemList) -> Any:
    """Yield the rows of a sheet with their numbers, however large the sheet claims to be."""
    worksheet.reset_dimensions()
    rows = worksheet.iter_rows()
    left = _MOST_PLACES
    for number in range(1, most_rows + 1):
        try:
            row: Sequence[Any] = next(rows)
        except StopIteration:
            return
        except Exception as error:
            raise unreadable(problems) from error
        left -= len(row)
        if left < 0:
            raise problems.refusal(
                "The sheet has far more cells than a table of grades; copy the table into a new one."
            )
        yield number, row


def _text(cell: Any) -> str:
    """Return a cell as a person would have typed it: ``2``, ``0.3%``, ``2026-03-02 09:00``."""
    value = cell.value
    if value is None:
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int | float):
        shown_as = getattr(cell, "number_format", "") or ""
        return f"{_number(value * 100, 12)}%" if "%" in shown_as else _number(value)
    if isinstance(value, datetime):
        return _moment(value, getattr(cell, "number_format", "") or "")
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, time):
        return value.isoformat("minutes" if not value.second else "seconds")
    if isinstance(value, timedelta):
        return str(value)
    return str(value)[:LONGEST_CELL]


def _moment(value: datetime, shown_as: str) -> str:
    when = (value + timedelta(microseconds=500_000)).replace(microsecond=0)  # day numbers are not exact to the second
    if when.time() == time() and "h" not in shown_as.lower():
        return when.date().isoformat()
    return when.isoformat(" ", "minutes" if not when.second else "seconds")


def _number(value: float, digits: int = 15) -> str:
    """Return a number as short as it can be told: what a spreadsheet shows, or all its digits where those differ."""
    if math.isfinite(value) and float(value).is_integer() and abs(value) < _WHOLE_UP_TO:
        return str(int(value))
    short = f"{value:.{digits}g}"
    return short if digits < 15 or float(short) == value else repr(value)
