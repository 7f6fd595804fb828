"""The sheet of mean grades by treatment and inspection."""

import math
from dataclasses import replace
from io import BytesIO

import openpyxl
import pytest
from report_boards import MADE, small_board

from rustboard.report.content import ReportContent
from rustboard.report.groups import groups
from rustboard.report.means import mean_grades
from rustboard.report.workbook import workbook_bytes


def test_the_means_are_those_of_the_current_grades_of_each_inspection() -> None:
    record = small_board()
    sorted_coupons = groups(record)
    means = mean_grades(record, sorted_coupons)
    for key, row in means.iterrows():
        for number, group in enumerate(sorted_coupons):
            given = [record.grading(each.key, int(key)) for each in group.coupons]
            grades = [each.grade for each in given if each is not None]
            if grades:
                assert row["mean", number] == pytest.approx(sum(grades) / len(grades))
                assert row["count", number] == len(grades)
            else:
                assert math.isnan(row["mean", number])


def test_treatments_that_read_alike_keep_their_own_columns() -> None:
    record = small_board()
    first, second = (each for each in list(record.treatments.values())[:2])
    record.treatments[first.key] = replace(first, id="W1", name="wax blend")
    record.treatments[second.key] = replace(second, id="W1 wax", name="blend")
    sorted_coupons = groups(record)
    assert sorted_coupons[0].title == sorted_coupons[1].title
    sheet = openpyxl.load_workbook(BytesIO(workbook_bytes(ReportContent(record, MADE))))["By inspection"]
    assert [cell.value for cell in sheet[3]][2:4] == [sorted_coupons[0].title] * 2


def test_every_inspection_with_a_grade_has_a_row_in_time_order() -> None:
    record = small_board()
    sheet = openpyxl.load_workbook(BytesIO(workbook_bytes(ReportContent(record, MADE))))["By inspection"]
    shown = [row[0].value for row in sheet.iter_rows(min_row=4)]
    graded = {key for given in record.current.values() for key in given}
    assert shown == [each.at for each in record.inspections_in_order() if each.key in graded]


def test_a_mean_of_fewer_coupons_than_the_treatment_has_is_marked() -> None:
    record = small_board()
    sorted_coupons = groups(record)
    means = mean_grades(record, sorted_coupons)
    sheet = openpyxl.load_workbook(BytesIO(workbook_bytes(ReportContent(record, MADE))))["By inspection"]
    marked = 0
    for at, (_, row) in enumerate(means.iterrows(), start=4):
        for number, group in enumerate(sorted_coupons, start=3):
            cell = sheet.cell(at, number)
            if cell.value is not None:
                partial = row["count", number - 3] < len(group.coupons)
                assert ("*" in cell.number_format) == partial
                marked += partial
    assert marked
