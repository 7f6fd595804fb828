"""Board maps with the coupons' pictures in their places, and the sheet of photos."""

from __future__ import annotations

import io
import re
from dataclasses import replace
from itertools import pairwise
from xml.etree import ElementTree
from zipfile import ZipFile

from openpyxl import Workbook, load_workbook
from openpyxl.worksheet.worksheet import Worksheet
from pictured_boards import picture, pictured, pictures_of
from PIL import Image
from report_boards import HOSTILE, MADE, START, BoardBuilder, door_board, hostile_board, small_board

from rustboard.board.grade import written
from rustboard.board.model import Board
from rustboard.board.position import Position
from rustboard.report.board_map import write_board_map
from rustboard.report.choice import ReportPictures
from rustboard.report.content import ReportContent
from rustboard.report.map_views import MIDDLE_MAP, NEWEST_MAP, START_MAP, map_views
from rustboard.report.package import packed
from rustboard.report.page_setup import PageStyle
from rustboard.report.photos_sheet import SHEET, has_photos, write_photos
from rustboard.report.written import NOTHING_MORE

XDR = "{http://schemas.openxmlformats.org/drawingml/2006/spreadsheetDrawing}"
PAGE = PageStyle("board", "today")


def maps_of(content: ReportContent) -> bytes:
    """A workbook of the maps alone."""
    workbook = Workbook()
    workbook.remove(workbook.worksheets[0])
    for view in map_views(content):
        write_board_map(workbook.create_sheet(view.sheet), content.record, PAGE, view)
    return packed(workbook, MADE, dict.fromkeys(workbook.sheetnames, NOTHING_MORE))


def photos_of(pictures: ReportPictures) -> bytes:
    workbook = Workbook()
    workbook.remove(workbook.worksheets[0])
    write_photos(workbook.create_sheet(SHEET), pictures, PAGE)
    return packed(workbook, MADE, dict.fromkeys(workbook.sheetnames, NOTHING_MORE))


def sheet_of(content: bytes, title: str) -> Worksheet:
    return load_workbook(io.BytesIO(content))[title]


def told(content: bytes, drawing: int = 1) -> list[tuple[str, str]]:
    """Name and description of the pictures of a drawing."""
    with ZipFile(io.BytesIO(content)) as package:
        root = ElementTree.fromstring(package.read(f"xl/drawings/drawing{drawing}.xml"))
    return [(each.get("name", ""), each.get("descr", "")) for each in root.iter(f"{XDR}cNvPr")]


def places(sheet: Worksheet) -> dict[str, str]:
    """The cell that each picture's middle lies in, by what is written beside it."""
    found = {}
    for image in sheet._images:  # type: ignore[attr-defined]
        begin = image.anchor._from
        found[str(sheet.cell(begin.row + 1, begin.col + 2).value)] = f"{begin.row + 1},{begin.col + 1}"
    return found


def test_each_coupons_picture_stands_beside_its_id() -> None:
    record = door_board()
    content = maps_of(pictured(record))
    for title in (START_MAP, MIDDLE_MAP, NEWEST_MAP):
        sheet = sheet_of(content, title)
        assert places(sheet).keys() == {each.id for each in record.coupons.values()}
    # Row B begins four rows below row A, and each place takes two columns.
    assert places(sheet)["C01"] == "6,3"
    assert places(sheet)["C09"] == "10,5"


def test_the_maps_show_the_grades_of_their_time() -> None:
    record = door_board()
    content = maps_of(pictured(record))
    grades = {
        title: [sheet_of(content, title).cell(8, 4 + 2 * column).value for column in range(7)]
        for title in (START_MAP, MIDDLE_MAP, NEWEST_MAP)
    }
    assert grades[START_MAP] == ["10"] * 7
    for title, number in ((MIDDLE_MAP, 9), (NEWEST_MAP, 17)):  # of the eighteen inspections
        until = record.inspections_in_order()[number]
        given = [record.latest(coupon.key, until) for coupon in record.coupons_in_order()[:7]]
        assert grades[title] == [written(each.grade, each.distribution) for each in given if each is not None]
    assert grades[MIDDLE_MAP] != grades[NEWEST_MAP]
    assert "day 0" in str(sheet_of(content, START_MAP)["A2"].value)


