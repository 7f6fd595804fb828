"""Cover, board map, treatments, coupons, method: what each says of a board."""

from __future__ import annotations

import io
from datetime import datetime

import pytest
from openpyxl import load_workbook
from openpyxl.worksheet.worksheet import Worksheet
from PIL import Image
from report_boards import HOSTILE, MADE, BoardBuilder, door_board, hostile_board, small_board
from workbook_reading import SHEETS, opened, rows, texts

from rustboard.board.model import Board
from rustboard.report import cover
from rustboard.report.cells import lines_of, row_height, short
from rustboard.report.choice import ReportChoice, Shop, writing_named
from rustboard.report.content import ReportContent
from rustboard.report.cover import compass
from rustboard.report.styles import HEAD_FILL
from rustboard.report.workbook import workbook_bytes
from rustboard.scales.cautions import CUT_EDGES, FOLLOW
from rustboard.scales.grade_colours import GRADE_COLOURS, contrast_ratio
from rustboard.scales.rust_grade import percent_text


def facts(sheet: Worksheet) -> dict[str, object]:
    """Label and value of the cover's first part."""
    return {row[0]: row[1] for row in sheet.iter_rows(min_row=4, max_row=20, values_only=True) if row[0]}


def found(sheet: Worksheet, text: object) -> tuple[int, int]:
    return next((cell.row, cell.column) for row in sheet.iter_rows() for cell in row if cell.value == text)


def fill(sheet: Worksheet, row: int, column: int) -> str:
    return f"#{sheet.cell(row, column).fill.fgColor.rgb[2:].lower()}"


def ink(sheet: Worksheet, row: int, column: int) -> str:
    return f"#{sheet.cell(row, column).font.color.rgb[2:].lower()}"


def test_the_sheets_stand_in_the_order_one_reads_them() -> None:
    assert tuple(opened(small_board()).sheetnames) == SHEETS
    assert opened(small_board()).active.title == "Cover"


def test_the_cover_says_whose_board_it_is_where_and_how_long() -> None:
    sheet = opened(small_board(), by="Ann")["Cover"]
    assert sheet["A1"].value == "Harbour wall spring"
    said = facts(sheet)
    assert said["Customer"] == "Church of St Anne"
    assert said["Shop"] == "Smith & Daughter"
    assert said["Incline"] == "45° from the horizontal"
    assert said["Facing"] == "180° (south)"
    assert said["First day"] == datetime(2026, 3, 2, 9)
    assert said["Last inspection"] == datetime(2026, 3, 16, 9)
    assert said["Days of exposure until then"] == 14
    assert said["Coupons"] == "4, of which 1 control"
    assert (said["Treatments"], said["Inspections"], said["Gradings"]) == (2, 4, 15)
    assert (said["Workbook made"], said["Made by"]) == (MADE, "Ann")


def test_what_is_not_known_is_said_to_be_not_noted() -> None:
    said = facts(opened(BoardBuilder(Board("Bare")).record)["Cover"])
    assert said["Customer"] == said["Facing"] == said["Shelter"] == "not noted"
    assert said["Exposure"] == "not begun: no start and no inspection noted"
    assert "Made by" not in said


def test_the_summary_shows_the_last_inspections_grades_by_treatment() -> None:
    sheet = opened(small_board())["Cover"]
    row, _ = found(sheet, "Treatment")
    assert sheet.cell(row - 1, 1).value == "Grades of the inspection of 2026-03-16 09:00"
    table = [tuple(each) for each in sheet.iter_rows(min_row=row, max_row=row + 3, values_only=True)]
    assert table == [
        ("Treatment", "Family", "Coupons", "Graded then", "Mean", "Lowest", "Highest"),
        ("T1 hot beeswax blend", "wax", 2, 2, 7.5, 7, 8),
        ("T2 baked linseed oil", "oil", 1, 1, 5, 5, 5),
        ("Control, no treatment noted", None, 1, 1, 0, 0, 0),
    ]
    assert fill(sheet, row + 1, 6) == GRADE_COLOURS[7]


