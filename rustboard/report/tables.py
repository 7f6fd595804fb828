"""Real table objects: a header row, rows below, filters and bands by the spreadsheet program."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from openpyxl.utils import get_column_letter
from openpyxl.worksheet.filters import AutoFilter
from openpyxl.worksheet.table import Table, TableColumn, TableStyleInfo
from openpyxl.worksheet.worksheet import Worksheet

from rustboard.report.cells import MOST_LINES, Value, put, row_height, set_widths
from rustboard.report.styles import PLAIN, TABLE_HEAD, TABLE_STYLE, Look

_FILTER_BUTTON = 3
"""Characters of a heading that a spreadsheet program covers with the button of its filter."""


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a table: its heading, width in characters and look."""

    heading: str
    width: float
    look: Look = PLAIN


def put_headings(sheet: Worksheet, columns: Sequence[Column]) -> None:
    """Write the header row into row 1, set the widths and keep the header in sight."""
    _put_heads(sheet, columns, 1)
    set_widths(sheet, {number: column.width for number, column in enumerate(columns, start=1)})
    sheet.freeze_panes = "B2"


def _put_heads(sheet: Worksheet, columns: Sequence[Column], top: int) -> None:
    for number, column in enumerate(columns, start=1):
        put(sheet, top, number, column.heading, TABLE_HEAD)
    sheet.row_dimensions[top].height = 30 if any(len(each.heading) > each.width for each in columns) else 20


def add_table(sheet: Worksheet, name: str, headings: Sequence[str], rows: int, *, top: int = 1) -> None:
    """Make a table object of the headings in row ``top`` and ``rows`` rows below.

    The format wants at least one row below the header, so an empty table keeps one blank row.
    """
    ref = f"A{top}:{get_column_letter(len(headings))}{top + max(rows, 1)}"
    table = Table(displayName=name, ref=ref)
    table.tableStyleInfo = TableStyleInfo(name=TABLE_STYLE, showRowStripes=True)
    # Named here, because openpyxl would otherwise make every cell of the range to read the header's.
    table.tableColumns = [TableColumn(id=number, name=each) for number, each in enumerate(headings, start=1)]
    table.autoFilter = AutoFilter(ref=ref)
    sheet.add_table(table)


def write_table(
    sheet: Worksheet,
    name: str,
    columns: Sequence[Column],
    rows: Sequence[Sequence[Value]],
    *,
    most_lines: int = MOST_LINES,
) -> None:
    """Write a whole table of moderate length, each row as high as its text needs, up to ``most_lines``."""
    put_headings(sheet, columns)
    _put_rows(sheet, name, columns, rows, 1, most_lines)


def write_table_at(
    sheet: Worksheet,
    top: int,
    name: str,
    columns: Sequence[Column],
    rows: Sequence[Sequence[Value]],
    *,
    most_lines: int = MOST_LINES,
) -> int:
    """Write a whole table among others on a sheet, whose widths the caller sets; return the row after it.

    Args:
        sheet: where.
        top: row of the headings, counted from 1.
        name: of the table object.
        columns: their widths are those of the sheet's columns, by which the height of the rows is told.
        rows: at least one, or the table keeps one blank row.
        most_lines: that a row is high.
    """
    _put_heads(sheet, columns, top)
    heads: list[tuple[Value, float]] = [(each.heading, each.width - _FILTER_BUTTON) for each in columns]
    sheet.row_dimensions[top].height = row_height(heads) + 4
    _put_rows(sheet, name, columns, rows, top, most_lines)
    return top + max(len(rows), 1) + 1


def _put_rows(
    sheet: Worksheet,
    name: str,
    columns: Sequence[Column],
    rows: Sequence[Sequence[Value]],
    top: int,
    most_lines: int,
) -> None:
    for at, row in enumerate(rows, start=top + 1):
        for number, (value, column) in enumerate(zip(row, columns, strict=True), start=1):
            if value is not None and value != "":
                put(sheet, at, number, value, column.look)
        widths = [(value, column.width) for value, column in zip(row, columns, strict=True)]
        sheet.row_dimensions[at].height = row_height(widths, most_lines)
    add_table(sheet, name, [each.heading for each in columns], len(rows), top=top)
