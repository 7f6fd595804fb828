"""The sheet of photos: the board straightened at the start, in the middle and at the end, then the photos by time."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from openpyxl.worksheet.pagebreak import Break
from openpyxl.worksheet.worksheet import Worksheet

from rustboard.report.cells import LINE_POINTS, lines_of, put, set_widths
from rustboard.report.choice import ReportPicture, ReportPictures
from rustboard.report.page_setup import PageStyle, set_page
from rustboard.report.placed_pictures import put_picture
from rustboard.report.styles import CAPTION, HEADING, PLAIN, QUIET, SHEET_TITLE

SHEET: Final = "Photos"

WIDTH_CHARACTERS: Final = 80.0
"""Of the only column: it fits on the page in programs with wider digits, too; a picture may reach beyond it."""
WIDTH_POINTS: Final = 480.0
"""Of a picture: within the margins of A4 and of Letter."""
HEIGHT_POINTS: Final = 226.0
"""Two pictures with their words stand on a page of either paper."""
PICTURES_A_PAGE: Final = 2
_ROWS_A_PICTURE: Final = 4
_WORD_LINES: Final = 3
_GAP_POINTS: Final = 12.0


def has_photos(pictures: ReportPictures) -> bool:
    """Return whether there is anything for the sheet: pictures, or photos to be told of as missing."""
    return bool(pictures.boards or pictures.photos or pictures.left_out)


def write_photos(sheet: Worksheet, pictures: ReportPictures, page: PageStyle) -> None:
    """Write the pictures below each other, two on a page, each with its caption and what it shows in words."""
    sheet.sheet_view.showGridLines = False
    set_widths(sheet, {1: WIDTH_CHARACTERS})
    # Printed at full size with breaks of its own, because shrinking to a page's width ignores breaks.
    set_page(sheet, page, pages_wide=None)
    put(sheet, 1, 1, "Photos", SHEET_TITLE)
    sheet.row_dimensions[1].height = 24
    row, count = 2, 0
    sections = (("The board straightened", pictures.boards), ("The photos as they were taken", pictures.photos))
    for title, shown in sections:
        for number, picture in enumerate(shown):
            if count and count % PICTURES_A_PAGE == 0:
                sheet.row_breaks.append(Break(id=row - 1))
            if number == 0:
                put(sheet, row, 1, title, HEADING)
                sheet.row_dimensions[row].height = 22
                row += 1
            row, count = _put(sheet, row, picture), count + 1
    _left_out(sheet, row, pictures.left_out)


def _put(sheet: Worksheet, row: int, picture: ReportPicture) -> int:
    """Write a picture with its words; return the row after it."""
    put(sheet, row, 1, picture.caption, CAPTION)
    sheet.row_dimensions[row].height = 18
    _, high = put_picture(sheet, picture, row + 1, 1, width=WIDTH_POINTS, height=HEIGHT_POINTS, middle=False)
    sheet.row_dimensions[row + 1].height = high + 4
    put(sheet, row + 2, 1, picture.description, QUIET)
    lines = min(_WORD_LINES, lines_of(picture.description, WIDTH_CHARACTERS))
    sheet.row_dimensions[row + 2].height = LINE_POINTS * lines + 2
    sheet.row_dimensions[row + 3].height = _GAP_POINTS
    return row + _ROWS_A_PICTURE


def _left_out(sheet: Worksheet, row: int, sentences: Sequence[str]) -> None:
    if not sentences:
        return
    put(sheet, row, 1, "Left out", HEADING)
    sheet.row_dimensions[row].height = 22
    for number, sentence in enumerate(sentences, start=row + 1):
        put(sheet, number, 1, sentence, PLAIN)
        sheet.row_dimensions[number].height = LINE_POINTS * lines_of(sentence, WIDTH_CHARACTERS) + 2
