"""The tidy table of treatments: one row a treatment with what it costs and what its recipe adds up to."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, NamedTuple

from rustboard.board.recipe import Recipe
from rustboard.board.recipe_cost import recipe_cost, step_name, usual_area_mm2
from rustboard.board.record import BoardRecord
from rustboard.report.groups import coupons_by_treatment

BETWEEN_STEPS: Final = "; "


class TreatmentRow(NamedTuple):
    """One treatment; the field names are the columns. Cost is in the shop's own currency.

    Attributes:
        coupons: how many got it. coupon_ids: which, with blanks between.
        cost_per_m2, minutes_per_m2: as stated for the treatment.
        recipe_steps: how many steps are written down. recipe: they in short, in order.
        recipe_cost_per_coupon, recipe_cost_per_m2: the sum of the steps whose cost is known.
        recipe_cost_complete: ``yes`` where that is all of them, ``no`` where not, empty without steps.
        recipe_minutes_per_coupon, recipe_minutes_per_m2: work by hand. recipe_waiting_minutes: drying and the like.
        recipe_version: of the recipe in the shop's own library.
    """

    treatment: str
    name: str
    family: str
    preparation: str
    finish: str
    protectant: str
    coats: int | None
    batch: str
    cost_per_m2: float | None
    minutes_per_m2: float | None
    coupons: int
    coupon_ids: str
    recipe_steps: int
    recipe: str
    recipe_cost_per_coupon: float | None
    recipe_cost_per_m2: float | None
    recipe_cost_complete: str
    recipe_minutes_per_coupon: float | None
    recipe_minutes_per_m2: float | None
    recipe_waiting_minutes: float | None
    recipe_version: int | None
    note: str


def tidy_treatments(record: BoardRecord) -> Iterator[TreatmentRow]:
    """Yield one row a treatment, in the order in which they were made."""
    coupons = coupons_by_treatment(record)
    recipes = {each.treatment: each.recipe for each in record.recipes.values()}
    for key, each in sorted(record.treatments.items()):
        recipe = recipes.get(key, Recipe())
        cost = recipe_cost(recipe, usual_area_mm2(record, key))
        yield TreatmentRow(
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
            " ".join(coupons.get(key, [])),
            len(recipe.steps),
            BETWEEN_STEPS.join(step_name(number, step) for number, step in enumerate(recipe.steps, start=1)),
            cost.per_coupon,
            cost.per_m2,
            "" if not recipe.steps else ("no" if cost.unpriced else "yes"),
            cost.minutes_per_coupon_hands_on,
            cost.minutes_per_m2,
            cost.waiting_minutes,
            recipe.version or None,
            each.note,
        )
