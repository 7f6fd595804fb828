"""Putting values into cells so that text stays text and long text stays bounded."""

from __future__ import annotations

import math
import unicodedata
from collections.abc import Mapping
from datetime import datetime

from openpyxl.cell import Cell
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet

from rustboard.report.styles import Look
from rustboard.report.tidy import cell_text, iso
from rustboard.support.text import spreadsheet_safe

Value = str | float | datetime | None

FIRST_YEAR = 1901
"""Spreadsheets count days from 1900 and get that year's leap day wrong; older dates are written as text."""

LETTERS_TO_WIDTH = 1.13
"""Letters of prose that fit where a column is one digit wide (measured on English text in Arial, a little less)."""

LINE_POINTS = 13.5
"""Height of one line of 10-point text."""

MOST_LINES = 8
"""Of a long text that are shown in its row, where a sheet has no reason for more."""


def put(sheet: Worksheet, row: int, column: int, value: Value, look: Look) -> None:
    """Write one value; ``row`` and ``column`` count from 1.

    Text is stored as text whatever it begins with, so that nothing in it can run as a formula.
    """
    cell = sheet.cell(row, column)
    if not isinstance(cell, Cell):  # the covered part of a merged range holds no value
        return
    wear(cell, look)
    if isinstance(value, datetime) and value.year < FIRST_YEAR:
        value = iso(value)
    if isinstance(value, float) and not math.isfinite(value):
        value = str(value)  # the format has no such number, and a file with one needs repair
    if not isinstance(value, str):
        cell.value = value.replace(tzinfo=None) if isinstance(value, datetime) else value
        if isinstance(value, datetime):
            cell.number_format = look.number_format
        return
    text = cell_text(value)
    cell.value = text
    cell.data_type = "s"
    if spreadsheet_safe(text) != text:
        # What a spreadsheet itself notes for text typed with a leading apostrophe: still text after an edit.
        cell.quotePrefix = True


def wear(cell: Cell, look: Look) -> None:
    """Give a cell its look."""
    cell.font = look.font
    cell.alignment = look.alignment
    cell.number_format = look.number_format
    if look.fill is not None:
        cell.fill = look.fill
    if look.border is not None:
        cell.border = look.border


def style_number(sheet: Worksheet, look: Look) -> int:
    """Return the number under which the workbook keeps a look, for rows that are written as XML."""
    probe = Cell(sheet, row=1, column=1)
    wear(probe, look)
    return int(probe.style_id)


def set_widths(sheet: Worksheet, widths: Mapping[int, float]) -> None:
    """Set column widths in characters; columns count from 1."""
    for column, width in widths.items():
        sheet.column_dimensions[get_column_letter(column)].width = width


def text_width(text: str) -> int:
    """Return how many columns of plain letters a line takes; emoji and East Asian characters take two."""
    return sum(2 if unicodedata.east_asian_width(char) in "WF" else 1 for char in text)


def lines_of(text: str, width: float) -> int:
    """Return about how many lines a wrapped text fills in a column of ``width`` characters."""
    room = max(1.0, (width - 1) * LETTERS_TO_WIDTH)
    return sum(max(1, math.ceil(text_width(line) / room)) for line in text.split("\n"))


def row_height(cells: list[tuple[Value, float]], most_lines: int = MOST_LINES) -> float:
    """Return the height in points for a row of (value, column width), between one line and ``most_lines``.

    The whole text stays in the cell; only what is shown is bounded.
    """
    needed = max((lines_of(value, width) for value, width in cells if isinstance(value, str)), default=1)
    return LINE_POINTS * min(most_lines, needed) + 2


def short(text: str, limit: int) -> str:
    """Return one line of at most ``limit`` characters, ending in an ellipsis where it was cut."""
    line = " ".join(cell_text(text).split())
    return line if len(line) <= limit else f"{line[: limit - 1].rstrip()}…"