def test_each_map_is_one_page_across_and_down() -> None:
    content = maps_of(pictured(door_board()))
    for title in (START_MAP, MIDDLE_MAP, NEWEST_MAP):
        setup = sheet_of(content, title).page_setup
        assert (setup.fitToWidth, setup.fitToHeight, setup.orientation) == (1, 1, "landscape")


def board_of(rows: int, columns: int, size: tuple[int, int]) -> ReportContent:
    """What a report of a full board is written from, whose coupons have pictures of this size."""
    made = BoardBuilder(Board("Pier", rows=rows, columns=columns, started=START))
    places = [Position(row, column) for row in range(rows) for column in range(columns)]
    keys = [made.coupon(f"C{each.row}-{each.column}", each.label) for each in places]
    made.histories((0, 7), dict.fromkeys(keys, (10, 9)))
    content = pictured(made.record, times=2)
    shown = picture((80, 70, 60), size, "", "a coupon")
    coupons = tuple(dict.fromkeys(each, shown) for each in content.pictures.coupons)
    return replace(content, pictures=replace(content.pictures, coupons=coupons))


def test_pictures_of_a_wide_board_stand_above_their_words_where_that_comes_out_larger() -> None:
    sheet = sheet_of(maps_of(board_of(8, 12, (260, 260))), NEWEST_MAP)
    assert [sheet.cell(row, 3).value for row in (6, 7, 9)] == [None, "C0-0", "9-S"]
    assert len(sheet._images) == 96  # type: ignore[attr-defined]
    first = sheet._images[0].anchor  # type: ignore[attr-defined]
    assert (first._from.row, first._from.col) == (5, 2)
    setup = sheet.page_setup
    assert (setup.orientation, setup.fitToWidth, setup.fitToHeight) == ("portrait", 1, 1)


def test_a_board_of_96_upright_coupons_is_on_one_page_too() -> None:
    setup = sheet_of(maps_of(board_of(8, 12, (130, 260))), NEWEST_MAP).page_setup
    assert (setup.orientation, setup.fitToWidth, setup.fitToHeight) == ("landscape", 1, 1)


def test_a_board_that_could_not_be_read_on_one_page_goes_over_several() -> None:
    setup = sheet_of(maps_of(board_of(20, 20, (130, 260))), NEWEST_MAP).page_setup
    assert (setup.fitToWidth, setup.fitToHeight) == (2, 4)


def test_every_picture_says_what_it_shows() -> None:
    content = maps_of(pictured(small_board()))
    assert told(content, 1) == [
        (f"Picture of C0{number}", f"Coupon C0{number} at time 0") for number in range(1, 5)
    ]  # fmt: skip
    assert told(content, 3)[0] == ("Picture of C01", "Coupon C01 at time 2")


def test_pictures_keep_their_shape_and_lie_within_their_box() -> None:
    sheet = sheet_of(maps_of(pictured(small_board())), NEWEST_MAP)
    height = sum(sheet.row_dimensions[row].height for row in range(6, 10)) * 12_700
    for image in sheet._images:  # type: ignore[attr-defined]
        size, begin = image.anchor.ext, image.anchor._from
        assert abs(size.height / size.width - 2) < 0.01
        assert size.height + begin.rowOff < height
        assert size.width + begin.colOff < sheet.column_dimensions["C"].width * 5.25 * 12_700


def test_without_photos_there_is_the_one_map_of_the_newest_grades() -> None:
    (view,) = map_views(ReportContent(small_board(), MADE))
    assert (view.sheet, view.title) == (NEWEST_MAP, "Board map")
    sheet = sheet_of(maps_of(ReportContent(small_board(), MADE)), NEWEST_MAP)
    assert sheet["C6"].value == "C01"
    assert not sheet._images  # type: ignore[attr-defined]


def test_of_one_photo_there_is_a_map_of_the_start_and_one_of_the_newest_grades() -> None:
    views = map_views(pictured(small_board(), times=1))
    assert [(each.sheet, bool(each.pictures)) for each in views] == [(START_MAP, True), (NEWEST_MAP, False)]


