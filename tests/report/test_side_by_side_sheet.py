"""The sheet of the order side by side: when it is there and what it holds."""

from __future__ import annotations

import io

import pytest
from openpyxl import load_workbook
from report_boards import HOSTILE, MADE, BoardBuilder, small_board
from workbook_reading import SHEETS, opened, rows, texts

from rustboard.report.content import ReportContent
from rustboard.report.side_by_side_sheet import ComparedCoupon
from rustboard.report.tidy import cell_text
from rustboard.report.workbook import workbook_bytes

SHEET = "Side by side"


def with_order(record, *compared: ComparedCoupon):
    return load_workbook(io.BytesIO(workbook_bytes(ReportContent(record, MADE, compared=compared))))


def two_coupons():
    builder = BoardBuilder()
    builder.treatment("T1", name="hot wax")
    builder.coupon("C1", "A1", 1)
    builder.coupon("C2", "A2", 1)
    builder.inspection(1)
    builder.grade(1, 1, 8, letter="S")
    return builder.record


ORDER = (
    ComparedCoupon(1, 1, 1, 1.25, -0.5, 3.0, 4, (2,), "chosen as less rusted than its grade says, by 1 place"),
    ComparedCoupon(1, 2, 2, -1.25, -3.0, 0.5, 4, (1,)),
)


def test_a_board_without_choices_has_no_such_sheet() -> None:
    assert SHEET not in opened(small_board()).sheetnames


def test_it_stands_before_the_method() -> None:
    names = with_order(two_coupons(), *ORDER).sheetnames
    assert names[names.index("Method and cautions") - 1] == SHEET
    assert [each for each in names if each != SHEET] == list(SHEETS)


def test_each_coupon_is_a_row_with_strength_grade_and_remark() -> None:
    record = two_coupons()
    head, best, second = rows(with_order(record, *ORDER)[SHEET])
    at = record.inspections[1].at
    wanted = {
        "Inspection": at,
        "Place, 1 = least rusted": 1,
        "Coupon": "C1",
        "Treatment": "hot wax",
        "Strength, log-odds": 1.25,
        "95 % from": -0.5,
        "to": 3,
        "Comparisons": 4,
        "Grade": "8-S",
        "Not told apart from": "C2",
        "Remark": ORDER[0].remark,
    }
    assert dict(zip(head, best, strict=True)) == wanted
    assert second[:3] == (at, 2, "C2")
    assert second[4:] == (-1.25, -3, 0.5, 4, None, "C1", None)


def test_many_that_are_alike_are_counted() -> None:
    builder = BoardBuilder()
    for number in range(20):
        builder.coupon(f"C{number + 1}", None)
    builder.inspection(1)
    row = ComparedCoupon(1, 1, 1, 0.0, -1.0, 1.0, 2, tuple(range(2, 21)))
    _, found = rows(with_order(builder.record, row)[SHEET])
    assert found[9].endswith("C13, and 7 more")


def test_the_method_says_what_strengths_are_where_there_are_any() -> None:
    method = "Method and cautions"
    assert any("Bradley and Terry" in text for text in texts(with_order(two_coupons(), *ORDER)[method]))
    assert not any("Bradley and Terry" in text for text in texts(opened(two_coupons())[method]))


@pytest.mark.parametrize("name", HOSTILE)
def test_what_a_user_wrote_stays_text(name: str) -> None:
    builder = BoardBuilder()
    builder.coupon(name, "A1")
    builder.inspection(1)
    sheet = with_order(builder.record, ComparedCoupon(1, 1, 1, 0.0, -1.0, 1.0, 2))[SHEET]
    cell = sheet.cell(2, 3)
    assert cell.data_type == "s"
    assert cell.value == cell_text(name)
