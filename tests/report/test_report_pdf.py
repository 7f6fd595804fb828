"""The report as a PDF: everything is in it, nothing is cut, and those who cannot see its pictures can read them."""

from __future__ import annotations

import contextlib
import re
import zlib
from dataclasses import replace
from pathlib import Path

import pytest
from page_content import SHOP, content_of, large_board, renamed
from page_reading import needs_poppler, read_pdf, squeezed
from report_boards import HOSTILE, door_board, planned_board, small_board

from rustboard.board.model import Board
from rustboard.board.record import BoardRecord
from rustboard.report.choice import WRITINGS, ReportPicture, ReportPictures
from rustboard.report.content import AuditLine, ReportContent
from rustboard.report.pages.report_pdf import report_pdf

MARGIN = 22 / 25.4 * 72
MONSTERS = (
    "n" * 1000,
    "#panic() $x$ *bold* @ref <tag> \\u{0}",
    "\u05e9\u05dc\u05d5\u05dd \u0645\u0631\u062d\u0628\u0627 \u202e",
    "日本語の板 🧲🔩",
)


def plain(data: bytes) -> bytes:
    """Return the streams of a PDF as they were before they were packed."""
    found = []
    for each in re.finditer(rb"stream\r?\n", data):
        with contextlib.suppress(zlib.error):
            found.append(zlib.decompressobj().decompress(data[each.end() :]))
    return data + b"".join(found)


def alternatives(data: bytes) -> int:
    return len(re.findall(rb"/Alt", data))


@needs_poppler
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_everything_is_in_it_and_nothing_lies_beyond_the_margins(paper: str, tmp_path: Path) -> None:
    content = content_of(planned_board(), paper=paper)
    read = read_pdf(report_pdf(content), tmp_path)
    said = squeezed(read.text)
    assert content.findings is not None
    for sentence in (*content.findings.verdict, *content.findings.cautions):
        assert squeezed(sentence) in said
    for treatment in content.record.treatments.values():
        assert squeezed(f"{treatment.id} {treatment.name}") in said
    for coupon in content.record.coupons.values():
        assert coupon.id in said
    wide = {"A4": 595.3, "Letter": 612.0}[paper]
    assert all(width == pytest.approx(wide, abs=0.5) for width, _ in read.sizes)
    for word in read.words:
        assert word.left >= MARGIN - 1.5, word
        assert word.right <= wide - MARGIN + 1.5, word
        assert 0 < word.top < word.bottom < read.sizes[word.page - 1][1], word


@needs_poppler
def test_every_page_but_the_cover_names_board_and_day_and_every_page_its_number(tmp_path: Path) -> None:
    read = read_pdf(report_pdf(content_of(door_board())), tmp_path)
    last = len(read.sizes)
    for page in range(1, last + 1):
        said = " ".join(each.text for each in read.words if each.page == page)
        assert f"Page {page} of {last}" in said
        assert (page == 1) or ("Harbour wall spring" in said and "2026-05-01" in said)


def test_it_is_tagged_with_a_title_a_language_and_words_for_every_drawing() -> None:
    data = report_pdf(content_of(door_board()))
    assert b"/StructTreeRoot" in data
    assert b"/Lang" in data
    assert b"pdfuaid:part" in plain(data)  # it keeps the standard for readers (PDF/UA-1)
    assert alternatives(data) >= 8  # three maps, four families, ranking, curves, value


def test_the_same_content_makes_the_same_bytes() -> None:
    assert report_pdf(content_of(door_board())) == report_pdf(content_of(door_board()))


@needs_poppler
def test_only_the_parts_that_are_wanted_are_in_it(tmp_path: Path) -> None:
    content = content_of(door_board(), parts=frozenset({"method"}))
    said = read_pdf(report_pdf(content), tmp_path).text
    assert "Method and scales" in said
    assert "Comparisons" not in said
    assert "Board map" not in said


@needs_poppler
def test_numbers_and_dates_are_written_as_chosen(tmp_path: Path) -> None:
    content = content_of(door_board(), writing=WRITINGS[4])
    said = read_pdf(report_pdf(content), tmp_path).text
    assert "01.05.2026" in said
    assert "2026-05-01" not in said
    assert "7,50" in said


@needs_poppler
@pytest.mark.parametrize(
    "text", [*MONSTERS, " ".join(HOSTILE)], ids=["long", "markup", "right to left", "other scripts", "hostile"]
)
def test_no_text_is_code_or_breaks_a_page(text: str, tmp_path: Path) -> None:
    record = renamed(small_board(), text)
    content = replace(
        content_of(record), shop=replace(SHOP, name=text, contact=f"{text}\n{text}"), by=text,
        audit=(AuditLine("2026-05-01T09:00:00", text, text),),
    )  # fmt: skip
    read = read_pdf(report_pdf(content), tmp_path)
    assert "Method and scales" in read.text
    for word in read.words:
        assert word.right <= 595.3 - MARGIN + 2, word


@pytest.mark.parametrize(
    "record",
    [BoardRecord(Board("")), BoardRecord(Board("Empty", 60, 60)), large_board(1, 1), large_board(1000, 100)],
    ids=["nothing", "empty places", "one coupon", "a thousand coupons"],
)
def test_every_board_has_a_report(record: BoardRecord) -> None:
    assert report_pdf(content_of(record)).startswith(b"%PDF")


def test_it_is_set_without_a_font_of_the_system() -> None:
    assert report_pdf(content_of(small_board()), system_fonts=False).startswith(b"%PDF")


@needs_poppler
def test_photos_are_there_with_captions_and_words(tmp_path: Path) -> None:
    picture = ReportPicture(jpeg(), 60, 40, "Day zero: the whole board", "All coupons without rust")
    content = with_pictures(content_of(door_board()), ReportPictures(photos=(picture, picture, picture)))
    data = report_pdf(content)
    said = read_pdf(data, tmp_path).text
    assert said.count("Day zero: the whole board") == 3
    assert alternatives(data) >= alternatives(report_pdf(content_of(door_board()))) + 3


def with_pictures(content: ReportContent, pictures: ReportPictures) -> ReportContent:
    return replace(content, pictures=pictures)


def jpeg() -> bytes:
    import io

    from PIL import Image

    stream = io.BytesIO()
    Image.new("RGB", (60, 40), "#9c3f14").save(stream, "JPEG")
    return stream.getvalue()


def test_it_can_be_stopped_between_its_parts() -> None:
    class StoppedError(Exception):
        pass

    def stop(done: int, total: int) -> None:
        if done == 3:
            raise StoppedError

    with pytest.raises(StoppedError):
        report_pdf(content_of(small_board()), step=stop)