def test_a_coupon_not_graded_at_the_last_inspection_is_left_out_and_counted() -> None:
    made = BoardBuilder()
    wax = made.treatment("T1")
    first, second = made.coupon("C01", "A1", wax), made.coupon("C02", "A2", wax)
    made.histories((0, 5), {first: (10, 6), second: (10, None)})
    made.inspection(9)  # begun, nothing graded yet
    sheet = opened(made.record)["Cover"]
    row, _ = found(sheet, "Treatment")
    assert [cell.value for cell in sheet[row + 1]] == ["T1", None, 2, 1, 6, 6, 6]
    assert any("left out of its row above: 1 coupon." in text for text in texts(sheet))


def test_the_cover_warns_of_single_coupons_and_of_a_missing_control() -> None:
    made = BoardBuilder()
    coupon = made.coupon("C01", "A1", made.treatment("T1", name="wax"))
    made.grade(coupon, made.inspection(0), 9)
    said = " ".join(texts(opened(made.record)["Cover"]))
    assert "One coupon of a treatment shows order only" in said
    assert "This holds for T1 wax." in said
    assert cover.NO_CONTROL in said
    assert cover.LISTS_ONLY in said


def test_a_board_with_replicates_and_controls_gets_neither_warning() -> None:
    said = " ".join(texts(opened(door_board())["Cover"]))
    assert "shows order only" not in said
    assert cover.NO_CONTROL not in said


@pytest.mark.parametrize(("coupons", "words"), [(0, cover.NO_COUPONS), (1, cover.NO_GRADES)])
def test_an_empty_board_still_gives_a_workbook_that_says_what_to_do(coupons: int, words: str) -> None:
    made = BoardBuilder(Board("Empty"))
    for number in range(coupons):
        made.coupon(f"C{number}", "A1")
    workbook = opened(made.record)
    assert tuple(workbook.sheetnames) == tuple(each for each in SHEETS if not each.startswith("Summary"))
    assert any(words in text for text in texts(workbook["Cover"]))


@pytest.mark.parametrize(
    ("bearing", "name"), [(0, "north"), (22, "north"), (23, "north-east"), (180, "south"), (350, "north")]
)
def test_a_bearing_is_named_by_the_nearest_compass_point(bearing: float, name: str) -> None:
    assert compass(bearing) == name


def test_the_map_shows_each_coupon_where_it_hangs() -> None:
    sheet = opened(door_board())["Board map"]
    assert [sheet.cell(5, column).value for column in range(3, 10)] == [1, 2, 3, 4, 5, 6, 7]
    assert [sheet.cell(row, 2).value for row in (6, 10, 14)] == ["A", "B", "C"]
    assert [sheet.cell(6, column).value for column in range(3, 10)] == [f"C0{n}" for n in range(1, 8)]
    block = [sheet.cell(row, 3).value for row in range(6, 10)]
    assert block == ["C01", "hot beeswax blend", "6-S", None]
    control = [sheet.cell(row, 5).value for row in range(6, 10)]
    assert control == ["C03", "no treatment noted", "0", "control"]


def test_a_grade_stands_on_its_colour_in_an_ink_that_can_be_read() -> None:
    sheet = opened(door_board())["Board map"]
    shown = [(8, column) for column in range(3, 10)]
    for row, column in shown:
        grade = int(str(sheet.cell(row, column).value).split("-")[0])
        assert fill(sheet, row, column) == GRADE_COLOURS[grade]
        # WCAG 2.2 asks 3 : 1 of large text (from memory).
        assert contrast_ratio(fill(sheet, row, column), ink(sheet, row, column)) >= 3


