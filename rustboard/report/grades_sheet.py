"""The sheet of all grades, cell for cell the same table as the CSV."""

from __future__ import annotations

from datetime import datetime
from typing import Final

from openpyxl.worksheet.worksheet import Worksheet

from rustboard.board.record import BoardRecord
from rustboard.report.cells import style_number
from rustboard.report.long_rows import LongRows
from rustboard.report.page_setup import PageStyle, set_page
from rustboard.report.styles import QUIET_UNWRAPPED, UNWRAPPED, WHEN
from rustboard.report.tables import Column, add_table, put_headings
from rustboard.report.tidy import COLUMNS, guarded, tidy_grades

_WIDTHS: Final = {
    "coupon": 14,
    "position": 9,
    "treatment": 12,
    "role": 9,
    "inspected": 17,
    "grade": 8,
    "distribution": 13,
    "percent": 10,
    "grader": 18,
    "source": 16,
    "note": 48,
}


def write_grades(sheet: Worksheet, record: BoardRecord, page: PageStyle) -> LongRows:
    """Set the sheet up and return its rows for `package.packed`."""
    put_headings(sheet, [Column(name, _WIDTHS[name]) for name in COLUMNS])
    rows = [
        tuple(each if isinstance(each, datetime) else guarded(each) for each in row) for row in tidy_grades(record)
    ]
    add_table(sheet, "Grades", COLUMNS, len(rows))
    set_page(sheet, page, landscape=True, repeat_rows="1:1")
    sheet.print_area = f"A1:K{max(len(rows), 1) + 1}"  # else a long note running on would shrink every page
    looks = {"inspected": WHEN, "note": QUIET_UNWRAPPED}
    styles = [style_number(sheet, looks.get(name, UNWRAPPED)) for name in COLUMNS]
    return LongRows(first_row=2, rows=rows, styles=styles, count=len(rows))
