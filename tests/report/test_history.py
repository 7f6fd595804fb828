"""The history charts and the numbers behind them."""

from __future__ import annotations

import io
from collections.abc import Sequence
from itertools import pairwise

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from openpyxl import load_workbook
from report_boards import MADE, BoardBuilder, door_board, hostile_board, small_board
from workbook_reading import XDR, C, charts_of, drawing_of, histories, opened, rows, texts, value

from rustboard.board.model import Board
from rustboard.report.axis_steps import day_axis
from rustboard.report.chart_data import steps
from rustboard.report.charts import MOST_LINES, markers
from rustboard.report.choice import ReportChoice
from rustboard.report.content import ReportContent
from rustboard.report.history_sheet import NOTHING_YET
from rustboard.report.workbook import workbook_bytes

GRADES = st.none() | st.integers(0, 10)
EMU_A_POINT = 12_700
ROW_POINTS = 15


def test_each_treatment_has_a_chart_of_its_coupons_after_the_chart_of_all_means() -> None:
    charts = charts_of(small_board())
    assert [chart.title for chart in charts] == [
        "All treatments, mean of the coupons graded",
        "T1 hot beeswax blend",
        "T2 baked linseed oil",
        "Control, no treatment noted",
    ]
    assert [len(chart.series) for chart in charts] == [3, 2, 1, 1]


def test_a_demo_sized_board_has_one_line_a_replicate() -> None:
    assert [len(chart.series) for chart in charts_of(door_board())] == [7, 3] + [3] * 7


@pytest.mark.parametrize("board", [small_board, door_board, hostile_board])
def test_every_chart_shows_its_axes_named_with_grade_10_at_the_top(board) -> None:  # type: ignore[no-untyped-def]
    for chart in charts_of(board()):
        days, grades = chart.axes
        assert not days.hidden
        assert not grades.hidden
        assert days.title == "Days of exposure"
        assert grades.title in {"Rust grade", "Mean rust grade"}
        assert (grades.least, grades.most, grades.unit) == (0, 10, 1)
        assert days.unit == int(days.unit) >= 1
        assert chart.blanks_as == "gap"


def test_series_point_at_their_column_of_the_chart_data() -> None:
    record = small_board()
    data = opened(record)["Chart data"]
    for chart in charts_of(record)[1:]:
        for name, days, grades in chart.references:
            letter = name.split("$")[1]
            assert name == f"'Chart data'!${letter}$2"
            assert days == "'Chart data'!$A$3:$A$9"
            assert grades == f"'Chart data'!${letter}$3:${letter}$9"
            assert data[f"{letter}1"].value == chart.title


def test_the_chart_data_hold_steps_with_blanks_where_a_coupon_was_not_graded() -> None:
    sheet = opened(small_board())["Chart data"]
    _, head, *points = rows(sheet)
    assert head[:7] == ("days", "inspected", "point", "C01 (A1)", "C02 (A2)", "C03 (A3)", "C04 (A4)")
    # C02 was not graded on day 7.5: neither what it held until then nor what it held after is known.
    assert [(row[0], row[2], row[3], row[4]) for row in points] == [
        (0, "inspection", 10, 10),
        (3, "held until here", 10, 10),
        (3, "inspection", 10, 9),
        (7.5, "held until here", 10, None),
        (7.5, "inspection", 9, None),
        (14, "held until here", 9, None),
        (14, "inspection", 8, 7),
    ]


def test_a_mean_is_taken_over_the_coupons_graded_at_that_inspection() -> None:
    _, head, *points = rows(opened(small_board())["Chart data"])
    assert head[7] == "T1 hot beeswax blend"
    # Day 3: 10 and 9; day 7.5: only C01's 9; day 14: 8 and 7.
    assert [row[7] for row in points if row[2] == "inspection"] == [10, 9.5, 9, 7.5]


@given(st.lists(GRADES, max_size=30))
def test_steps_show_each_grade_at_its_inspection_and_never_cross_a_gap(grades: Sequence[int | None]) -> None:
    points = steps(grades)
    assert len(points) == max(0, 2 * len(grades) - 1)
    assert points[::2] == list(grades)
    for before, held, after in zip(grades, points[1::2], grades[1:], strict=False):
        assert held == (None if after is None else before)


@given(st.lists(GRADES, max_size=90))
def test_a_marker_stands_only_where_a_coupon_was_graded_and_no_point_goes_unseen(
    grades: Sequence[int | None],
) -> None:
    points = steps(grades)
    usual, exceptions = markers(grades)
    marked = {at for at, value in enumerate(points) if value is not None and (at in exceptions) != usual}
    inspected = {at for at in range(0, len(points), 2) if points[at] is not None}
    # A held point with a marker lies exactly on the marker of its inspection.
    assert all(at in inspected or (at + 1 in inspected and points[at] == points[at + 1]) for at in marked)
    drawn = {at for at in range(len(points) - 1) if points[at] is not None and points[at + 1] is not None}
    reached_by_a_line = drawn | {at + 1 for at in drawn}
    assert inspected <= marked | reached_by_a_line
    if len(grades) <= 60:
        assert inspected <= marked


