"""Attack on bare metal over the years, from its first year (ISO 9224)."""

from __future__ import annotations

import math
from typing import Final, NamedTuple

from rustboard.support.problems import InputError

STEEL_B1: Final = 0.523
"""Mean exponent of carbon steel (ISO 9224, from memory)."""

STEEL_B2: Final = 0.575
"""Conservative exponent of carbon steel, for when the most attack counts (ISO 9224, from memory)."""

LAW_HOLDS_YEARS: Final = 20.0
"""Up to here the attack follows a power of time; beyond, a straight line."""

PROJECTED_YEARS: Final = (1, 2, 5, 10, 15, 20, 50)
MOST_YEARS: Final = 100.0

CAUTION: Final = (
    "This is an estimate for bare carbon steel only. It says nothing about a coated, waxed or oiled coupon, nor how "
    "long its protection lasts."
)


class Projection(NamedTuple):
    """Attack after some years, um: with the mean exponent, and with the conservative one."""

    years: int
    b1_um: float
    b2_um: float


def attack_um(first_year_um: float, years: float, exponent: float) -> float:
    """Return how deep bare metal is attacked after ``years``, in um.

    D = r t^b up to 20 years; beyond, D = r (20^b + b 20^(b-1) (t - 20)), the straight line that goes on from there
    (ISO 9224, after a public abstract).

    Raises:
        InputError: a rate below 0, or a time outside 0 to 100 years.
    """
    if not (math.isfinite(first_year_um) and first_year_um >= 0):
        raise InputError("A corrosion rate is a number from 0 up.")
    if not 0 <= years <= MOST_YEARS:
        raise InputError(f"Attack is projected for 0 to {MOST_YEARS:g} years.")
    if years <= LAW_HOLDS_YEARS:
        return first_year_um * math.pow(years, exponent)
    at_20 = math.pow(LAW_HOLDS_YEARS, exponent)
    return first_year_um * (at_20 + exponent * at_20 / LAW_HOLDS_YEARS * (years - LAW_HOLDS_YEARS))


def steel_projection(first_year_um: float) -> tuple[Projection, ...]:
    """Return the attack on bare carbon steel after the years of `PROJECTED_YEARS`; see `CAUTION`.

    Raises:
        InputError: a rate below 0.
    """
    return tuple(
        Projection(years, attack_um(first_year_um, years, STEEL_B1), attack_um(first_year_um, years, STEEL_B2))
        for years in PROJECTED_YEARS
    )
