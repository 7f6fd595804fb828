"""What finish and protectant do, each alone and together."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Factor = Literal["finish", "protectant"]


@dataclass(frozen=True, slots=True)
class GridCell:
    """One combination of finish and protectant.

    Attributes:
        finish, protectant: levels as people call them.
        groups: ids of the treatments that have it.
        values: of its units; empty where it was not tried.
        mean: of the values, or None.
    """

    finish: str
    protectant: str
    groups: tuple[str, ...]
    values: tuple[float, ...]
    mean: float | None


@dataclass(frozen=True, slots=True)
class Effect:
    """A difference with its 95 % interval.

    Attributes:
        name: of what is compared, for people: ``beeswax less oil``.
        difference, low, high: in the measure's unit; intervals of one kind hold together.
        p: two-sided, for all of its kind together.
    """

    name: str
    difference: float
    low: float
    high: float
    p: float


@dataclass(frozen=True, slots=True)
class MainEffect:
    """A level of one factor less another, over the levels of the other factor that both were tried with.

    Attributes:
        factor: which.
        a, b: levels. over: levels of the other factor that were averaged over.
        effect: the difference.
    """

    factor: Factor
    a: str
    b: str
    over: tuple[str, ...]
    effect: Effect


@dataclass(frozen=True, slots=True)
class Interaction:
    """How much the difference between two protectants depends on the finish: a difference of differences.

    Attributes:
        finishes, protectants: the two of each.
        effect: (first finish: first protectant less second) less (second finish: the same).
    """

    finishes: tuple[str, str]
    protectants: tuple[str, str]
    effect: Effect


@dataclass(frozen=True, slots=True)
class FactorFindings:
    """Finish x protectant.

    Attributes:
        finishes, protectants: levels, in order.
        cells: every combination, those not tried with no values.
        main: effects of each factor. interactions: of every two by two part that was tried whole.
        interaction_p: of the F test that there is no interaction at all; None where it cannot be tested.
        complete: whether every combination was tried.
        whole: whether combinations were tried with replicates, so that there is an error to measure by.
    """

    finishes: tuple[str, ...]
    protectants: tuple[str, ...]
    cells: tuple[GridCell, ...]
    main: tuple[MainEffect, ...]
    interactions: tuple[Interaction, ...]
    interaction_p: float | None
    complete: bool
    whole: bool