@example([13.0, -5e-324])
@given(st.lists(st.floats(-400, 4_000), min_size=1, max_size=20))
def test_the_time_axis_holds_every_inspection_in_whole_days(days: list[float]) -> None:
    least, most, unit = day_axis(days)
    assert least <= min(0, *days)
    assert max(days) <= most
    assert least < most
    assert (least % unit, most % unit) == (0, 0)
    assert (most - least) / unit <= 14


def test_many_replicates_are_shared_out_among_charts_that_can_be_read() -> None:
    made = BoardBuilder(Board("Long", rows=3, columns=9))
    wax = made.treatment("T1", name="wax")
    made.histories((0, 1), {made.coupon(f"C{n}", f"{'ABC'[n // 9]}{n % 9 + 1}", wax): (10, 9) for n in range(25)})
    charts = charts_of(made.record)
    assert [chart.title for chart in charts[1:]] == [f"T1 wax ({n} of 4)" for n in (1, 2, 3, 4)]
    assert [len(chart.series) for chart in charts[1:]] == [7, 7, 7, 4]
    assert max(len(chart.series) for chart in charts) <= MOST_LINES


def test_charts_neither_overlap_nor_straddle_a_page_break() -> None:
    record = hostile_board()
    sheet = opened(record)["History"]
    content = workbook_bytes(ReportContent(record, MADE))
    spans = []
    for anchor in drawing_of(content).iter(f"{XDR}oneCellAnchor"):
        extent = anchor.find(f"{XDR}ext")
        assert extent is not None
        top = int(anchor.findtext(f"{XDR}from/{XDR}row", ""))
        spans.append((top, top + int(extent.get("cy", "")) / EMU_A_POINT / ROW_POINTS))
    assert len(spans) > 10
    assert all(bottom <= next_top for (_, bottom), (next_top, _) in pairwise(spans))
    breaks = [each.id for each in sheet.row_breaks.brk]
    assert len(breaks) >= 5
    assert all(not top < each < bottom for top, bottom in spans for each in breaks)


def test_every_chart_says_in_words_what_it_shows() -> None:
    content = workbook_bytes(ReportContent(small_board(), MADE))
    frames = list(drawing_of(content).iter(f"{XDR}cNvPr"))
    assert [frame.get("name") for frame in frames][:2] == [
        "History 1: All treatments, mean of the coupons graded",
        "History 2: T1 hot beeswax blend",
    ]
    assert frames[1].get("descr") == (
        "Step chart of rust grade against days of exposure, T1 hot beeswax blend. "
        "C01 (A1): 10 on day 0, 8 on day 14; C02 (A2): 10 on day 0, 7 on day 14."
    )


def test_lines_let_those_under_them_show() -> None:
    for chart in charts_of(small_board()):
        for series in chart.series:
            assert any(each.tag.endswith("}alpha") for each in series.find(f"{C}spPr").iter())  # type: ignore[union-attr]
            assert value(series, "smooth") == "0"


def test_coupons_never_graded_get_no_line_and_a_treatment_never_graded_no_chart() -> None:
    made = BoardBuilder()
    wax, oil = made.treatment("T1"), made.treatment("T2")
    graded = made.coupon("C01", "A1", wax)
    made.coupon("C02", "A2", wax)
    made.coupon("C03", "A3", oil)
    made.grade(graded, made.inspection(0), 9)
    assert [(chart.title, len(chart.series)) for chart in charts_of(made.record)] == [
        ("All treatments, mean of the coupons graded", 1),
        ("T1", 1),
    ]


def test_an_ungraded_board_says_what_to_do_instead_of_drawing() -> None:
    record = BoardBuilder().record
    assert charts_of(record) == []
    assert NOTHING_YET in texts(opened(record)["History"])


def test_a_coupon_off_the_board_keeps_its_history() -> None:
    made = BoardBuilder()
    wax = made.treatment("T1")
    made.histories((0, 2), {made.coupon("C09", None, wax): (10, 4)})
    _, head, *points = rows(opened(made.record)["Chart data"])
    assert head[3] == "C09 (off the board)"
    assert [row[3] for row in points] == [10, 10, 4]


def test_inspections_before_the_stated_start_have_negative_days_on_the_axis() -> None:
    made = BoardBuilder()
    made.histories((-3, 2), {made.coupon("C01", "A1"): (10, 9)})
    days = charts_of(made.record)[0].axes[0]
    assert (days.least, days.most) == (-3, 2)


def test_along_another_clock_an_inspection_without_a_place_is_not_drawn() -> None:
    made = BoardBuilder()
    made.histories((0, 7, 14), {made.coupon("C01", "A1"): (10, 8, 6)})
    first, second, third = (each.key for each in made.record.inspections_in_order())
    content = ReportContent(
        made.record, MADE, choice=ReportChoice(clock="wet hours"), places={first: 0.0, second: None, third: 91.5}
    )
    data = workbook_bytes(content)
    for chart in histories(data):
        assert chart.axes[0].title == "Wet hours"
        assert chart.axes[0].most >= 91.5
    _, _, *points = rows(load_workbook(io.BytesIO(data))["Chart data"])
    # Neither the grade of the middle inspection nor what would be held until it: a blank cell, which breaks the line.
    assert [(row[0], row[3]) for row in points if row[0] is not None] == [(0, 10), (91.5, None), (91.5, 6)]
    assert [row[3] for row in points if row[0] is None] == [None, None]
