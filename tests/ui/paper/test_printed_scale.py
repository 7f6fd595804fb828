"""What comes out of the printer has the size it must have: the PDF is rendered by another program and measured."""

from __future__ import annotations

from pathlib import Path

import cv2
import numpy as np
import pytest
from paper_boards import choice, flat, paper_board
from printed_pages import PX_PER_MM, cross_mm, cut, dark_extent_mm, page_sizes_mm, read_code, rendered

from rustboard.board.setting_out import corner_markers
from rustboard.report.paper.document import compose
from rustboard.report.paper.label_code import label_text
from rustboard.report.paper.paper_sizes import PAPERS, paper_named
from rustboard.report.paper.shapes import Area, Box, Code, Line, Page, Ring
from rustboard.ui.paper.renderer import pdf_of, print_pages

WITHIN_MM = 0.2
BOTH = pytest.mark.parametrize("paper", [paper_named("A4"), paper_named("Letter")], ids=["A4", "Letter"])


def written(folder: Path, pages: tuple[Page, ...]) -> Path:
    path = folder / "pages.pdf"
    path.write_bytes(pdf_of(pages, "Harbour wall spring"))
    return path


@pytest.mark.parametrize("paper", PAPERS, ids=[each.name for each in PAPERS])
def test_pages_are_as_large_as_the_paper_upright_and_sideways(tmp_path, paper):
    upright = compose(paper_board(), choice("markers", "grading", paper=paper))
    sideways = compose(paper_board(), choice("grading", paper=paper, visits=4))
    found = page_sizes_mm(written(tmp_path, (*upright, *sideways)))
    assert found[0] == found[1] == pytest.approx((paper.width_mm, paper.height_mm), abs=WITHIN_MM)
    assert found[2] == pytest.approx((paper.height_mm, paper.width_mm), abs=WITHIN_MM)


@BOTH
def test_the_bars_are_exactly_100_and_50_mm(tmp_path, paper):
    pages = compose(paper_board(), choice("markers", paper=paper))
    picture = rendered(written(tmp_path, pages), 1)
    assert dark_extent_mm(cut(picture, Area(5, 9, 150, 6)), 1) == pytest.approx(100.0, abs=WITHIN_MM)
    assert dark_extent_mm(cut(picture, Area(5, 36, 10, 115)), 0) == pytest.approx(100.0, abs=WITHIN_MM)
    foot = Area(5, paper.height_mm - 22, 55, 7)
    assert dark_extent_mm(cut(picture, foot), 1) == pytest.approx(50.0, abs=WITHIN_MM)


@BOTH
def test_a_printer_keeps_the_scale_too(tmp_path, paper):
    from PySide6.QtPrintSupport import QPrinter

    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    printer.setOutputFileName(str(tmp_path / "printed.pdf"))
    pages = compose(paper_board(), choice("markers", "grading", paper=paper, visits=4))
    assert print_pages(pages, printer)
    picture = rendered(tmp_path / "printed.pdf", 1)
    assert dark_extent_mm(cut(picture, Area(5, 9, 150, 6)), 1) == pytest.approx(100.0, abs=WITHIN_MM)
    sizes = page_sizes_mm(tmp_path / "printed.pdf")
    assert sizes[0] == pytest.approx((paper.width_mm, paper.height_mm), abs=WITHIN_MM)
    assert sizes[1] == pytest.approx((paper.height_mm, paper.width_mm), abs=WITHIN_MM)


def test_a_printer_prints_the_chosen_pages_alone(tmp_path):
    from PySide6.QtPrintSupport import QPrinter

    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    printer.setOutputFileName(str(tmp_path / "printed.pdf"))
    pages = compose(paper_board(), choice("map", "labels"))
    assert print_pages(pages, printer, 2, 3)
    assert len(page_sizes_mm(tmp_path / "printed.pdf")) == 2
    assert not print_pages(pages, printer, 90, 99)


@BOTH
@pytest.mark.parametrize("size_mm", [20.0, 30.0, 47.5])
def test_a_marker_finder_finds_the_printed_markers_upright_and_of_their_size(tmp_path, paper, size_mm):
    record = paper_board()
    record.markers = ()
    picture = rendered(written(tmp_path, compose(record, choice("markers", paper=paper, marker_mm=size_mm))), 1)
    finely = cv2.aruco.DetectorParameters()
    finely.cornerRefinementMethod = cv2.aruco.CORNER_REFINE_SUBPIX
    dictionary = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_50)
    corners, ids, _ = cv2.aruco.ArucoDetector(dictionary, finely).detectMarkers(picture)
    assert sorted(ids.ravel().tolist()) == [0, 1, 2, 3]
    for square in (each.reshape(4, 2) / PX_PER_MM for each in corners):
        sides = np.hypot(*(np.roll(square, -1, axis=0) - square).T)
        assert sides == pytest.approx(np.full(4, size_mm), abs=WITHIN_MM)
        top_left, top_right, bottom_right, _ = square
        assert top_right[0] > top_left[0] + size_mm / 2  # clockwise from the pattern's own top left: it is upright
        assert bottom_right[1] > top_right[1] + size_mm / 2


def test_the_markers_lie_on_the_page_as_on_the_board(tmp_path):
    picture = rendered(written(tmp_path, compose(paper_board(), choice("markers"))), 1)
    dictionary = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_50)
    corners, ids, _ = cv2.aruco.ArucoDetector(dictionary).detectMarkers(picture)
    middles = {
        int(number): each.reshape(4, 2).mean(axis=0) for each, number in zip(corners, ids.ravel(), strict=True)
    }
    assert middles[0][0] < middles[1][0]
    assert middles[3][0] < middles[2][0]
    assert middles[0][1] < middles[3][1]
    assert middles[1][1] < middles[2][1]


