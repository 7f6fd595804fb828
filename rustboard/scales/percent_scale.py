"""A scale of percents rusted for eye and hand: fine where rust begins, coarse where much is rusted.

Logarithmic from 0.01 % to 100 %, because the grades go by ratios of area; nothing at all has no logarithm, so that
a short straight piece from 0 leads up to it. Our own choice throughout, for the grades' limits alone are given.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from math import floor, log10
from typing import Final

from rustboard.scales.rust_grade import (
    UPPER_LIMITS,
    check_percent,
    grade_from_percent,
    middle_percent,
)

LEAST: Final = 0.01
"""Where the logarithm begins: the upper limit of grade 10."""

STRAIGHT: Final = 0.06
"""Share of the scale's length from 0 to `LEAST`."""

_DECADES: Final = 4
_ONE_DECADE: Final = (1.0, 1.2, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0)

STOPS: Final[tuple[float, ...]] = tuple(
    sorted(
        {0.0, 0.002, 0.005, 100.0, *UPPER_LIMITS}
        | {round(each * 10.0**power, 6) for power in range(-2, 2) for each in _ONE_DECADE}
    )
)
"""Where a small step comes to rest: about ten to a decade, the grades' limits among them."""

MARKS: Final[tuple[float, ...]] = (
    *(round(each * 10.0**power, 6) for power in range(-2, 2) for each in (1.0, 2.0, 5.0)),
    100.0,
)
"""Where a fine mark stands on the scale."""


def place_of(percent: float) -> float:
    """Return where a percent stands on the scale, 0 to 1.

    Raises:
        InputError: no percent of a surface.
    """
    check_percent(percent)
    if percent <= LEAST:
        return STRAIGHT * (percent / LEAST)
    return STRAIGHT + (1 - STRAIGHT) * log10(percent / LEAST) / _DECADES


def percent_at(place: float) -> float:
    """Return the percent at a place of the scale, in two digits as one would write it; beyond an end, the end."""
    place = min(1.0, max(0.0, place))
    if place <= STRAIGHT:
        return round(LEAST * place / STRAIGHT, 3)
    return _two_digits(LEAST * 10.0 ** (_DECADES * (place - STRAIGHT) / (1 - STRAIGHT)))


def _two_digits(percent: float) -> float:
    return min(100.0, round(percent, 1 - floor(log10(percent))))


def stepped(percent: float, by: int) -> float:
    """Return the percent ``by`` stops further on, or back; at an end, the end.

    Raises:
        InputError: no percent of a surface.
    """
    check_percent(percent)
    # From between two stops the first step leads to the nearer of them on that side.
    at = bisect_right(STOPS, percent) - 1 + by if by > 0 else bisect_left(STOPS, percent) + by
    return STOPS[min(len(STOPS) - 1, max(0, at))]


def stepped_by_grade(percent: float, by: int) -> float:
    """Return the middle of the grade ``by`` grades more rusted, or less; at an end of the scale, the end.

    Raises:
        InputError: no percent of a surface.
    """
    grade = grade_from_percent(percent) - by
    if grade > 10:
        return 0.0
    return 100.0 if grade < 0 else written_middle(grade)


def written_middle(grade: int) -> float:
    """Return the middle of a grade in two digits, as one would write it: 0.17 for grade 7.

    Raises:
        InputError: no such grade.
    """
    return _two_digits(middle_percent(grade))