def test_a_grade_older_than_the_last_graded_inspection_carries_its_date() -> None:
    made = BoardBuilder()
    first, second = made.coupon("C01", "A1"), made.coupon("C02", "A2", role="control")
    made.histories((0, 5), {first: (10, 6), second: (10, None)})
    sheet = opened(made.record)["Board map"]
    assert [sheet.cell(9, column).value for column in (3, 4)] == [None, "control, 2026-03-02"]


def test_an_ungraded_coupon_and_an_empty_position_look_different_from_each_other() -> None:
    made = BoardBuilder()
    made.coupon("C01", "A1")
    sheet = opened(made.record)["Board map"]
    assert sheet.cell(8, 3).value == "not graded"
    assert [sheet.cell(row, 4).value for row in range(6, 10)] == [None] * 4
    assert fill(sheet, 7, 4) != fill(sheet, 7, 3)


def test_zones_reach_over_the_neighbours_that_share_a_label() -> None:
    sheet = opened(door_board())["Board map"]
    assert {str(each) for each in sheet.merged_cells.ranges} >= {"H4:I4", "A6:A9"}
    assert (sheet["H4"].value, sheet["A6"].value) == ("by the gate", "under the eaves")


def test_coupons_off_the_board_are_listed_below_it() -> None:
    made = BoardBuilder()
    wax = made.treatment("T1", name="wax")
    off, beyond = made.coupon("C08", None, wax), made.coupon("C09", "F9", wax)
    made.histories((0,), {off: (4,), beyond: (3,)})
    sheet = opened(made.record)["Board map"]
    row, _ = found(sheet, "Off the board")
    listed = [[sheet.cell(row + n, column).value for column in (3, 4, 5)] for n in (1, 2)]
    assert listed == [["C09", "3-S", "wax"], ["C08", "4-S", "wax"]]


def test_the_legend_names_every_grade_with_its_limits_and_colour() -> None:
    sheet = opened(small_board())["Board map"]
    row, _ = found(sheet, "Grades, and the share of the significant surface that is rusted")
    legend = {}
    for down in range(1, 7):
        for column in (2, 4):
            grade = sheet.cell(row + down, column).value
            if grade is not None:
                legend[grade] = sheet.cell(row + down, column + 1).value
                assert fill(sheet, row + down, column) == GRADE_COLOURS[grade]
    assert legend == {grade: percent_text(grade) for grade in range(11)}


def test_the_treatments_sheet_holds_every_field_of_the_recipe() -> None:
    sheet = opened(small_board())["Treatments"]
    head, wax, oil = rows(sheet)
    assert dict(zip(head, wax, strict=True)) == {
        "Treatment": "T1", "Name": "hot beeswax blend", "Family": "wax", "Preparation": None, "Finish": None,
        "Protectant": None, "Coats": 2, "Batch": None, "Cost per m²": 3.1, "Minutes per m²": 40, "Coupons": 2,
        "Which coupons": "C01, C02", "Note": None,
    }  # fmt: skip
    assert dict(zip(head, oil, strict=True))["Batch"] == "7/26"
    assert sheet.tables["Treatments"].ref == "A1:M3"


def test_the_coupons_sheet_gives_place_treatment_and_area() -> None:
    sheet = opened(small_board())["Coupons"]
    assert rows(sheet)[1] == ("C01", "A1", "T1", "test", "mild steel", 7200, None)
    assert rows(sheet)[4] == ("C04", "A4", None, "control", None, None, None)
    assert sheet.tables["Coupons"].ref == "A1:G5"


def test_hostile_names_stand_as_text_that_stays_text_when_edited() -> None:
    sheet = opened(hostile_board())["Coupons"]
    assert sheet["A2"].value == '=HYPERLINK("x")'
    assert sheet["A2"].data_type != "f"
    assert [bool(sheet.cell(row, 1).quotePrefix) for row in range(2, 7)] == [True] * 5
    assert sheet["A8"].value == HOSTILE[6]
    assert sheet["A9"].value == HOSTILE[7]
    assert sheet["A10"].value == "bell\ufffd null\ufffd page\ufffd"
    assert sheet["A11"].value == HOSTILE[9]


