"""The damage noted beside the grades: one row for each kind of each coupon at each inspection."""

from __future__ import annotations

from typing import Final

from openpyxl.worksheet.worksheet import Worksheet

from rustboard.board.damage import SEVERITY_WORDS, Damage
from rustboard.board.damages_noted import damages_in_order
from rustboard.board.model import Coupon, Inspection
from rustboard.board.record import BoardRecord
from rustboard.report.cells import Value
from rustboard.report.page_setup import PageStyle, set_page
from rustboard.report.styles import TABLE_NUMBER, WHEN, Look
from rustboard.report.tables import Column, write_table
from rustboard.scales.damage_ratings import creep_of, rating_of_noted

SHEET: Final = "Damage"

_UP_TO_THREE: Final = Look(alignment=TABLE_NUMBER.alignment, number_format="0.###")
DAMAGE_NAMES: Final = {
    "edge rust": "edge rust",
    "stain": "stain from a neighbour",
    "blisters": "blisters",
    "peeling": "peeling",
    "creep": "creep from a scribe",
}

COLUMNS: Final = (
    Column("Inspection", 17, WHEN),
    Column("Coupon", 14),
    Column("Treatment", 12),
    Column("Kind", 20),
    Column("Percent", 9, _UP_TO_THREE),
    Column("Severity", 12),
    Column("Mean creep mm", 9, _UP_TO_THREE),
    Column("Rating", 8, TABLE_NUMBER),
    Column("Scale", 14),
    Column("As the scale writes it", 12),
    Column("Grader", 16),
    Column("Note", 40),
)


def has_damage(record: BoardRecord) -> bool:
    """Return whether any damage is noted."""
    return bool(record.damages)


def write_damage(sheet: Worksheet, record: BoardRecord, page: PageStyle) -> None:
    """Write one row for each kind of damage that counts: by time, then as one reads the board.

    The percent of edge rust is of the length of the edges, of the others of the surface.
    """
    write_table(sheet, SHEET, COLUMNS, [_row(record, *each) for each in damages_in_order(record)])
    set_page(sheet, page, landscape=True, repeat_rows="1:1")


def _row(record: BoardRecord, inspection: Inspection, coupon: Coupon, damage: Damage) -> tuple[Value, ...]:
    treatment = record.treatment_of(coupon)
    rating = rating_of_noted(damage)
    # Where the scale writes the bare number, that stands in its column already.
    written = "" if rating is None or rating.notation == str(rating.rating) else rating.notation
    return (
        inspection.at,
        coupon.id,
        None if treatment is None else treatment.id,
        DAMAGE_NAMES.get(damage.kind, damage.kind),
        damage.percent,
        SEVERITY_WORDS.get(damage.severity, damage.severity),
        creep_of(damage),
        None if rating is None else rating.rating,
        None if rating is None else rating.scale,
        written,
        damage.grader,
        damage.note,
    )
