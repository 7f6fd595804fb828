"""The one-page summary: one page whatever the board, with its words beside."""

from __future__ import annotations

from pathlib import Path
from xml.etree import ElementTree

import pytest
from page_content import content_of, large_board, renamed
from page_reading import needs_poppler, read_pdf, squeezed
from report_boards import door_board, small_board

from rustboard.board.model import Board
from rustboard.board.record import BoardRecord
from rustboard.report.choice import ReportChoice
from rustboard.report.pages.one_page import one_page, one_page_words

BOARDS = {
    "door": door_board,
    "nothing": lambda: BoardRecord(Board("")),
    "sixty by sixty": lambda: BoardRecord(Board("Empty", 60, 60)),
    "one coupon": lambda: large_board(1, 1),
    "hundred treatments, long names": lambda: large_board(200, 100, "x" * 980 + " {0}"),
    "long names everywhere": lambda: renamed(door_board(), "W" * 1000),
    "long sentences": lambda: renamed(door_board(), "wax and oil " * 83),
    "thousand coupons": lambda: large_board(1000, 20),
}  # fmt: skip


@needs_poppler
@pytest.mark.parametrize("name", BOARDS)
def test_it_is_one_page_and_nothing_lies_beyond_its_margins(name: str, tmp_path: Path) -> None:
    content = content_of(BOARDS[name]())
    read = read_pdf(one_page(content, "pdf").data, tmp_path)
    assert len(read.sizes) == 1
    width, height = read.sizes[0]
    for word in read.words:
        assert 60 < word.left < word.right < width - 60, word
        assert 40 < word.top < word.bottom < height - 20, word


@needs_poppler
def test_it_says_the_verdict_where_and_when_and_what_to_beware_of(tmp_path: Path) -> None:
    content = content_of(door_board())
    assert content.findings is not None
    said = squeezed(read_pdf(one_page(content, "pdf").data, tmp_path).text)
    for text in (*content.findings.verdict[:3], "harbour wall".capitalize(), "56 days", "Smith & Daughter",
                 "Grades compare only within the same place and the same time."):  # fmt: skip
        assert squeezed(text) in said


@needs_poppler
def test_of_many_treatments_the_best_and_the_worst_are_shown_and_the_others_counted(tmp_path: Path) -> None:
    content = content_of(large_board(200, 100))
    said = read_pdf(one_page(content, "pdf").data, tmp_path).text
    assert "left out" in said
    assert content.findings is not None
    ranked = content.findings.ranked
    assert ranked[0].treatment in said
    assert ranked[-1].treatment in said


def test_the_words_say_the_same_as_the_page_and_are_whole() -> None:
    content = content_of(door_board())
    words = one_page_words(content)
    assert content.findings is not None
    for sentence in content.findings.verdict:
        assert sentence in words
    for line in content.findings.ranked:
        assert line.treatment in words
    assert "\u200b" not in words
    assert "Smith & Daughter" in words


def test_every_form_carries_its_words() -> None:
    content = content_of(small_board())
    pdf = one_page(content, "pdf")
    assert b"/StructTreeRoot" in pdf.data
    assert b"/Alt" in pdf.data
    png = one_page(content, "png")
    assert png.data.startswith(b"\x89PNG")
    assert b"iTXtDescription\0" in png.data
    svg = ElementTree.fromstring(one_page(content, "svg").data)
    told = svg.find("{http://www.w3.org/2000/svg}desc")
    assert told is not None
    assert told.text is not None
    assert "Harbour wall spring" in told.text


def test_a_png_opens_and_tells_its_description() -> None:
    import io

    from PIL import Image

    page = one_page(content_of(small_board()), "png")
    with Image.open(io.BytesIO(page.data)) as image:
        image.load()
        assert image.info["Description"].startswith("Harbour wall spring")
        assert image.height > image.width > 1_000


def test_the_same_content_makes_the_same_bytes() -> None:
    content = content_of(small_board())
    for form in ("pdf", "png", "svg"):
        assert one_page(content, form).data == one_page(content, form).data  # type: ignore[arg-type]


def test_letter_is_letter(tmp_path: Path) -> None:
    content = content_of(small_board(), paper="Letter")
    assert content.choice == ReportChoice(paper="Letter")
    assert b"612 792" in one_page(content, "pdf").data