def test_a_name_of_400_characters_neither_stretches_the_map_nor_a_row() -> None:
    workbook = opened(hostile_board())
    board_map = workbook["Board map"]
    assert max(dimension.height or 0 for dimension in board_map.row_dimensions.values()) <= 32
    assert max(dimension.height or 0 for dimension in workbook["Coupons"].row_dimensions.values()) <= 120
    assert HOSTILE[7] in texts(board_map)


def test_the_method_lists_the_limits_and_the_edge_margin() -> None:
    said = " ".join(texts(opened(small_board())["Method and cautions"]))
    assert "more than 0.1 %, up to 0.3 %" in said
    assert "A strip 3 mm wide along every outline does not count" in said
    # 0.01 % of the one outline of 60 x 120 mm: 0.72 mm², a round spot 0.957 mm across (computed here by hand).
    assert "0.72 mm², a single spot 1.0 mm across" in said


def test_the_method_warns_of_small_coupons_without_outlines_too() -> None:
    said = " ".join(texts(opened(BoardBuilder().record)["Method and cautions"]))
    # 50 x 100 mm: 0.5 mm², one spot of 0.80 mm (0.01 % of 5,000 mm², worked out here).
    assert "0.5 mm² on 50 x 100 mm, a single spot 0.8 mm across" in said
    assert "No edge margin is set" in said


@pytest.mark.parametrize(
    ("recipe", "word"),
    [
        ({"name": "Boiled LINSEED oil"}, "catch fire"),
        ({"protectant": "wax in white spirit"}, "Vapour"),
        ({"preparation": "baked at 200 degrees"}, "heat gun"),
        ({"finish": "zinc phosphate"}, "goggles"),
        ({"preparation": "pickled in hydrochloric acid"}, "bleach"),
        ({"finish": "cold blue"}, "selenious"),
        ({"preparation": "grit-blasted"}, "silica"),
        ({"preparation": "brake cleaner"}, "phosgene"),
        ({"note": "old paint on one side"}, "lead"),
        ({"preparation": "wire brushed"}, "eye protection"),
    ],
)
def test_a_recipe_calls_for_its_safety_line(recipe: dict[str, str], word: str) -> None:
    made = BoardBuilder()
    made.treatment("T7", **{"name": "mine"} | recipe)
    lines = [text for text in texts(opened(made.record)["Method and cautions"]) if text.startswith("T7")]
    assert any(word in line for line in lines)
    assert all(line.endswith(f"{FOLLOW}.") for line in lines)


def test_a_recipe_without_such_words_gets_only_the_general_line() -> None:
    made = BoardBuilder()
    made.treatment("T1", name="bare leaded brass sample", family="misleading")
    said = texts(opened(made.record)["Method and cautions"])
    assert [text for text in said if FOLLOW in text] == [CUT_EDGES]


def test_every_sheet_prints_on_a4_with_the_boards_name_and_page_numbers() -> None:
    for sheet in opened(small_board()):
        assert str(sheet.page_setup.paperSize) == "9"
        assert sheet.oddHeader.left.text == "Harbour wall spring"
        assert sheet.oddFooter.right.text == "Page &P of &N"
        if sheet.title not in {"History", "Summary"}:  # whose charts break pages, which programs that shrink ignore
            wide = 3 if sheet.title == "Treatment data" else 1  # 22 columns: smaller nobody could read them
            assert sheet.page_setup.fitToWidth == wide
            assert sheet.sheet_properties.pageSetUpPr.fitToPage


