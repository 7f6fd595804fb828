"""What a recipe costs and how long it takes, for one coupon and for one square metre.

A coupon is coated on both faces. Its edges are left out, because nobody has said how thick it is: the coated area is
twice the area of its outline. A step whose cost cannot be worked out is named, and never counted as nothing.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final, NamedTuple

from rustboard.board.model import Coupon
from rustboard.board.outline import area_mm2
from rustboard.board.recipe import Recipe, RecipeStep, Unit
from rustboard.board.recipe_words import KIND_WORDS
from rustboard.board.record import BoardRecord

FACES: Final = 2
_MM2_PER_M2: Final = 1e6

_IN_ONE: Final[dict[Unit, tuple[str, float]]] = {
    "ml": ("volume", 1.0),
    "l": ("volume", 1_000.0),
    "g": ("mass", 1.0),
    "kg": ("mass", 1_000.0),
    "piece": ("pieces", 1.0),
}
"""What a unit measures, and how many of the smallest unit of that it is."""

NO_PRODUCT: Final = "no product and no amount is given"
NO_PRICE: Final = "the price of a full container is not given"
NO_CONTENT: Final = "what a full container holds is not given"
NO_QUANTITY: Final = "how much one coupon or square metre takes is not given"
NO_DENSITY: Final = "volume cannot be turned into weight without a density; give both in the same kind of unit"
NO_PIECES: Final = "pieces cannot be turned into volume or weight; give both in the same kind of unit"
TOO_LARGE: Final = "the numbers are too large to work out a cost"
NO_AREA: Final = "the size of a coupon is not known, so cost for a coupon and for a square metre cannot be added up"


class StepCost(NamedTuple):
    """What one step costs, in the user's own currency.

    Attributes:
        per_coupon, per_m2: None = cannot be worked out. For one of them alone: the size of a coupon is not known.
        reason: why neither can be worked out, without a full stop; empty when one of them can.
    """

    per_coupon: float | None = None
    per_m2: float | None = None
    reason: str = ""


@dataclass(frozen=True, slots=True)
class RecipeCost:
    """What a whole recipe costs and takes.

    Attributes:
        per_coupon, per_m2: sum over the steps whose cost is known; None = of none, or not for this measure.
        minutes_per_coupon_hands_on: somebody's work on one coupon; None = of no step are the minutes known.
        minutes_per_m2: the same for a square metre of coated surface; None also when a coupon's size is not known.
        waiting_minutes: drying, soaking and the like, from the first step to the last; None as above.
        unknown: a sentence for each reason why steps are not counted in the cost, naming them.
        untimed: the same for the minutes.
        unpriced: the steps that use a product and are not counted in the cost; without any the cost is the whole one.
        untimed_work: the hands-on steps without minutes; without any the minutes of work are the whole ones.
    """

    per_coupon: float | None = None
    per_m2: float | None = None
    minutes_per_coupon_hands_on: float | None = None
    minutes_per_m2: float | None = None
    waiting_minutes: float | None = None
    unknown: tuple[str, ...] = ()
    untimed: tuple[str, ...] = ()
    unpriced: tuple[str, ...] = ()
    untimed_work: tuple[str, ...] = ()

    @property
    def whole_per_m2(self) -> float | None:
        """The cost of a square metre when all steps that use a product are in it."""
        return None if self.unpriced else self.per_m2

    @property
    def whole_minutes_per_m2(self) -> float | None:
        """The work on a square metre when all hands-on steps are in it."""
        return None if self.untimed_work else self.minutes_per_m2


def coated_m2(coupon_area_mm2: float | None) -> float | None:
    """Return the coated surface of a coupon (both faces, no edges) in m², or None when its size is not known.

    Args:
        coupon_area_mm2: area of its outline: of one face.
    """
    if coupon_area_mm2 is None or not 0 < coupon_area_mm2 < math.inf:
        return None
    return FACES * coupon_area_mm2 / _MM2_PER_M2 or None


def usual_area_mm2(record: BoardRecord, treatment_key: int | None = None) -> float | None:
    """Return the mean area of the outlines of a treatment's coupons.

    Where they have none, that of all coupons; else the size that the layout gives every coupon; else None.
    """
    coupons = [each for each in record.coupons.values() if each.outline_mm]
    areas = _areas(each for each in coupons if each.treatment == treatment_key) or _areas(coupons)
    if areas:
        return math.fsum(areas) / len(areas)
    given = record.layout.coupon_width_mm * record.layout.coupon_height_mm
    return given or None


def _areas(coupons: Iterable[Coupon]) -> list[float]:
    return [area for each in coupons if (area := area_mm2(each.outline_mm)) > 0]


def step_cost(step: RecipeStep, coupon_area_mm2: float | None) -> StepCost:
    """Return what one step costs: price of a container / its content * what is used.

    Args:
        step: the step.
        coupon_area_mm2: area of a coupon's outline: of one face; None = not known.
    """
    if step.quantity is None:
        return StepCost(reason=NO_QUANTITY if step.product or step.container_price is not None else NO_PRODUCT)
    if step.quantity == 0:
        return StepCost(0.0, 0.0)
    if step.container_price is None:
        return StepCost(reason=NO_PRICE)
    if not step.container_quantity:
        return StepCost(reason=NO_CONTENT)
    used_of, used = _IN_ONE[step.unit]
    sold_of, sold = _IN_ONE[step.container_unit]
    if used_of != sold_of:
        return StepCost(reason=NO_PIECES if "pieces" in (used_of, sold_of) else NO_DENSITY)
    cost = step.container_price * (step.quantity * used) / (step.container_quantity * sold)
    area = coated_m2(coupon_area_mm2)
    if step.per == "coupon":
        found = StepCost(cost, None if area is None else cost / area)
    else:
        found = StepCost(None if area is None else cost * area, cost)
    if not all(math.isfinite(each or 0.0) for each in found[:2]):
        return StepCost(reason=TOO_LARGE)
    return found


def recipe_cost(recipe: Recipe, coupon_area_mm2: float | None) -> RecipeCost:
    """Return what a recipe costs and how long it takes; arguments as for `step_cost`."""
    costs = [step_cost(each, coupon_area_mm2) for each in recipe.steps]
    unknown = [(step_name(at, recipe.steps[at - 1]), cost.reason) for at, cost in enumerate(costs, 1) if cost.reason]
    counted = [each for each in costs if not each.reason]
    per_coupon, per_m2 = _sum(each.per_coupon for each in counted), _sum(each.per_m2 for each in counted)
    sentences = [f"Not counted: {', '.join(names)}: {why}." for why, names in _by_reason(unknown)]
    if counted and per_coupon is None and per_m2 is None:
        sentences.append(f"Not added up: {NO_AREA}.")
    hands_on = _sum_known(each.minutes for each in recipe.steps if each.hands_on)
    area = coated_m2(coupon_area_mm2)
    untimed = [step_name(at, each) for at, each in enumerate(recipe.steps, 1) if each.minutes is None]
    return RecipeCost(
        per_coupon=per_coupon,
        per_m2=per_m2,
        minutes_per_coupon_hands_on=hands_on,
        minutes_per_m2=None if hands_on is None or area is None else hands_on / area,
        waiting_minutes=_sum_known(each.minutes for each in recipe.steps if not each.hands_on),
        unknown=tuple(sentences),
        untimed=(f"No minutes given: {', '.join(untimed)}.",) if untimed else (),
        unpriced=tuple(name for name, why in unknown if why != NO_PRODUCT),
        untimed_work=tuple(
            step_name(at, each) for at, each in enumerate(recipe.steps, 1) if each.hands_on and each.minutes is None
        ),
    )


def step_name(number: int, step: RecipeStep) -> str:
    """Return how a sentence calls a step: ``2 coat (beeswax)``; steps count from 1."""
    return f"{number} {KIND_WORDS[step.kind]}" + (f" ({step.product})" if step.product else "")


def _by_reason(unknown: Iterable[tuple[str, str]]) -> list[tuple[str, list[str]]]:
    names: dict[str, list[str]] = {}
    for name, reason in unknown:
        names.setdefault(reason, []).append(name)
    return list(names.items())


def _sum(parts: Iterable[float | None]) -> float | None:
    """Return the sum, or None when a part is missing or there is none: half a sum would pass for the whole."""
    found = list(parts)
    known = [each for each in found if each is not None]
    return math.fsum(known) if known and len(known) == len(found) else None


def _sum_known(parts: Iterable[float | None]) -> float | None:
    known = [each for each in parts if each is not None]
    return math.fsum(known) if known else None
