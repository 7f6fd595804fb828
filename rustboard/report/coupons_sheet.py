"""The coupons: where each hangs, what it got, what it is made of."""

from __future__ import annotations

from datetime import datetime
from typing import Final

from openpyxl.worksheet.worksheet import Worksheet

from rustboard.board.left_out import LeftOut
from rustboard.board.model import Coupon
from rustboard.board.outline import area_mm2
from rustboard.board.record import BoardRecord, left_out_by_coupon
from rustboard.report.cells import Value
from rustboard.report.choice import WRITINGS, Writing
from rustboard.report.page_setup import PageStyle, set_page
from rustboard.report.styles import TABLE_NUMBER
from rustboard.report.tables import Column, write_table

COLUMNS: Final = (
    Column("Coupon", 16),
    Column("Position", 10),
    Column("Treatment", 14),
    Column("Role", 10),
    Column("Substrate", 24),
    Column("Outline area, mm²", 12, TABLE_NUMBER),
    Column("Note", 50),
)
LEFT_OUT: Final = Column("Left out of the findings because", 40)
"""Before the note, where any is."""
_REASON_LINES: Final = 17
"""The longest reason is printed whole."""


def write_coupons(sheet: Worksheet, record: BoardRecord, page: PageStyle, writing: Writing = WRITINGS[0]) -> None:
    """Write one row a coupon, as one reads the board; the position of one off the board is blank.

    Where any coupon is left out of the findings, a column says which, why, by whom and when.
    """
    rows = [_row(record, each) for each in record.coupons_in_order()]
    if not record.left_out:
        write_table(sheet, "Coupons", COLUMNS, rows)
    else:
        left_out = left_out_by_coupon(record)
        why = [_why(left_out.get(each.key), writing) for each in record.coupons_in_order()]
        marked = [(*row[:-1], reason, row[-1]) for row, reason in zip(rows, why, strict=True)]
        columns = (*COLUMNS[:-1], LEFT_OUT, COLUMNS[-1])
        write_table(sheet, "Coupons", columns, marked, most_lines=_REASON_LINES)
    set_page(sheet, page, repeat_rows="1:1")


def _why(left_out: LeftOut | None, writing: Writing) -> str:
    if left_out is None:
        return ""
    known = ", ".join(each for each in (left_out.who, _day(left_out.recorded, writing)) if each)
    return f"{left_out.reason} ({known})" if known else left_out.reason


def _day(recorded: str, writing: Writing) -> str:
    try:
        return writing.day(datetime.fromisoformat(recorded))
    except ValueError:  # a stranger's file holds any text here
        return recorded[: len("2026-03-02")]


def _row(record: BoardRecord, coupon: Coupon) -> tuple[Value, ...]:
    treatment = record.treatment_of(coupon)
    return (
        coupon.id,
        None if coupon.position is None else coupon.position.label,
        None if treatment is None else treatment.id,
        coupon.role,
        coupon.substrate,
        round(area_mm2(coupon.outline_mm), 1) if coupon.outline_mm else None,
        coupon.note,
    )
