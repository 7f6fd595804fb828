"""The trade's own ratings of damage beside the rust: creep from a scribe, blisters, peeling.

Edge rust and stains have no rating here. That is common practice and has no source: the strip along the edges is
left out of the surface that counts, though what is wrong there is noted, and a stain is not rust of the coupon.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction
from math import isfinite
from typing import Final, NamedTuple

from rustboard.board.damage import LARGEST_WIDTH_MM, SEVERITIES, Damage
from rustboard.scales.other_ratings import protection_rating
from rustboard.support.problems import InputError

CREEP_SCALE: Final = "ASTM D1654"
APPEARANCE_SCALE: Final = "ISO 10289"

CREEP_UPPER_LIMITS_MM: Final[tuple[float, ...]] = (0.0, 0.5, 1.0, 2.0, 3.0, 5.0, 7.0, 10.0, 13.0, 16.0)
"""The most mean creep of a rating, 10 first down to 1; more is 0 (table of ASTM D1654; upper limit inclusive)."""

DEFECT_LETTERS: Final = {"blisters": "G", "peeling": "F"}
"""The letter of ISO 10289 of each kind of damage that has one: blisters; flaking, peeling or spalling."""


class DamageRating(NamedTuple):
    """What a standard calls some damage.

    Attributes:
        rating: 10 (none) to 0.
        scale: the standard it is of.
        notation: as that standard writes it; empty where something for it was not stated.
    """

    rating: int
    scale: str
    notation: str


def mean_creep_mm(widths_mm: Sequence[float], scribe_mm: float) -> float:
    """Return c = (wc - w) / 2 in mm, as cited from ASTM D1654.

    wc is the mean of the full widths of the corroded zone, w the width of the scribe. Worked out in the decimals that
    were written down: binary fractions would put a creep of just 1 mm on either side of that limit.

    Raises:
        InputError: no width, one narrower than the scribe, or a number that cannot be.
    """
    if not widths_mm:
        raise InputError("Give at least one full width of the corroded zone, in mm.")
    for each in (scribe_mm, *widths_mm):
        if not (isfinite(each) and 0 <= each <= LARGEST_WIDTH_MM):
            raise InputError(f"A width is from 0 to {LARGEST_WIDTH_MM:g} mm.")
    if any(each < scribe_mm for each in widths_mm):
        raise InputError("The corroded zone is never narrower than the scribe; measure its full width.")
    mean = sum((_as_written(each) for each in widths_mm), Fraction(0)) / len(widths_mm)
    return float((mean - _as_written(scribe_mm)) / 2)


def _as_written(value: float) -> Fraction:
    return Fraction(Decimal(repr(float(value))))


def creep_rating(creep_mm: float) -> int:
    """Return the rating, 10 to 0, of a mean creep by the table of ASTM D1654 (upper limit inclusive).

    Raises:
        InputError: below 0 or not a number.
    """
    if not (isfinite(creep_mm) and creep_mm >= 0):
        raise InputError("Creep is a length in mm from 0 up.")
    return 10 - bisect_left(CREEP_UPPER_LIMITS_MM, creep_mm)


def appearance_rating(percent: float) -> int:
    """Return the appearance rating, 10 to 0, of ISO 10289: the same table as its protection rating.

    Raises:
        InputError: below 0, above 100 or not a number.
    """
    return protection_rating(percent)


def appearance_notation(kind: str, percent: float, severity: str) -> str:
    """Return an appearance rating as ISO 10289 writes it alone: no protection rating, then rating, severity, letter.

    ``-/2mG``: moderate blisters on more than 10 and up to 25 % of the surface. Empty for a kind without a letter,
    without a severity, and for rating 10, which has no defect to name.

    Raises:
        InputError: a percent that cannot be, or no such severity.
    """
    if severity not in SEVERITIES:
        raise InputError("There is no such severity; choose one from the list.")
    rating, letter = appearance_rating(percent), DEFECT_LETTERS.get(kind, "")
    return f"-/{rating}{severity}{letter}" if letter and severity and rating < 10 else ""


def rating_of(
    kind: str,
    percent: float | None = None,
    severity: str = "",
    scribe_mm: float | None = None,
    widths_mm: Sequence[float] = (),
) -> DamageRating | None:
    """Return what a standard calls some damage, or None where it has no rating or too little was stated.

    Arguments are those of `rustboard.board.damage.Damage`.

    Raises:
        InputError: a number that cannot be.
    """
    if kind == "creep":
        if scribe_mm is None or not widths_mm:
            return None
        rating = creep_rating(mean_creep_mm(widths_mm, scribe_mm))
        return DamageRating(rating, CREEP_SCALE, str(rating))
    if kind not in DEFECT_LETTERS or percent is None:
        return None
    return DamageRating(appearance_rating(percent), APPEARANCE_SCALE, appearance_notation(kind, percent, severity))


def creep_of(damage: Damage) -> float | None:
    """Return the mean creep in mm of damage as noted; None for another kind, or where its widths cannot be."""
    if damage.kind != "creep" or damage.scribe_mm is None:
        return None
    try:
        return mean_creep_mm(damage.widths_mm, damage.scribe_mm)
    except InputError:  # a file changed by hand
        return None


def rating_of_noted(damage: Damage) -> DamageRating | None:
    """Return what a standard calls damage as noted; None where it has no rating, or its numbers cannot be."""
    try:
        return rating_of(damage.kind, damage.percent, damage.severity, damage.scribe_mm, damage.widths_mm)
    except InputError:  # a file changed by hand
        return None
