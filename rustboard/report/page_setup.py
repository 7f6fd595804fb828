"""How every sheet prints: paper, margins, titles that repeat, header and footer."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

from openpyxl.worksheet.properties import PageSetupProperties
from openpyxl.worksheet.worksheet import Worksheet

from rustboard.report.cells import short

Paper = Literal["A4", "Letter"]
PAPERS: Final[dict[Paper, int]] = {"A4": 9, "Letter": 1}
"""Paper numbers of the .xlsx format."""

SIDE_INCHES: Final = 0.59
TOP_INCHES: Final = 0.79
HEADER_LIMIT: Final = 80
"""Most characters of a name in a header; the format allows 255 for the three parts together."""


@dataclass(frozen=True, slots=True)
class PageStyle:
    """What the pages of one workbook share."""

    board_name: str
    made_on: str
    paper: Paper = "A4"


def header_text(text: str) -> str:
    """Return text for a header or footer, where ``&`` begins a code and is doubled to mean itself."""
    return short(text, HEADER_LIMIT).replace("&", "&&")


def set_page(
    sheet: Worksheet,
    style: PageStyle,
    *,
    landscape: bool = False,
    pages_wide: int | None = 1,
    pages_high: int = 0,
    repeat_rows: str | None = None,
    repeat_columns: str | None = None,
) -> None:
    """Set up printing.

    Args:
        sheet: the sheet.
        style: what all pages share.
        landscape: the long side across.
        pages_wide: shrink to this many pages across; None = print at full size, with the sheet's own breaks,
            which spreadsheet programs ignore when they shrink.
        pages_high: and at most this many pages down; 0 = as many as it takes.
        repeat_rows: such as ``1:1``, printed again on every page.
        repeat_columns: such as ``A:B``.
    """
    sheet.page_setup.orientation = "landscape" if landscape else "portrait"
    sheet.page_setup.paperSize = PAPERS[style.paper]
    if pages_wide is not None:
        sheet.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)
        sheet.page_setup.fitToWidth = pages_wide
        sheet.page_setup.fitToHeight = pages_high
    sheet.page_margins.left = sheet.page_margins.right = SIDE_INCHES
    sheet.page_margins.top = sheet.page_margins.bottom = TOP_INCHES
    sheet.page_margins.header = sheet.page_margins.footer = 0.35
    if repeat_rows:
        sheet.print_title_rows = repeat_rows
    if repeat_columns:
        sheet.print_title_cols = repeat_columns
    header, footer = sheet.oddHeader, sheet.oddFooter
    # openpyxl makes both with the sheet.
    assert header is not None
    assert footer is not None
    header.left.text = header_text(style.board_name)
    header.right.text = header_text(sheet.title)
    footer.left.text = header_text(style.made_on)
    footer.right.text = "Page &P of &N"
