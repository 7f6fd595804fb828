"""Ratings of other scales, derived from the percent rusted and never from grade to grade.

Published tables that pair rust grades with ISO 4628-3 degrees disagree: read through the areas, Ri 1 (0.05 %) is a
rust grade 8 and Ri 2 (0.5 %) a 6; another pairing in use makes them 9 and 7. So a grade that was given without a
percent stands for its whole interval, and the derived rating is a range.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from dataclasses import dataclass
from itertools import pairwise
from typing import Final, NamedTuple

from rustboard.scales.rust_grade import check_percent, limits_percent
from rustboard.support.problems import InputError

RI_AREAS: Final[tuple[tuple[float, float], ...]] = (
    (0.0, 0.0),
    (0.05, 0.05),
    (0.5, 0.5),
    (1.0, 1.0),
    (8.0, 8.0),
    (40.0, 50.0),
)
"""Percent rusted that each ISO 4628-3 degree pictures, Ri 0 first. Degrees are pictures, not intervals; Ri 5 is
pictured as 40 to 50 %."""

PROTECTION_UPPER_LIMITS: Final[tuple[float, ...]] = (0.0, 0.1, 0.25, 0.5, 1.0, 2.5, 5.0, 10.0, 25.0, 50.0, 100.0)
"""The most percent of a protection rating, 10 first (table of ISO 10289; upper limit inclusive)."""

FORMULA_REACHES_10: Final = 10 ** (-4 / 3)
"""0.046416 %, where the formula of ISO 10289 reaches 10; at and below it the formula is not used."""


class RatingRange(NamedTuple):
    """The ratings that an interval of area touches.

    Attributes:
        light: the rating at the least rust.
        heavy: the rating at the most rust.
    """

    light: int
    heavy: int

    def text(self) -> str:
        """Return the range in plain English for the report: ``8`` or ``8 to 7``."""
        return str(self.light) if self.light == self.heavy else f"{self.light} to {self.heavy}"


@dataclass(frozen=True, slots=True)
class DerivedRatings:
    """What other scales call the same area.

    Attributes:
        low, high: the percent rusted it was derived from; equal when the percent was stated.
        ri: nearest pictured degree of ISO 4628-3.
        protection: protection rating by the table of ISO 10289.
        protection_unrounded: the formula of ISO 10289 at ``low`` and ``high``, an extra that may disagree with the
            table; None where the formula is not used.
    """

    low: float
    high: float
    ri: RatingRange
    protection: RatingRange
    protection_unrounded: tuple[float | None, float | None]


def ri_nearest(percent: float) -> int:
    """Return the ISO 4628-3 degree, 0 to 5, whose pictured area is nearest to ``percent`` by ratio.

    The degrees are point values, so nearest is meant on a logarithmic scale (our choice; areas halfway go to the
    heavier degree). Degrees part at 0.158, 0.707, 2.83 and 17.9 %. Ri 0 pictures no rust at all: any rust, however
    little, is at least Ri 1. Above 50 % there is no picture; the heaviest, Ri 5, is returned.

    Raises:
        InputError: below 0, above 100 or not a number.
    """
    check_percent(percent)
    if percent == 0:
        return 0
    # Halfway between a and b on a logarithmic scale is sqrt(a b); compared as squares. Ri 0's parting is then 0.
    return sum(percent * percent >= lighter[1] * heavier[0] for lighter, heavier in pairwise(RI_AREAS))


def ri_either_side(percent: float) -> RatingRange:
    """Return the two ISO 4628-3 pictures that ``percent`` lies between, or the one that it equals.

    Above 50 % both are Ri 5: the scale has no heavier picture.

    Raises:
        InputError: below 0, above 100 or not a number.
    """
    check_percent(percent)
    light = max(degree for degree, (area, _) in enumerate(RI_AREAS) if area <= percent)
    return RatingRange(light, light if percent <= RI_AREAS[light][1] or light == 5 else light + 1)


def protection_rating(percent: float) -> int:
    """Return the protection rating, 10 to 0, of ISO 10289 by its table (upper limit inclusive).

    The table and the rounded formula of that standard disagree for many areas (0.12 % is 8 by table, 9 by formula);
    the table counts.

    Raises:
        InputError: below 0, above 100 or not a number.
    """
    check_percent(percent)
    return 10 - bisect_left(PROTECTION_UPPER_LIMITS, percent)


def protection_unrounded(percent: float) -> float | None:
    """Return 3 (2 - log10 percent), the formula of ISO 10289 before rounding, or None where it is not used.

    It is not used at or below 0.046416 %, where it reaches 10. An extra beside `protection_rating`, never instead.

    Raises:
        InputError: below 0, above 100 or not a number.
    """
    check_percent(percent)
    return 3 * (2 - math.log10(percent)) if percent > FORMULA_REACHES_10 else None


def ratings_between(low: float, high: float, *, low_counts: bool = True) -> DerivedRatings:
    """Return the derived ratings of an area known to lie between two percents.

    ``low_counts`` says whether ``low`` itself may be the area; a rust grade's lower limit may not. ``high`` always
    may.

    Raises:
        InputError: a percent that cannot be, or ``low`` above ``high``.
    """
    check_percent(low)
    check_percent(high)
    if low > high:
        raise InputError(f"The range {low:g} to {high:g} % is upside down; give the smaller percent first.")
    least = low if low_counts or low == high else math.nextafter(low, math.inf)
    return DerivedRatings(
        low=low,
        high=high,
        ri=RatingRange(ri_nearest(least), ri_nearest(high)),
        protection=RatingRange(protection_rating(least), protection_rating(high)),
        protection_unrounded=(protection_unrounded(low), protection_unrounded(high)),
    )


def derived_ratings(grade: int, percent: float | None = None) -> DerivedRatings:
    """Return what other scales call a graded area.

    With a ``percent`` only that counts; without, the grade stands for its whole interval.

    Raises:
        InputError: no such grade, or a percent that cannot be.
    """
    if percent is not None:
        return ratings_between(percent, percent)
    lower, upper = limits_percent(grade)
    return ratings_between(lower, upper, low_counts=grade == 10)
