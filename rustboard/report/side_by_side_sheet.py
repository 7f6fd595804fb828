"""The order of the coupons by choices side by side, beside their grades."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from openpyxl.worksheet.worksheet import Worksheet

from rustboard.board.grade import written
from rustboard.board.record import BoardRecord
from rustboard.report.cells import Value
from rustboard.report.page_setup import PageStyle, set_page
from rustboard.report.styles import PLAIN, TABLE_AMOUNT, TABLE_NUMBER, WHEN
from rustboard.report.tables import Column, write_table

SHEET: Final = "Side by side"
_TABLE: Final = "SideBySide"
_MOST_NAMED: Final = 12

COLUMNS: Final = (
    Column("Inspection", 16, WHEN),
    Column("Place, 1 = least rusted", 11, TABLE_NUMBER),
    Column("Coupon", 12),
    Column("Treatment", 22),
    Column("Strength, log-odds", 11, TABLE_AMOUNT),
    Column("95 % from", 9, TABLE_AMOUNT),
    Column("to", 9, TABLE_AMOUNT),
    Column("Comparisons", 12, TABLE_NUMBER),
    Column("Grade", 8, PLAIN),
    Column("Not told apart from", 30),
    Column("Remark", 44),
)


@dataclass(frozen=True, slots=True)
class ComparedCoupon:
    """One coupon in the order of one inspection.

    Attributes:
        inspection, coupon: keys.
        place: 1 = least rusted.
        strength, low, high: log-odds against the mean of the coupons compared, and the limits of its 95 % interval;
            higher = less rust.
        comparisons: how many choices the coupon was in.
        alike: keys of the coupons from which it cannot be told apart.
        remark: why to look at it again, or empty.
    """

    inspection: int
    coupon: int
    place: int
    strength: float
    low: float
    high: float
    comparisons: int
    alike: tuple[int, ...] = ()
    remark: str = ""


def write_side_by_side(
    sheet: Worksheet, record: BoardRecord, compared: Sequence[ComparedCoupon], page: PageStyle
) -> None:
    """Write one row a coupon, inspection by inspection, least rusted first."""
    write_table(sheet, _TABLE, COLUMNS, [_cells(record, each) for each in compared])
    set_page(sheet, page, landscape=True, repeat_rows="1:1")


def _cells(record: BoardRecord, compared: ComparedCoupon) -> tuple[Value, ...]:
    coupon = record.coupons[compared.coupon]
    treatment = record.treatment_of(coupon)
    grading = record.grading(coupon.key, compared.inspection)
    others = [record.coupons[key].id for key in compared.alike[:_MOST_NAMED]]
    if len(compared.alike) > _MOST_NAMED:
        others.append(f"and {len(compared.alike) - _MOST_NAMED} more")
    return (
        record.inspections[compared.inspection].at,
        compared.place,
        coupon.id,
        "" if treatment is None else treatment.title,
        compared.strength,
        compared.low,
        compared.high,
        compared.comparisons,
        "" if grading is None else written(grading.grade, grading.distribution),
        ", ".join(others),
        compared.remark,
    )
