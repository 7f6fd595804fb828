"""What an exercise says of a grader: offset, spread, hits, and where the eye goes wrong.

Offset and spread are the mean and the standard deviation of given minus true grade: the usual split of an error into
its systematic and its random part (common practice; no source for rust grades, for which no precision was found
published). A positive offset gives too good a grade: there is more rust than was seen.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import fmean, stdev
from typing import Final

from rustboard.scales.practice import PARTS, Part, PracticeCoupon
from rustboard.scales.rust_grade import grade_from_percent

LEAST_HABIT: Final = 0.75
"""Mean difference in grades from which a habit is told; less is within what a few coupons can do by chance."""

LEAST_COUPONS: Final = 2
MOST_HABITS: Final = 3


@dataclass(frozen=True, slots=True)
class Answer:
    """What was given for one coupon.

    Attributes:
        number: of the coupon in its exercise.
        percent: rusted area of the coupon as painted, the truth.
        grade: given, 0-10.
    """

    number: int
    percent: float
    grade: int

    @property
    def true_grade(self) -> int:
        """The grade of the painted area."""
        return grade_from_percent(self.percent)

    @property
    def off(self) -> int:
        """Given minus true grade: positive where the grade is too good."""
        return self.grade - self.true_grade


@dataclass(frozen=True, slots=True)
class Results:
    """Figures of one part.

    Attributes:
        n: coupons graded.
        offset: mean of given minus true grade.
        spread: standard deviation of these differences, n - 1 below the line.
        exact, within_one: how many grades were right, and how many at most one off.
    """

    n: int
    offset: float
    spread: float
    exact: int
    within_one: int


@dataclass(frozen=True, slots=True)
class Habit:
    """A true grade at which the eye goes astray.

    Attributes:
        true_grade: what it is. given: what is given for it, on average, as a grade.
        off: mean of given minus true. n: coupons it is told from.
    """

    true_grade: int
    given: int
    off: float
    n: int


def results(answers: Sequence[Answer]) -> Results | None:
    """Return the figures of some answers; None of fewer than two, which have no spread."""
    if len(answers) < 2:
        return None
    off = [each.off for each in answers]
    return Results(
        n=len(off),
        offset=fmean(off),
        spread=stdev(off),
        exact=off.count(0),
        within_one=sum(abs(each) <= 1 for each in off),
    )


def of_part(answers: Sequence[Answer], part: Part) -> list[Answer]:
    """Return the answers of one part of an exercise."""
    start = 0
    for name, count in PARTS:
        if name == part:
            return [each for each in answers if start <= each.number < start + count]
        start += count
    raise ValueError(f"there is no part {part}")


def could_be_chance(before: Results, after: Results) -> float:
    """Return how far two offsets may differ by chance alone: twice the standard error of their difference.

    About 19 times in 20 chance stays below it (normal approximation; common practice). Every part is small, and a
    change that is no larger says nothing.
    """
    return 2 * math.sqrt(before.spread**2 / before.n + after.spread**2 / after.n)


def habits(answers: Sequence[Answer]) -> list[Habit]:
    """Return at most three true grades where the answers go most astray, the worst first.

    Told from at least two coupons, and from a mean difference of `LEAST_HABIT` on. Our own choice of limits.
    """
    by_grade: dict[int, list[int]] = {}
    for each in answers:
        by_grade.setdefault(each.true_grade, []).append(each.off)
    found = []
    for grade, off in by_grade.items():
        mean = fmean(off)
        if len(off) >= LEAST_COUPONS and abs(mean) >= LEAST_HABIT:
            # Away from the truth at the half, so that a habit is never told as giving the right grade.
            given = grade + math.copysign(math.floor(abs(mean) + 0.5), mean)
            found.append(Habit(grade, min(10, max(0, int(given))), mean, len(off)))
    return sorted(found, key=lambda each: (-abs(each.off), each.true_grade))[:MOST_HABITS]


def is_complete(answers: Sequence[Answer], coupons: Sequence[PracticeCoupon]) -> bool:
    """Return whether every coupon of an exercise has its answer."""
    return {each.number for each in answers} >= {each.number for each in coupons}
