"""What pits amount to, in the manner of ASTM G46: density, openings, depths, pitting factor."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from statistics import fmean
from typing import Final

from rustboard.scales.mass_loss import SMALLEST_AREA_CM2
from rustboard.support.problems import InputError

DENSITY_CHART_PER_M2: Final = (2.5e3, 1e4, 5e4, 1e5, 5e5)
OPENING_CHART_MM2: Final = (0.5, 2.0, 8.0, 12.5, 24.5)
DEPTH_CHART_MM: Final = (0.4, 0.8, 1.6, 3.2, 6.4)
"""What ASTM G46 pictures as A-1 to A-5, B-1 to B-5 and C-1 to C-5 (from memory)."""

DEEPEST_COUNT: Final = 10

LEAST_PENETRATION_UM: Final = 1e-3
"""Below a nanometre no balance tells a penetration from none, and a pitting factor means nothing (own choice)."""


@dataclass(frozen=True, slots=True)
class PitSummary:
    """What the pits of one coupon amount to; None where too little was noted.

    Attributes:
        per_m2: pits on a square metre.
        mean_opening_mm2, largest_opening_mm2: areas of the openings.
        deepest_um: the deepest pit. ten_deepest_um: mean of the ten deepest, of all where there are fewer.
        of_deepest: how many that mean is of.
        factor: pitting factor, deepest pit over mean penetration from mass loss.
        chart: the nearest pictures of the chart of ASTM G46, as ``A-2, B-1, C-3`` (from memory): density, mean
            opening, mean of the ten deepest. Empty where none was noted.
    """

    per_m2: float | None
    mean_opening_mm2: float | None
    largest_opening_mm2: float | None
    deepest_um: float | None
    ten_deepest_um: float | None
    of_deepest: int
    factor: float | None
    chart: str


def pit_summary(
    pits: int | None,
    on_cm2: float | None,
    openings_mm2: Sequence[float] = (),
    depths_um: Sequence[float] = (),
    penetration_um: float | None = None,
) -> PitSummary:
    """Return what the pits amount to.

    Args:
        pits: how many were counted.
        on_cm2: the area they were counted on.
        openings_mm2: as measured, in any order.
        depths_um: the same.
        penetration_um: mean penetration from mass loss over the whole exposure.

    Raises:
        InputError: a value that cannot be.
    """
    if any(not (math.isfinite(each) and each >= 0) for each in (*openings_mm2, *depths_um, pits or 0)):
        raise InputError("Numbers, openings and depths of pits are from 0 up.")
    if on_cm2 is not None and not (math.isfinite(on_cm2) and on_cm2 >= SMALLEST_AREA_CM2):
        raise InputError("The area on which pits were counted is too small to be true; check it.")
    per_m2 = None if pits is None or on_cm2 is None else pits / (on_cm2 * 1e-4)
    deepest = sorted(depths_um, reverse=True)[:DEEPEST_COUNT]
    mean_opening = fmean(openings_mm2) if openings_mm2 else None
    ten_deepest = fmean(deepest) if deepest else None
    return PitSummary(
        per_m2,
        mean_opening,
        max(openings_mm2, default=None),
        deepest[0] if deepest else None,
        ten_deepest,
        len(deepest),
        _factor(deepest, penetration_um),
        _chart(per_m2, mean_opening, None if ten_deepest is None else ten_deepest / 1000),
    )


def _factor(deepest: Sequence[float], penetration_um: float | None) -> float | None:
    if not deepest or penetration_um is None or penetration_um < LEAST_PENETRATION_UM:
        return None
    return deepest[0] / penetration_um


def chart_number(value: float, chart: Sequence[float]) -> int:
    """Return the number, 1 to 5, of the picture nearest by ratio; halfway goes to the heavier. 0 = nothing to rate.

    Pictures are points, not intervals, so nearest is meant on a logarithmic scale (our choice).
    """
    if value <= 0:
        return 0
    return 1 + sum(value * value >= lighter * heavier for lighter, heavier in pairwise(chart))


def _chart(per_m2: float | None, opening_mm2: float | None, depth_mm: float | None) -> str:
    rated = (
        ("A", per_m2, DENSITY_CHART_PER_M2),
        ("B", opening_mm2, OPENING_CHART_MM2),
        ("C", depth_mm, DEPTH_CHART_MM),
    )
    return ", ".join(f"{letter}-{chart_number(value, chart)}" for letter, value, chart in rated if value)
