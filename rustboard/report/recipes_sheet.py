"""The recipes step by step: what was used, how much, how long, by whom, and what a step costs."""

from __future__ import annotations

from typing import Final

from openpyxl.worksheet.worksheet import Worksheet

from rustboard.board.recipe import Recipe, RecipeStep
from rustboard.board.recipe_cost import step_cost, usual_area_mm2
from rustboard.board.recipe_words import KIND_WORDS, UNIT_WORDS
from rustboard.board.record import BoardRecord
from rustboard.report.cells import Value
from rustboard.report.page_setup import PageStyle, set_page
from rustboard.report.styles import TABLE_AMOUNT, TABLE_NUMBER, Look
from rustboard.report.tables import Column, write_table

SHEET: Final = "Recipes"

_UP_TO_FOUR: Final = Look(alignment=TABLE_NUMBER.alignment, number_format="0.00##")
"""One coupon takes little, and its cost would be 0.00 with two decimals."""
_UP_TO_TWO: Final = Look(alignment=TABLE_NUMBER.alignment, number_format="0.##")

COLUMNS: Final = (
    Column("Treatment", 11),
    Column("Name", 22),
    Column("Step", 6, TABLE_NUMBER),
    Column("What", 17),
    Column("Product", 24),
    Column("Batch", 12),
    Column("Quantity", 9, _UP_TO_FOUR),
    Column("Unit", 13),
    Column("Minutes", 9, _UP_TO_TWO),
    Column("Work or waiting", 10),
    Column("Temperature °C", 12, _UP_TO_TWO),
    Column("Who", 12),
    Column("Cost per coupon", 9, _UP_TO_FOUR),
    Column("Cost per m²", 9, TABLE_AMOUNT),
    Column("Cost not known because", 26),
    Column("Library version", 13),
    Column("Note", 30),
)


def has_recipes(record: BoardRecord) -> bool:
    """Return whether any step was written down."""
    return any(each.recipe.steps for each in record.recipes.values())


def write_recipes(sheet: Worksheet, record: BoardRecord, page: PageStyle) -> None:
    """Write one row a step, treatment by treatment in the order they were made.

    Cost is in the shop's own currency, on both faces of a coupon; where it is not known the reason stands beside it.
    """
    rows: list[tuple[Value, ...]] = []
    for key, treatment in sorted(record.treatments.items()):
        recipe = record.recipe_of(key)
        if not recipe.steps:
            continue
        area = usual_area_mm2(record, key)
        for number, step in enumerate(recipe.steps, start=1):
            rows.append((treatment.id, treatment.name, number, *_cells(step, area), _version(recipe), step.note))
    write_table(sheet, SHEET, COLUMNS, rows)
    set_page(sheet, page, landscape=True, repeat_rows="1:1")


def _cells(step: RecipeStep, area: float | None) -> tuple[Value, ...]:
    cost = step_cost(step, area)
    per = "for a coupon" if step.per == "coupon" else "for a m²"
    return (
        KIND_WORDS[step.kind],
        step.product,
        step.batch,
        step.quantity,
        "" if step.quantity is None else f"{UNIT_WORDS[step.unit]} {per}",
        step.minutes,
        "" if step.minutes is None else ("work" if step.hands_on else "waiting"),
        step.temperature_c,
        step.who,
        cost.per_coupon,
        cost.per_m2,
        cost.reason,
    )


def _version(recipe: Recipe) -> Value:
    if not recipe.library_id:
        return ""
    return recipe.version or "changed since"