def test_every_sheet_is_in_the_contents_by_a_link_that_leads_there_and_reports_lead_back() -> None:
    workbook = opened(small_board())
    links = {cell.value: cell.hyperlink.location for cell in workbook["Contents"]["A"] if cell.hyperlink}
    assert list(links) == [each for each in workbook.sheetnames if each != "Contents"]
    assert all(where == f"'{title}'!A1" for title, where in links.items())
    for sheet in workbook:
        back = [each for row in sheet.iter_rows(max_row=3) for each in row if each.hyperlink]
        assert [each.hyperlink.location for each in back] == ["'Contents'!A1"] * (sheet.title != "Contents")
    assert workbook["Summary"]["J1"].value == "‹ Contents"


def test_on_tables_the_first_heading_leads_back_so_that_no_cell_is_added() -> None:
    heading = opened(small_board())["Grades"]["A1"]
    assert (heading.value, heading.font.underline) == ("coupon", "single")
    assert heading.fill.fgColor.rgb[2:] == HEAD_FILL  # light, because programs show links in dark ink


def test_the_cover_shows_the_shop_with_its_logo_and_how_to_reach_it() -> None:
    shop = Shop("Smith & Daughter", "2 Harbour Lane\n01234", a_png(80, 40))
    cover_sheet = load_workbook(io.BytesIO(workbook_bytes(ReportContent(small_board(), MADE, shop=shop))))["Cover"]
    assert {"Smith & Daughter", "2 Harbour Lane\n01234"} <= set(texts(cover_sheet))
    (logo,) = cover_sheet._images
    assert (logo.width, logo.height) == (80, 40)


def a_png(width: int, height: int) -> bytes:
    out = io.BytesIO()
    Image.new("RGB", (width, height), "navy").save(out, "PNG")
    return out.getvalue()


def test_dates_in_cells_are_written_as_chosen_and_stay_dates() -> None:
    content = ReportContent(small_board(), MADE, choice=ReportChoice(writing=writing_named("points")))
    workbook = load_workbook(io.BytesIO(workbook_bytes(content)))
    formats = {
        cell.number_format
        for sheet in workbook
        for row in sheet.iter_rows()
        for cell in row
        if getattr(cell, "is_date", False)
    }
    assert formats
    assert all("dd.mm.yyyy" in each for each in formats)


def test_a_part_that_is_not_chosen_is_left_out() -> None:
    choice = ReportChoice(parts=frozenset({"histories"}))
    workbook = load_workbook(io.BytesIO(workbook_bytes(ReportContent(small_board(), MADE, choice=choice))))
    assert workbook.sheetnames == ["Cover", "Contents", "History", "By inspection", "Chart data"]


def test_an_ampersand_in_a_name_is_no_code_in_the_header() -> None:
    made = BoardBuilder(Board("A & B &P " + "n" * 900))
    text = opened(made.record)["Cover"].oddHeader.left.text
    assert text.startswith("A && B &&P nnn")
    assert len(text) <= 84


def test_a_wide_board_is_shared_out_over_pages_that_can_be_read() -> None:
    made = BoardBuilder(Board("Wide", rows=20, columns=40))
    made.coupon("C01", "T40")
    sheet = opened(made.record)["Board map"]
    assert (sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight) == (4, 4)
    assert sheet.print_title_cols == "$A:$B"
    assert sheet.cell(6 + 19 * 4, 42).value == "C01"


def test_short_says_that_it_cut() -> None:
    assert short("a  b\nc", 10) == "a b c"
    assert short("n" * 400, 10) == "n" * 9 + "…"


def test_wide_characters_count_twice_and_heights_are_bounded() -> None:
    assert lines_of("🧲" * 100, 50) > lines_of("n" * 100, 50)
    assert row_height([("n" * 5000, 20)], most_lines=8) == row_height([("n" * 9000, 20)], most_lines=8)


def test_an_infinite_cost_does_not_break_the_file() -> None:
    made = BoardBuilder()
    made.treatment("T1", cost_per_m2=float("inf"))
    assert opened(made.record)["Treatments"]["I2"].value == "inf"
