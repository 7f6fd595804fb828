"""The sheet of mean grades by treatment and inspection."""

import math
from io import BytesIO

import openpyxl
import pytest
from report_boards import MADE, small_board

from rustboard.report.groups import groups
from rustboard.report.means_sheet import mean_grades
from rustboard.report.workbook import workbook_bytes


def test_the_means_are_those_of_the_current_grades_of_each_inspection() -> None:
    record = small_board()
    sorted_coupons = groups(record)
    means = mean_grades(record, sorted_coupons)
    for key, row in means.iterrows():
        for group in sorted_coupons:
            given = [record.grading(each.key, int(key)) for each in group.coupons]
            grades = [each.grade for each in given if each is not None]
            if grades:
                assert row["mean", group.title] == pytest.approx(sum(grades) / len(grades))
                assert row["count", group.title] == len(grades)
            else:
                assert math.isnan(row["mean", group.title])


def test_every_inspection_with_a_grade_has_a_row_in_time_order() -> None:
    record = small_board()
    sheet = openpyxl.load_workbook(BytesIO(workbook_bytes(record, generated=MADE)))["By inspection"]
    shown = [row[0].value for row in sheet.iter_rows(min_row=4)]
    graded = {key for given in record.current.values() for key in given}
    assert shown == [each.at for each in record.inspections_in_order() if each.key in graded]


def test_a_mean_of_fewer_coupons_than_the_treatment_has_is_marked() -> None:
    record = small_board()
    sorted_coupons = groups(record)
    means = mean_grades(record, sorted_coupons)
    sheet = openpyxl.load_workbook(BytesIO(workbook_bytes(record, generated=MADE)))["By inspection"]
    marked = 0
    for at, (_, row) in enumerate(means.iterrows(), start=4):
        for number, group in enumerate(sorted_coupons, start=3):
            cell = sheet.cell(at, number)
            if cell.value is not None:
                partial = row["count", group.title] < len(group.coupons)
                assert ("*" in cell.number_format) == partial
                marked += partial
    assert marked
