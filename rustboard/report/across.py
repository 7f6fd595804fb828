"""Headings and sentences across the whole width of a sheet of figures."""

from __future__ import annotations

from openpyxl.worksheet.worksheet import Worksheet

from rustboard.report.cells import put, row_height
from rustboard.report.styles import HEADING, Look


def put_heading(sheet: Worksheet, row: int, text: str) -> int:
    """Write a heading a row below; return the row after it."""
    put(sheet, row + 1, 1, text, HEADING)
    sheet.row_dimensions[row + 1].height = 22
    return row + 2


def put_across(sheet: Worksheet, row: int, text: str, look: Look, *, columns: int, width: float) -> int:
    """Write a sentence over the first columns, as high as it needs; return the row after it.

    Args:
        sheet: where.
        row: in which row, counted from 1.
        text: what.
        look: how.
        columns: how many it goes over.
        width: of these together, in characters.
    """
    sheet.merge_cells(start_row=row, end_row=row, start_column=1, end_column=columns)
    put(sheet, row, 1, text, look)
    sheet.row_dimensions[row].height = row_height([(text, width)]) + 1
    return row + 1
