"""How the grades came about, what they can bear, and how to stay safe."""

from __future__ import annotations

from typing import Final

from openpyxl.worksheet.worksheet import Worksheet

from rustboard.board.grade import GRADES
from rustboard.board.record import BoardRecord
from rustboard.report.cells import put, row_height, set_widths
from rustboard.report.method_words import method_sections
from rustboard.report.page_setup import PageStyle, set_page
from rustboard.report.styles import (
    COLUMN_HEAD,
    HEADING,
    LEGEND_GRADE,
    LEGEND_LIMIT,
    PLAIN,
    QUIET,
    SHEET_TITLE,
    graded,
)
from rustboard.scales.cautions import NOT_COMPLETE
from rustboard.scales.rust_grade import limits_percent, percent_text

_WIDTH: Final = 92


def write_method(sheet: Worksheet, record: BoardRecord, page: PageStyle, *, compared: bool = False) -> None:
    """Write the method, the cautions and the safety lines that the recipes call for.

    ``compared``: coupons were put in order side by side.
    """
    sheet.sheet_view.showGridLines = False
    set_widths(sheet, {1: 8, 2: _WIDTH})
    put(sheet, 1, 1, "Method and cautions", SHEET_TITLE)
    row = 3
    for number, (heading, sentences) in enumerate(method_sections(record, compared=compared)):
        row = _section(sheet, row, heading, sentences)
        if not number:
            row = _limits(sheet, row)
    put(sheet, row - 1, 2, NOT_COMPLETE, QUIET)
    sheet.row_dimensions[row - 1].height = row_height([(NOT_COMPLETE, _WIDTH)])
    set_page(sheet, page)


def _section(sheet: Worksheet, row: int, heading: str, paragraphs: list[str]) -> int:
    put(sheet, row, 1, heading, HEADING)
    sheet.row_dimensions[row].height = 20
    for text in paragraphs:
        row += 1
        put(sheet, row, 2, text, PLAIN)
        sheet.row_dimensions[row].height = row_height([(text, _WIDTH)], most_lines=12) + 3
    return row + 2


def _limits(sheet: Worksheet, row: int) -> int:
    put(sheet, row, 1, "Grade", COLUMN_HEAD)
    put(sheet, row, 2, "Percent of the significant surface rusted", COLUMN_HEAD)
    sheet.row_dimensions[row].height = 18
    for number, grade in enumerate(reversed(GRADES), start=1):
        put(sheet, row + number, 1, grade, graded(LEGEND_GRADE, grade))
        lower, upper = limits_percent(grade)
        said = percent_text(grade) if grade in {0, 10} else f"more than {lower:g} %, up to {upper:g} %"
        put(sheet, row + number, 2, said, LEGEND_LIMIT)
        sheet.row_dimensions[row + number].height = 15.5
    return row + len(GRADES) + 2