@pytest.mark.parametrize("size_mm", [20.0, 47.5])
def test_a_marker_cut_out_with_its_rim_alone_is_found_on_a_dark_board(tmp_path, size_mm):
    record = paper_board()
    record.markers = corner_markers(record.board, size_mm)
    (page,) = compose(record, choice("markers"))
    picture = rendered(written(tmp_path, (page,)), 1)
    finder = cv2.aruco.ArucoDetector(cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_50))
    pieces = [each.area for each in page.shapes if isinstance(each, Box) and each.dashed]
    found = []
    for piece in pieces:
        assert piece.width == piece.height == pytest.approx(size_mm + 2 * (size_mm / 6 + 3))
        around = round(10 * PX_PER_MM)
        on_board = cv2.copyMakeBorder(cut(picture, piece), *(around,) * 4, cv2.BORDER_CONSTANT, value=40)
        _, ids, _ = finder.detectMarkers(on_board)
        found += ids.ravel().tolist()
    assert sorted(found) == [0, 1, 2, 3]


@BOTH
def test_drill_marks_are_as_far_apart_as_the_holes(tmp_path, paper):
    record = paper_board(2, 2, 88.0, (60.0, 80.0), hole_below_top_mm=8.0)
    pages = compose(record, choice("map", paper=paper))
    picture = rendered(written(tmp_path, pages), 2)
    planned = [each for each in flat(pages[1].shapes) if isinstance(each, Ring)]
    found = [cross_mm(picture, each.x + 0.7, each.y - 0.7, 5.0) for each in planned]
    # Coupons in the middle of positions of 88 mm: the holes are 88 mm apart, the first 44 mm from the board's left.
    for one, other, apart in ((0, 1, (88, 0)), (0, 2, (0, 88)), (0, 3, (88, 88))):
        (x, y), (to_x, to_y) = found[one], found[other]
        assert (to_x - x, to_y - y) == pytest.approx(apart, abs=WITHIN_MM)
    edge = cut(picture, Area(5, found[0][1] + 20, 20, 2))
    board_left = float(np.flatnonzero((edge < 128).all(axis=0))[0]) / PX_PER_MM + 5 + 0.25
    assert found[0][0] - board_left == pytest.approx(44.0, abs=WITHIN_MM)


def test_sheets_laid_cross_on_cross_show_the_same_in_their_overlap(tmp_path):
    record = paper_board(1, 3, 100.0, (60.0, 80.0), hole_below_top_mm=8.0)
    pages = compose(record, choice("map", paper=paper_named("A4")))
    assert len(pages) == 3
    pdf = written(tmp_path, pages)
    bands = []
    for number in (1, 2):
        crosses = sorted({(x, y) for x, y in join_crosses(pages[number])})
        assert len(crosses) == 2
        x, y = crosses[0]
        # From below the words about coupons to just below the board's lower edge, 6 mm to both sides of the crosses.
        bands.append(cut(rendered(pdf, number + 1), Area(x - 6, y + 25, 12, 55)) < 200)
    one, other = bands
    assert one.sum() > 500  # outline and board edge are there
    reach = np.ones((2 * round(WITHIN_MM * PX_PER_MM) + 1,) * 2, np.uint8)
    for first, second in ((one, other), (other, one)):
        assert not (first & (cv2.dilate(second.astype(np.uint8), reach) == 0)).any()


def join_crosses(page: Page) -> list[tuple[float, float]]:
    """Where on paper the diagonal crosses of a sheet are."""
    lines = [
        each for each in flat(page.shapes) if isinstance(each, Line) and each.to_x - each.x == pytest.approx(8.0)
    ]
    return [((each.x + each.to_x) / 2, (each.y + each.to_y) / 2) for each in lines if abs(each.to_y - each.y) > 7]


@pytest.mark.parametrize(
    ("board", "size"),
    [
        ("Harbour wall spring", (50.0, 25.0)),
        ("Hafenmauer Frühjahr", (50.0, 25.0)),
        ("港の壁 春", (60.0, 30.0)),
        ("x" * 300, (40.0, 18.0)),
    ],
)
def test_the_codes_on_printed_labels_are_read_back(tmp_path, board, size):
    record = paper_board(rows=2, columns=2, name=board)
    pages = compose(record, choice("labels", label_width_mm=size[0], label_height_mm=size[1]))
    picture = rendered(written(tmp_path, pages), 1, dpi=300)
    codes = [each.area for each in pages[0].shapes if isinstance(each, Code)]
    read = [read_code(cut(picture, code)) for code in codes]
    assert read == [label_text(board, each.id) for each in record.coupons_in_order()]


def test_every_code_of_a_large_board_is_read_back(tmp_path):
    record = paper_board(rows=12, columns=20)
    pages = compose(record, choice("labels"))
    pdf = written(tmp_path, pages)
    read = []
    for number, page in enumerate(pages, start=1):
        picture = rendered(pdf, number, dpi=300)
        codes = [each.area for each in page.shapes if isinstance(each, Code)]
        read += [read_code(cut(picture, code)) for code in codes]
    assert read == [label_text(record.board.name, each.id) for each in record.coupons_in_order()]
