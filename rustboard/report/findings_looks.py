"""How the sheets of the findings look: widths, number formats, sentences across the page."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from openpyxl.worksheet.pagebreak import Break
from openpyxl.worksheet.properties import PageSetupProperties
from openpyxl.worksheet.worksheet import Worksheet

from rustboard.report.across import put_across, put_heading
from rustboard.report.cells import put, set_widths
from rustboard.report.page_setup import TOP_INCHES, PageStyle, set_page
from rustboard.report.styles import PLAIN, SHEET_TITLE, TABLE_NUMBER, Look
from rustboard.report.tables import Column

WIDTHS: Final = {1: 28, 2: 28, **dict.fromkeys(range(3, 10), 11.5), 10: 30}
LAST: Final = max(WIDTHS)
_WHOLE: Final = sum(WIDTHS.values())
_SCALE: Final = 65
"""Percent at which these columns fit across a page of either paper, lying, in any program."""
_PAGE_POINTS: Final = (8.27 - 2 * TOP_INCHES) * 72 * 100 / _SCALE
"""Of rows that go on a page at that scale; A4 is the lower of the two papers, lying."""
_USUAL_POINTS: Final = 15.0
LAST_LETTER: Final = "J"
NAME_LIMIT: Final = 120

CENTRED: Final = TABLE_NUMBER
P: Final = replace(TABLE_NUMBER, number_format='[<0.0001]"< 0.0001";0.0000')
P_OR_MORE: Final = replace(TABLE_NUMBER, number_format='0.0000" or more"')
ONE_DECIMAL: Final = replace(TABLE_NUMBER, number_format="0.0")
SIGNED: Final = replace(TABLE_NUMBER, number_format="+0.00;-0.00;0.00")
DAY: Final = Look(number_format="yyyy-mm-dd")
"""The hour would be wider than the column, and nobody asks for it."""


def columns(*headed: tuple[str, Look]) -> tuple[Column, ...]:
    """Return the columns of a table from the left edge of such a sheet."""
    return tuple(Column(heading, WIDTHS[at], look) for at, (heading, look) in enumerate(headed, start=1))


def begin(sheet: Worksheet, title: str, page: PageStyle) -> int:
    """Set a sheet of figures and sentences up; return the row after its title."""
    sheet.sheet_view.showGridLines = False
    set_widths(sheet, WIDTHS)
    set_page(sheet, page, landscape=True)
    put(sheet, 1, 1, title, SHEET_TITLE)
    return 2


def break_before(sheet: Worksheet, row: int) -> None:
    """Let a new page begin with a row, as where a picture would else be cut in two.

    Programs ignore breaks on sheets that they shrink to the page, so the sheet prints at a scale of its own.
    """
    sheet.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=False)
    sheet.page_setup.fitToWidth = sheet.page_setup.fitToHeight = None
    sheet.page_setup.scale = _SCALE
    sheet.row_breaks.append(Break(id=row - 1))


def break_where_cut(sheet: Worksheet, first: int, after: int) -> None:
    """Let a new page begin with a row, where the rows from it until ``after`` would else be cut in two."""
    above, high = _points(sheet, 1, first), _points(sheet, first, after)
    if above % _PAGE_POINTS > 0 and high <= _PAGE_POINTS < above % _PAGE_POINTS + high:
        break_before(sheet, first)


def _points(sheet: Worksheet, first: int, after: int) -> float:
    return sum(sheet.row_dimensions[row].height or _USUAL_POINTS for row in range(first, after))


def across(sheet: Worksheet, row: int, text: str, look: Look = PLAIN) -> int:
    """Write a sentence across the page; return the row after it."""
    return put_across(sheet, row, text, look, columns=LAST, width=_WHOLE)


def sentences(sheet: Worksheet, row: int, heading: str, said: Sequence[str]) -> int:
    """Write sentences below a heading, nothing where there are none; return the row after them."""
    if not said:
        return row
    row = put_heading(sheet, row, heading)
    for each in said:
        row = across(sheet, row, each)
    return row
