"""The sheet of agreement: there where anything can be told, sentences first, then figures as numbers."""

from __future__ import annotations

import io
from datetime import datetime

import pytest
from graded_blind import bare_record, put_blind
from openpyxl import Workbook, load_workbook
from report_boards import HOSTILE, MADE
from workbook_reading import SHEETS, rows, texts

from rustboard.board.record import BoardRecord
from rustboard.report.blind_sheet import SHEET as BLIND
from rustboard.report.content import ReportContent
from rustboard.report.tidy import cell_text
from rustboard.report.workbook import workbook_bytes
from rustboard.session.agreement_report import agreement_content
from rustboard.session.jobs import Progress
from rustboard.session.reporting import write_report

SHEET = "Agreement"


def opened_with(record: BoardRecord) -> Workbook:
    content = agreement_content(record)
    return load_workbook(io.BytesIO(workbook_bytes(ReportContent(record, MADE, agreement=content))))


def two_graders() -> BoardRecord:
    first = {"Ann": [9, 7, 5, 2], "Bo": [9, 6, 1, 2]}
    return put_blind(bare_record(4), 1, first, {"Ann": [9, 7, 6, 1]})


@pytest.mark.parametrize(
    "record",
    [
        bare_record(),
        put_blind(bare_record(2), 1, {"Ann": [7, 8]}),
        put_blind(bare_record(2), 1, {"Ann": [7, 8], "Bo": [1, 2]}, revealed=False),
    ],
)
def test_without_anything_to_compare_there_is_no_such_sheet(record: BoardRecord) -> None:
    assert agreement_content(record) is None
    assert SHEET not in opened_with(record).sheetnames


def test_it_stands_behind_the_coupons() -> None:
    names = opened_with(two_graders()).sheetnames
    assert names[names.index("Coupons") + 1] == SHEET
    assert [each for each in names if each not in (SHEET, BLIND)] == list(SHEETS)


def test_sentences_come_first_then_figures_then_coupons() -> None:
    read = texts(opened_with(two_graders())[SHEET])
    order = ["One grader twice", "Graders with one another", "Look again", "Figures", "Coupons they differ on"]
    assert [each for each in read if each in order] == order
    assert any(each.startswith("Ann looked twice at 4 coupons") for each in read)


def test_figures_are_numbers_and_what_cannot_be_had_is_empty() -> None:
    found = {row[0]: row[1:] for row in rows(opened_with(two_graders())[SHEET])}
    assert found["Ann and Bo"][:3] == (4, 2, 3)
    assert found["Ann and Bo"][12] == 1.25  # by hand: 0, 1, 4 and 0
    assert found["Ann and second look"][:3] == (4, 2, 4)
    assert found["All 2 graders"][0] == 4
    assert found["All 2 graders"][1:9] == (None,) * 8
    assert 0 < found["All 2 graders"][9] < 1
    alike = put_blind(bare_record(2), 1, {"Ann": [7, 7], "Bo": [7, 7]})
    assert {row[0]: row[4] for row in rows(opened_with(alike)[SHEET])}["Ann and Bo"] is None


def test_each_differing_coupon_has_its_line_the_widest_first() -> None:
    lines = [row for row in rows(opened_with(two_graders())[SHEET]) if str(row[0]).startswith("C0")]
    assert [row[0] for row in lines] == ["C03", "C02", "C04"]
    assert lines[0][1] == "A3"
    assert lines[0][3] == datetime(2026, 3, 2, 9)
    assert lines[0][5] == "Ann 5, then 6, Bo 1"
    assert lines[0][10:14] == (None, 1, 1, "by the rule")


def test_hostile_names_stay_text() -> None:
    names = [cell_text(each) or "none" for each in HOSTILE[:8]]
    record = put_blind(bare_record(2), 1, {name: [7, number % 10] for number, name in enumerate(names)})
    sheet = opened_with(record)[SHEET]
    assert all(cell.data_type != "f" for row in sheet.iter_rows() for cell in row)
    assert any(names[0] in text for text in texts(sheet))


def test_the_workbook_from_the_window_has_it_too(tmp_path) -> None:
    path = write_report(two_graders(), tmp_path / "a.xlsx", MADE, "Ann", Progress())
    assert SHEET in load_workbook(path).sheetnames
