"""The report as a PDF: its parts in order, with a cover, contents, and alternatives in words for every picture."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Final

from rustboard.report.choice import Part
from rustboard.report.content import ReportContent
from rustboard.report.pages.blocks import Book, named, prose
from rustboard.report.pages.board_pages import write_histories, write_maps, write_photos
from rustboard.report.pages.cover_page import ABOUT, write_cover
from rustboard.report.pages.doubt_pages import write_doubts
from rustboard.report.pages.findings_pages import write_comparisons, write_failing, write_summary, write_value
from rustboard.report.pages.method_pages import write_audit, write_graders, write_method, write_plan
from rustboard.report.pages.recipe_pages import write_treatments
from rustboard.report.pages.setting import set_pages, told
from rustboard.report.pages.weather_pages import write_exposure

PAPER_NAMES: Final = {"A4": "a4", "Letter": "us-letter"}
TEXT_WIDTHS: Final = {"A4": 470.0, "Letter": 487.0}
"""In points, between the margins of 22 mm."""

NO_NAME: Final = "Board without a name"

_PARTS: Final[tuple[tuple[Part, Callable[[Book, ReportContent], None]], ...]] = (
    ("summary", write_summary),
    ("map", write_maps),
    ("histories", write_histories),
    ("comparisons", write_comparisons),
    ("failing", write_failing),
    ("value", write_value),
    ("exposure", write_exposure),
    ("photos", write_photos),
    ("treatments", write_treatments),
    ("doubts", write_doubts),
    ("graders", write_graders),
    ("plan", write_plan),
    ("method", write_method),
    ("audit", write_audit),
)
PRINTED_PARTS: Final[frozenset[Part]] = frozenset(part for part, _ in _PARTS)
"""Those that a PDF has; the data are for the workbook."""


def report_pdf(
    content: ReportContent, *, step: Callable[[int, int], None] | None = None, system_fonts: bool = True
) -> bytes:
    """Return the report as a PDF; the same content makes the same bytes on the same system.

    Args:
        content: what it is written from; parts that are not wanted or that the board has nothing for are left out.
        step: told how far it is, done and in all; what it raises stops the work.
        system_fonts: whether to use the fonts of the system.
    """
    book, cover = _book(content), _book(content)
    write_cover(cover, content)
    total = len(_PARTS) + 2
    for number, (part, write) in enumerate(_PARTS):
        if step is not None:
            step(number, total)
        if part in content.choice.parts:
            write(book, content)
    if step is not None:
        step(total - 2, total)
    done = set_pages(
        "report/report.typ",
        _frame(content) | {"cover": cover.blocks, "blocks": book.blocks},
        book.pictures | _logo(content),
        generated=content.generated,
        system_fonts=system_fonts,
    )
    if step is not None:
        step(total - 1, total)
    return done


def _book(content: ReportContent) -> Book:
    return Book(content.choice.writing, TEXT_WIDTHS[content.choice.paper])


def _frame(content: ReportContent) -> dict[str, Any]:
    """Return what the pages have beside their blocks."""
    board, shop = content.record.board, content.shop
    name = named(board.name, 300) or NO_NAME
    shop_name = named(shop.name or board.shop, 200)
    return {
        "title": f"{name}: rust report",
        "author": shop_name,
        "about": ABOUT,
        "board": name,
        "shop": shop_name,
        "contact": prose(shop.contact, 600),
        "logo": "logo.png" if shop.logo else "",
        "header": named(board.name, 80) or NO_NAME,
        "footer": named(shop.name or board.shop, 80),
        "made": told(content.choice.writing.day(content.generated)),
        "paper": PAPER_NAMES[content.choice.paper],
    }


def _logo(content: ReportContent) -> dict[str, bytes]:
    return {"logo.png": content.shop.logo} if content.shop.logo else {}
