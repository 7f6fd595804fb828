"""The recipes: every field of every treatment, and the coupons that got it."""

from __future__ import annotations

from typing import Final

from openpyxl.worksheet.worksheet import Worksheet

from rustboard.board.record import BoardRecord
from rustboard.report.cells import Value
from rustboard.report.groups import coupons_by_treatment
from rustboard.report.page_setup import PageStyle, set_page
from rustboard.report.styles import TABLE_AMOUNT, TABLE_NUMBER
from rustboard.report.tables import Column, write_table

COLUMNS: Final = (
    Column("Treatment", 11),
    Column("Name", 24),
    Column("Family", 12),
    Column("Preparation", 26),
    Column("Finish", 20),
    Column("Protectant", 22),
    Column("Coats", 7, TABLE_NUMBER),
    Column("Batch", 12),
    Column("Cost per m²", 9, TABLE_AMOUNT),
    Column("Minutes per m²", 9, TABLE_AMOUNT),
    Column("Coupons", 9, TABLE_NUMBER),
    Column("Which coupons", 26),
    Column("Note", 34),
)


def write_treatments(sheet: Worksheet, record: BoardRecord, page: PageStyle) -> None:
    """Write one row a treatment, in the order they were made; cost is in the shop's own currency."""
    coupons = coupons_by_treatment(record)
    rows: list[tuple[Value, ...]] = [
        (
            each.id,
            each.name,
            each.family,
            each.preparation,
            each.finish,
            each.protectant,
            each.coats,
            each.batch,
            each.cost_per_m2,
            each.minutes_per_m2,
            len(coupons.get(key, [])),
            ", ".join(coupons.get(key, [])),
            each.note,
        )
        for key, each in sorted(record.treatments.items())
    ]
    write_table(sheet, "Treatments", COLUMNS, rows)
    set_page(sheet, page, landscape=True, repeat_rows="1:1")
