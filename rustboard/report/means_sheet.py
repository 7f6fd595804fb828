"""Treatments against inspections: the mean grade of the replicates graded each time, and how many they were."""

from __future__ import annotations

from typing import Final

import pandas as pd
from openpyxl.worksheet.worksheet import Worksheet

from rustboard.board.record import BoardRecord
from rustboard.report.cells import Value, put, set_widths
from rustboard.report.groups import Group
from rustboard.report.page_setup import PageStyle, set_page
from rustboard.report.styles import (
    CELL,
    CELL_MEAN,
    COLUMN_HEAD,
    COLUMN_HEAD_RIGHT,
    DAYS,
    QUIET_UNWRAPPED,
    WHEN,
    graded,
)

EXPLANATION: Final = (
    "Mean grade of the coupons graded at each inspection. * counts fewer coupons than the treatment has; a blank "
    "cell: none was graded."
)
_HEAD_ROW: Final = 3


def write_means(
    sheet: Worksheet, record: BoardRecord, sorted_coupons: list[Group], means: pd.DataFrame, page: PageStyle
) -> None:
    """Write one row an inspection and one column a treatment; ``means`` are `mean_grades`."""
    put(sheet, 1, 1, EXPLANATION, QUIET_UNWRAPPED)
    put(sheet, _HEAD_ROW, 1, "Inspection", COLUMN_HEAD)
    put(sheet, _HEAD_ROW, 2, "Day", COLUMN_HEAD_RIGHT)
    for number, group in enumerate(sorted_coupons, start=3):
        put(sheet, _HEAD_ROW, number, group.title, COLUMN_HEAD)
    sheet.row_dimensions[_HEAD_ROW].height = 44
    set_widths(sheet, {1: 17, 2: 8, **dict.fromkeys(range(3, 3 + len(sorted_coupons)), 15)})
    sheet.freeze_panes = f"C{_HEAD_ROW + 1}"
    _write_rows(sheet, record, sorted_coupons, means)
    set_page(sheet, page, repeat_rows=f"{_HEAD_ROW}:{_HEAD_ROW}")


def _write_rows(sheet: Worksheet, record: BoardRecord, sorted_coupons: list[Group], means: pd.DataFrame) -> None:
    for at, (key, values) in enumerate(means.iterrows(), start=_HEAD_ROW + 1):
        inspection = record.inspections[int(str(key))]
        put(sheet, at, 1, inspection.at, WHEN)
        put(sheet, at, 2, record.day_of(inspection.at), DAYS)
        for number, group in enumerate(sorted_coupons, start=3):
            mean, count = values["mean", number - 3], values["count", number - 3]
            if pd.isna(mean):
                put(sheet, at, number, None, CELL)
                continue
            look = graded(CELL_MEAN, round(float(mean)))
            value: Value = float(mean)
            put(sheet, at, number, value, look)
            if count < len(group.coupons):
                sheet.cell(at, number).number_format = '0.0"*"'
