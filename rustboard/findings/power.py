"""How often a board would find a difference: simulated, with grades rounded to whole numbers as graders give them.

The model: a coupon's grade is the level of its group plus a normal deviation, rounded to a whole grade and kept
within 0 to 10. The groups lie around the middle of the scale, at a place within one grade that is drawn anew each
time, so that rounding neither helps nor hurts by where the levels happen to fall. The test inside is the t test of
the comparison with the error pooled over all treatments of the board.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final, Protocol

import numpy as np

from rustboard.board.grade import GRADES
from rustboard.findings.design_model import Design, Numbers

FOUND_SHARE: Final = 0.8
LARGEST_DIFFERENCE: Final = float(GRADES[-1] - GRADES[0])
STEP: Final = 0.1
MOST_COUPONS_EACH: Final = 50
"""More coupons of each treatment than that are not worked out."""

_MIDDLE: Final = (GRADES[0] + GRADES[-1]) / 2
_SEED: Final = 5_309
_MOST_AT_ONCE: Final = 400_000


class Progress(Protocol):
    """Whoever is told how far the work is, and may end it by raising."""

    def step(self, done: int, total: int) -> None:
        """Hear how far the work is."""


@dataclass(frozen=True, slots=True)
class Grading:
    """How levels become grades.

    Attributes:
        rounded: whether grades are whole numbers between 0 and 10; otherwise they are the levels themselves.
        least_variance: no estimate of the error variance counts as smaller. Grades that are whole numbers carry the
            spread of rounding, 1/12 of a grade squared (the variance of a uniform distribution over one grade).
            Replicates that all got the same grade would otherwise pass for a spread of nothing, and any difference
            for certain.
    """

    rounded: bool = True
    least_variance: float = 1 / 12


WHOLE_GRADES: Final = Grading()
UNROUNDED: Final = Grading(rounded=False, least_variance=0.0)


@dataclass(frozen=True, eq=False)
class PowerTest:
    """One comparison on one design, ready to be simulated.

    Attributes:
        design: the units of the board.
        weights: of the units in the estimated difference (`Design.weights`).
        shift: +1/2 for a unit of the first group, -1/2 for one of the second, else 0.
        critical: size of t from which a difference counts as found.
    """

    design: Design
    weights: Numbers
    shift: Numbers
    critical: float


def draws_for(units: int) -> int:
    """Return how many boards are simulated: fewer of large boards; at 8 in 10 the error is 0.6 to 1.3 in 100."""
    if units <= 120:
        return 4_000
    return 2_000 if units <= 1_000 else 1_000


def power(
    test: PowerTest, difference: float, sd: float, grading: Grading = WHOLE_GRADES, *,
    draws: int | None = None, pause: Callable[[], None] | None = None,
) -> float:  # fmt: skip
    """Return the share of simulated boards on which the difference is found.

    The same numbers are drawn for every difference, so that a larger one is not missed by the luck of the draw.

    Args:
        test: comparison and design.
        difference: true difference between the groups in grades.
        sd: standard deviation of a unit's grade.
        grading: how levels become grades.
        draws: how many boards to simulate.
        pause: called between portions; it may raise to stop the work.
    """
    units = len(test.design.cells)
    total = draws or draws_for(units)
    portion = max(1, _MOST_AT_ONCE // max(units, 1))
    found = 0
    for number, start in enumerate(range(0, total, portion)):
        if pause is not None:
            pause()
        draw = np.random.default_rng((_SEED, number))
        found += _found(test, difference, sd, grading, draw, min(portion, total - start))
    return found / total


def _found(
    test: PowerTest, difference: float, sd: float, grading: Grading, draw: np.random.Generator, boards: int
) -> int:
    levels = draw.standard_normal((boards, len(test.shift)))
    levels *= sd
    levels += difference * test.shift
    if grading.rounded:
        levels += draw.uniform(-0.5, 0.5, (boards, 1))
        np.rint(levels + _MIDDLE, out=levels)
        np.clip(levels, GRADES[0], GRADES[-1], out=levels)
        levels -= _MIDDLE  # about zero, where sums of squares lose no digits
    fitted = levels @ test.design.basis
    left = np.einsum("ij,ij->i", levels, levels) - np.einsum("ij,ij->i", fitted, fitted)
    variance = np.maximum(left / test.design.degrees_of_freedom, grading.least_variance)
    error = np.sqrt(variance * float(test.weights @ test.weights))
    return int(np.count_nonzero(np.abs(levels @ test.weights) >= test.critical * error))


def detectable_difference(
    test: PowerTest, sd: float, grading: Grading = WHOLE_GRADES, *, pause: Callable[[], None] | None = None
) -> float | None:
    """Return the smallest difference, in steps of 0.1 grade, that is found at least 8 times in 10.

    None when even the whole scale is not.
    """
    steps = round(LARGEST_DIFFERENCE / STEP)

    def enough(step: int) -> bool:
        return power(test, step * STEP, sd, grading, pause=pause) >= FOUND_SHARE

    step = first_enough(1, steps, enough)
    return None if step is None else round(step * STEP, 1)


def first_enough(low: int, high: int, enough: Callable[[int], bool]) -> int | None:
    """Return the smallest number from ``low`` to ``high`` that is enough, or None; enough stays enough above."""
    if not enough(high):
        return None
    while low < high:
        middle = (low + high) // 2
        if enough(middle):
            high = middle
        else:
            low = middle + 1
    return high


def coupons_needed(
    test_of: Callable[[int], PowerTest | None], difference: float, sd: float, grading: Grading = WHOLE_GRADES, *,
    most: int = MOST_COUPONS_EACH, pause: Callable[[], None] | None = None,
) -> int | None:  # fmt: skip
    """Return how many units of every treatment find ``difference`` at least 8 times in 10; None beyond ``most``.

    Args:
        test_of: makes the same comparison with so many units of every treatment; None where it cannot be made.
        difference: in grades.
        sd: standard deviation of a unit's grade.
        grading: how levels become grades.
        most: how far to look.
        pause: called between portions; it may raise to stop the work.
    """

    def enough(each: int) -> bool:
        test = test_of(each)
        return test is not None and power(test, difference, sd, grading, pause=pause) >= FOUND_SHARE

    # Doubling first: most answers are small, and large boards are slow.
    low, high = 2, 2
    while high < most and not enough(high):
        low, high = high + 1, min(2 * high, most)
    return first_enough(low, high, enough)
