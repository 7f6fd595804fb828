"""Treatment recipes: the steps that make a treatment, in order, and which version of the user's library they are."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

StepKind = Literal[
    "degrease", "blast", "sand", "brush", "pickle", "etch", "rinse", "convert", "dry", "heat", "coat", "soak",
    "wipe", "buff", "cure", "other",
]  # fmt: skip
STEP_KINDS: Final[tuple[StepKind, ...]] = (
    "degrease", "blast", "sand", "brush", "pickle", "etch", "rinse", "convert", "dry", "heat", "coat", "soak",
    "wipe", "buff", "cure", "other",
)  # fmt: skip

Unit = Literal["ml", "l", "g", "kg", "piece"]
UNITS: Final[tuple[Unit, ...]] = ("ml", "l", "g", "kg", "piece")
Per = Literal["coupon", "m2"]
PERS: Final[tuple[Per, ...]] = ("coupon", "m2")

MOST_STEPS: Final = 60
LARGEST_VERSION: Final = 1_000_000


@dataclass(frozen=True, slots=True)
class RecipeStep:
    """One step of a treatment.

    Attributes:
        kind: what is done; ``convert`` is a conversion coating.
        product: what is used: product, blasting medium, abrasive.
        quantity: how much of the product one coupon, or one square metre, takes; None = not known.
        unit: of ``quantity``.
        per: whether ``quantity`` is for one ``coupon`` or one ``m2``.
        container_price: price of a full container, in the user's own currency; None = not known.
        container_quantity: what a full container holds, in ``container_unit``; None = not known.
        minutes: how long the step takes; None = not known.
        hands_on: whether somebody works during these minutes; drying and soaking are waiting.
        temperature_c: of the bath, the oven or the room, degrees Celsius; None = not known.
        who: who does it.
    """

    kind: StepKind
    product: str = ""
    batch: str = ""
    quantity: float | None = None
    unit: Unit = "ml"
    per: Per = "coupon"
    container_price: float | None = None
    container_quantity: float | None = None
    container_unit: Unit = "ml"
    minutes: float | None = None
    hands_on: bool = True
    temperature_c: float | None = None
    who: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class Recipe:
    """The steps of one treatment.

    Attributes:
        steps: in order.
        library_id: which recipe of the user's library these steps were taken from or kept as; empty = of none.
        version: of that recipe in the library, from 1; 0 = of none.
    """

    steps: tuple[RecipeStep, ...] = ()
    library_id: str = ""
    version: int = 0


@dataclass(frozen=True, slots=True)
class TreatmentRecipe:
    """The recipe of one treatment on a board; the board keeps its own copy for good.

    Attributes:
        treatment: key of the treatment.
    """

    treatment: int
    recipe: Recipe
    key: int = 0
