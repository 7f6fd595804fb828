"""The seven treatments of the demo shop and their recipes, the same on both boards.

Names are generic, prices and times made up. What a treatment is said to cost is about what its recipe costs more
than the bare control's.
"""

from __future__ import annotations

from typing import Any, Final, Literal

from rustboard.board.model import Treatment
from rustboard.board.recipe import Recipe, RecipeStep, StepKind

CONTROL: Final = "T7"

TREATMENTS: Final = (
    Treatment(
        id="T1",
        name="hot beeswax blend",
        family="wax",
        preparation="wire brushed, wiped with spirit",
        finish="none",
        protectant="beeswax with a little turpentine and linseed oil, rubbed on at 120 °C",
        coats=2,
        batch="pot 3",
        cost_per_m2=3.1,
        minutes_per_m2=40.0,
    ),
    Treatment(
        id="T2",
        name="baked linseed oil",
        family="oil",
        preparation="wire brushed, wiped with spirit",
        finish="none",
        protectant="boiled linseed oil, thin, baked at 220 °C",
        coats=3,
        batch="oil of February",
        cost_per_m2=2.4,
        minutes_per_m2=65.0,
        note="An hour in the oven between coats.",
    ),
    Treatment(
        id="T3",
        name="lanolin film",
        family="film",
        preparation="wire brushed, wiped with spirit",
        finish="none",
        protectant="lanolin in white spirit",
        coats=1,
        cost_per_m2=4.6,
        minutes_per_m2=15.0,
        note="Stays tacky; picks up dust.",
    ),
    Treatment(
        id="T4",
        name="microcrystalline wax",
        family="wax",
        preparation="wire brushed, wiped with spirit",
        finish="none",
        protectant="microcrystalline wax paste, buffed after 20 minutes",
        coats=2,
        cost_per_m2=6.8,
        minutes_per_m2=30.0,
    ),
    Treatment(
        id="T5",
        name="zinc phosphate and oil",
        family="oil",
        preparation="pickled, rinsed, dried warm",
        finish="zinc phosphate, hot bath, 15 minutes",
        protectant="thin mineral oil, drained overnight",
        coats=1,
        batch="bath of 26 February",
        cost_per_m2=8.9,
        minutes_per_m2=55.0,
    ),
    Treatment(
        id="T6",
        name="cold oil wipe",
        family="oil",
        preparation="wire brushed, wiped with spirit",
        finish="none",
        protectant="thin mineral oil, wiped on and off",
        coats=1,
        cost_per_m2=0.9,
        minutes_per_m2=8.0,
    ),
    Treatment(
        id=CONTROL,
        name="bare control",
        family="none",
        preparation="wire brushed, wiped with spirit",
        finish="none",
        protectant="none",
        coats=0,
        cost_per_m2=0.0,
        minutes_per_m2=5.0,
    ),
)


_BRUSHED = RecipeStep("brush", "wire brush", minutes=2.0, who="Tove")
_WIPED = RecipeStep(
    "wipe", "white spirit", quantity=30.0, per="m2", container_price=5.0, container_quantity=1.0,
    container_unit="l", minutes=1.0, who="Tove",
)  # fmt: skip


def _coat(
    product: str, quantity: float, unit: Literal["ml", "g"], price: float, full: float, **more: Any
) -> RecipeStep:
    """Return a coat of a product of which ``full`` units cost ``price``, and a square metre takes ``quantity``."""
    return RecipeStep(
        "coat", product, quantity=quantity, unit=unit, per="m2", container_price=price, container_quantity=full,
        container_unit=unit, who="Maren", **more,
    )  # fmt: skip


def _waiting(kind: StepKind, minutes: float, celsius: float | None = None, note: str = "") -> RecipeStep:
    return RecipeStep(kind, minutes=minutes, hands_on=False, temperature_c=celsius, note=note)


def _bath(kind: StepKind, product: str, litres: float, price: float, full: float, **more: Any) -> RecipeStep:
    return RecipeStep(
        kind, product, quantity=litres, unit="l", per="m2", container_price=price, container_quantity=full,
        container_unit="l", **more,
    )  # fmt: skip


RECIPES: Final[tuple[tuple[str, Recipe], ...]] = (
    ("T1", Recipe((
        _BRUSHED,
        _WIPED,
        _waiting("heat", 10.0, 120.0),
        _coat("beeswax blend", 62.0, "g", 25.0, 500.0, batch="pot 3", minutes=3.0, temperature_c=120.0,
              note="Two coats, rubbed on while hot."),
        RecipeStep("buff", "cotton cloth", minutes=1.0, who="Maren"),
    ))),
    ("T2", Recipe((
        _BRUSHED,
        _WIPED,
        _coat("boiled linseed oil", 200.0, "ml", 12.0, 1_000.0, batch="oil of February", minutes=4.0,
              note="Three thin coats, an hour in the oven after each."),
        _waiting("heat", 180.0, 220.0),
    ))),
    ("T3", Recipe((
        _BRUSHED,
        _WIPED,
        _coat("lanolin in white spirit", 100.0, "ml", 23.0, 500.0, minutes=1.0),
        _waiting("dry", 1_440.0),
    ))),
    ("T4", Recipe((
        _BRUSHED,
        _WIPED,
        _coat("microcrystalline wax paste", 80.0, "g", 17.0, 200.0, minutes=2.0, note="Two coats."),
        _waiting("dry", 20.0),
        RecipeStep("buff", "cotton cloth", minutes=1.0, who="Maren"),
    ))),
    ("T5", Recipe((
        _bath("pickle", "pickling acid, dilute", 0.5, 6.0, 2.0, minutes=8.0, hands_on=False),
        RecipeStep("rinse", "tap water", minutes=1.0, who="Jory"),
        _bath("convert", "zinc phosphate bath", 0.8, 30.0, 4.0, batch="bath of 26 February", minutes=15.0,
              hands_on=False, temperature_c=70.0),
        _waiting("dry", 30.0, 60.0),
        _bath("soak", "thin mineral oil", 0.14, 10.0, 1.0, minutes=720.0, hands_on=False,
              note="Drained overnight."),
    ))),
    ("T6", Recipe((
        _BRUSHED,
        _WIPED,
        _bath("wipe", "thin mineral oil", 0.09, 10.0, 1.0, minutes=1.0, note="On, and off again."),
    ))),
    (CONTROL, Recipe((_BRUSHED, _WIPED))),
)  # fmt: skip
