"""The contents: every sheet with what it shows, each a link; and the links back."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from openpyxl.cell import Cell
from openpyxl.styles import Font, PatternFill
from openpyxl.worksheet.hyperlink import Hyperlink
from openpyxl.worksheet.worksheet import Worksheet

from rustboard.report.cells import put, row_height, set_widths
from rustboard.report.page_setup import PageStyle, set_page
from rustboard.report.styles import (
    COLUMN_HEAD,
    HEAD_FILL,
    LINK,
    LINK_AT_EDGE,
    LINK_BACK,
    PLAIN,
    QUIET,
    SHEET_TITLE,
    Look,
)

SHEET: Final = "Contents"
_WIDTHS: Final = {1: 28, 2: 68}
_WORDS: Final = (
    "A click on a name opens its sheet. “Contents” at the top of a sheet leads back here; so does the first heading "
    "of a table, underlined."
)


def write_contents(sheet: Worksheet, lines: Sequence[tuple[str, str]], page: PageStyle) -> None:
    """Write the contents: titles of sheets and what each shows, in order."""
    sheet.sheet_view.showGridLines = False
    set_widths(sheet, _WIDTHS)
    set_page(sheet, page)
    put(sheet, 1, 1, "Contents", SHEET_TITLE)
    put(sheet, 2, 1, _WORDS, QUIET)
    sheet.merge_cells("A2:B2")
    sheet.row_dimensions[2].height = 28
    for column, head in enumerate(("Sheet", "What it shows"), start=1):
        put(sheet, 4, column, head, COLUMN_HEAD)
    for row, (title, about) in enumerate(lines, start=5):
        _link(sheet, row, 1, title, title, LINK)
        put(sheet, row, 2, about, PLAIN)
        sheet.row_dimensions[row].height = row_height([(about, _WIDTHS[2])]) + 4
    sheet.freeze_panes = "A5"
    sheet.print_area = f"A1:B{4 + len(lines)}"


def link_back(sheet: Worksheet, place: str) -> None:
    """Put a link to the contents onto a sheet.

    Args:
        sheet: where.
        place: a cell such as ``J1`` in which nothing stands; empty = the first cell with its text, because a cell
            more would be one more column for programs that read a table from the corner.
    """
    cell = sheet[place or "A1"]
    if not isinstance(cell, Cell):
        return
    if not place:
        # Programs show links in their own dark ink, whatever the cell's: not on the dark ground of headings.
        font = cell.font
        cell.font = Font(name=font.name, size=font.sz, bold=font.b, color=LINK.font.color, underline="single")
        if cell.fill.fill_type:
            cell.fill = PatternFill("solid", fgColor=HEAD_FILL)
        _lead(cell, SHEET)
    elif cell.value is None:
        # Left of the first column there is nothing that a word could reach into.
        look = LINK_AT_EDGE if cell.column == 1 else LINK_BACK
        _link(sheet, cell.row, cell.column, f"‹ {SHEET}", SHEET, look)


def _link(sheet: Worksheet, row: int, column: int, text: str, title: str, look: Look) -> None:
    put(sheet, row, column, text, look)
    cell = sheet.cell(row, column)
    assert isinstance(cell, Cell)
    _lead(cell, title)


def _lead(cell: Cell, title: str) -> None:
    cell.hyperlink = Hyperlink(ref=cell.coordinate, location=f"'{title}'!A1", tooltip=f"To the sheet {title}")