def test_before_the_first_inspection_no_coupon_is_graded() -> None:
    record = small_board()
    pictures = pictures_of(record, times=1)
    pictures = replace(pictures, moments=(replace(pictures.moments[0], inspection=None),))
    sheet = sheet_of(maps_of(ReportContent(record, MADE, pictures=pictures)), START_MAP)
    assert [sheet.cell(8, 4 + 2 * column).value for column in range(4)] == ["not graded"] * 4
    assert "No coupon had been graded by then." in str(sheet["A2"].value)


def test_a_coupon_without_a_picture_says_so() -> None:
    content = pictured(small_board())
    del content.pictures.coupons[2][2]
    sheet = sheet_of(maps_of(content), NEWEST_MAP)
    assert sheet["E6"].value == "no picture"


def test_hostile_names_stay_text_and_the_file_opens() -> None:
    record = hostile_board()
    content = maps_of(pictured(record))
    kinds = {
        cell.data_type for sheet in load_workbook(io.BytesIO(content)) for row in sheet.iter_rows() for cell in row
    }
    assert kinds <= {"s", "n", "inlineStr"}  # no formula, no error
    names = [name for name, _ in told(content, 2)]
    assert len(names) == len(HOSTILE)
    assert not re.search("[\x00-\x1f\ud800-\udfff]", "".join(names))


def test_the_photos_stand_below_each_other_two_on_a_page() -> None:
    pictures = pictures_of(door_board(), photos=5)
    content = photos_of(pictures)
    sheet = sheet_of(content, SHEET)
    column = [str(cell.value) for cell in sheet["A"] if cell.value]
    assert column[:4] == ["Photos", "The board straightened", "The board start", "The board, start"]
    assert [each for each in column if each.startswith("Photo ")] == [f"Photo {number}" for number in range(5)]
    assert [name for name, _ in told(content)] == [
        "The board start", "The board middle", "The board end", *(f"Photo {number}" for number in range(5)),
    ]  # fmt: skip
    assert told(content)[3] == ("Photo 0", "What photo 0 shows")
    breaks = [each.id for each in sheet.row_breaks.brk]
    anchors = [image.anchor._from.row + 1 for image in sheet._images]  # type: ignore[attr-defined]
    on_page = [sum(each < row for each in breaks) for row in anchors]
    assert on_page == [0, 0, 1, 1, 2, 2, 3, 3]


def test_a_page_of_photos_fits_on_letter_and_a4() -> None:
    tall = picture((1, 2, 3), (700, 1000), "Tall", "x" * 300)
    sheet = sheet_of(photos_of(ReportPictures(photos=(tall,) * 6, boards=(tall,))), SHEET)
    edges = [0, *(each.id for each in sheet.row_breaks.brk), sheet.max_row]
    letter_points = (11 - 2 * 0.79) * 72
    for top, bottom in pairwise(edges):
        high = sum(sheet.row_dimensions[row].height or 15 for row in range(top + 1, bottom + 1))
        assert high <= letter_points


def test_what_had_to_be_left_out_is_told_below() -> None:
    pictures = replace(pictures_of(small_board(), photos=1), left_out=("The photo of day 3 is left out: gone.",))
    column = [str(cell.value) for cell in sheet_of(photos_of(pictures), SHEET)["A"] if cell.value]
    assert column[-2:] == ["Left out", "The photo of day 3 is left out: gone."]


def test_without_any_photo_there_is_no_sheet_of_photos() -> None:
    assert not has_photos(ReportPictures())
    assert has_photos(ReportPictures(left_out=("gone",)))


def test_the_pictures_in_the_file_are_those_that_were_given() -> None:
    pictures = pictures_of(small_board(), photos=2)
    with ZipFile(io.BytesIO(photos_of(pictures))) as package:
        images = [package.read(name) for name in package.namelist() if name.startswith("xl/media/")]
    assert sorted(images) == sorted(each.image for each in (*pictures.boards, *pictures.photos))
    assert all(Image.open(io.BytesIO(each)).format == "JPEG" for each in images)


def test_the_same_pictures_make_the_same_bytes() -> None:
    content = pictured(small_board())
    assert maps_of(content) == maps_of(content)
