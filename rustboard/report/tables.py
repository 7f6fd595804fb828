"""Real table objects: a header row, rows below, filters and bands by the spreadsheet program."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from openpyxl.utils import get_column_letter
from openpyxl.worksheet.filters import AutoFilter
from openpyxl.worksheet.table import Table, TableColumn, TableStyleInfo
from openpyxl.worksheet.worksheet import Worksheet

from rustboard.report.cells import Value, put, row_height, set_widths
from rustboard.report.styles import PLAIN, TABLE_HEAD, TABLE_STYLE, Look


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a table: its heading, width in characters and look."""

    heading: str
    width: float
    look: Look = PLAIN


def put_headings(sheet: Worksheet, columns: Sequence[Column]) -> None:
    """Write the header row into row 1, set the widths and keep the header in sight."""
    for number, column in enumerate(columns, start=1):
        put(sheet, 1, number, column.heading, TABLE_HEAD)
    sheet.row_dimensions[1].height = 30 if any(len(each.heading) > each.width for each in columns) else 20
    set_widths(sheet, {number: column.width for number, column in enumerate(columns, start=1)})
    sheet.freeze_panes = "B2"


def add_table(sheet: Worksheet, name: str, headings: Sequence[str], rows: int) -> None:
    """Make a table object of the headings in row 1 and ``rows`` rows below.

    The format wants at least one row below the header, so an empty table keeps one blank row.
    """
    ref = f"A1:{get_column_letter(len(headings))}{max(rows, 1) + 1}"
    table = Table(displayName=name, ref=ref)
    table.tableStyleInfo = TableStyleInfo(name=TABLE_STYLE, showRowStripes=True)
    # Named here, because openpyxl would otherwise make every cell of the range to read the header's.
    table.tableColumns = [TableColumn(id=number, name=each) for number, each in enumerate(headings, start=1)]
    table.autoFilter = AutoFilter(ref=ref)
    sheet.add_table(table)


def write_table(sheet: Worksheet, name: str, columns: Sequence[Column], rows: Sequence[Sequence[Value]]) -> None:
    """Write a whole table of moderate length, each row as high as its text needs, within bounds."""
    put_headings(sheet, columns)
    for at, row in enumerate(rows, start=2):
        for number, (value, column) in enumerate(zip(row, columns, strict=True), start=1):
            if value is not None and value != "":
                put(sheet, at, number, value, column.look)
        widths = [(value, column.width) for value, column in zip(row, columns, strict=True)]
        sheet.row_dimensions[at].height = row_height(widths)
    add_table(sheet, name, [each.heading for each in columns], len(rows))
