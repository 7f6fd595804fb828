"""An exercise in grading: which coupons are shown, in which order, and what was given for them.

An exercise is a seed and the ordered list of drawn coupons that follows from it. The first part is graded without the
truth, the second shows the truth after every answer, the third is without it again, so that before and after can be
compared. Numbers of coupons, order and mix are common practice of training with feedback; no source. That people
estimate areas better beside pictures of known percent is published (Bock 2016; Cross 2001 for pairs of pictures);
nothing published was found on how many pictures it takes.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal, TypeVar

import numpy as np

from rustboard.scales.noise import uniform
from rustboard.scales.practice_looks import LOOKS, SHAPES, Look, Shape
from rustboard.scales.rust_fields import Distribution
from rustboard.scales.rust_grade import grade_from_percent, limits_percent

Part = Literal["before", "learning", "after"]
T = TypeVar("T")

PLAN: Final = 1
"""Raised when the same seed would give another list; an exercise is gone on with under its own plan only.

Other `PARTS` than these would need more: figures of finished exercises are told from the numbers of their coupons.
"""

PARTS: Final[tuple[tuple[Part, int], ...]] = (("before", 12), ("learning", 20), ("after", 12))
"""The parts in their order, and how many coupons each has: about ten minutes in all."""

TOTAL: Final = sum(count for _, count in PARTS)

LEAST_PERCENT: Final = 0.002
"""Where grade 10 begins in an exercise. It has no lower limit; less than this would be a speck that nobody sees."""

_GRADES: Final = tuple(range(11))
_LETTERS: Final[tuple[Distribution, ...]] = ("S", "G", "P")
_RIM: Final = 0.02  # kept from both limits, so that counting whole pixels never makes another grade of it
_BANDS: Final = 3


@dataclass(frozen=True, slots=True)
class PracticeCoupon:
    """One coupon of an exercise, before it is drawn.

    Attributes:
        number: its place in the exercise, 0 first.
        part: which part it belongs to.
        percent: rusted area wanted, in percent of the significant surface. What is shown as the truth is the area
            really painted (see `practice_coupons`).
        distribution: S, G or P: how the rust is strewn.
        look, shape: what it is made like.
        seed: which drawing.
    """

    number: int
    part: Part
    percent: float
    distribution: Distribution
    look: Look
    shape: Shape
    seed: int

    @property
    def grade(self) -> int:
        """The grade of the wanted percent, which is that of the painted area too."""
        return grade_from_percent(self.percent)


def exercise(seed: int) -> tuple[PracticeCoupon, ...]:
    """Return the coupons of an exercise in their order; the same seed always gives the same.

    Every grade comes about equally often: once in each part, and the places over are drawn among all grades. Before
    and after have the same grades, so that they are equally hard. Within its grade a percent is log-uniform, and of
    each part a third each lies in the lower, middle and upper third of a grade, so near the limits too. Spots,
    general rust and pinpoints come equally often within a part. The mix is told to nobody.
    """
    dice = _Dice(seed)
    over_outer = dice.shuffled(_GRADES)
    over_learning = dice.shuffled(_GRADES)
    coupons: list[PracticeCoupon] = []
    looks = dice.spread_over(LOOKS, TOTAL)
    shapes = dice.spread_over(SHAPES, TOTAL)
    for part, count in PARTS:
        over = over_learning if part == "learning" else over_outer
        grades = dice.shuffled((*_GRADES, *over[: count - len(_GRADES)]))
        bands = dice.shuffled([place % _BANDS for place in range(count)])
        letters = dice.shuffled([_LETTERS[place % len(_LETTERS)] for place in range(count)])
        for grade, band, letter in zip(grades, bands, letters, strict=True):
            number = len(coupons)
            percent = _percent_in(grade, (band + dice.number()) / _BANDS)
            coupons.append(
                PracticeCoupon(number, part, percent, letter, looks[number], shapes[number], dice.whole(2**31))
            )
    return tuple(coupons)


def _percent_in(grade: int, share: float) -> float:
    """Return the percent at a share (0-1) of the way from a grade's lower limit to its upper one, by ratios."""
    lower, upper = limits_percent(grade)
    lower = max(lower, LEAST_PERCENT)
    return lower * math.exp(math.log(upper / lower) * (_RIM + (1 - 2 * _RIM) * share))


class _Dice:
    """Draws from the raw bit stream of a seed, the same on every machine (see `noise`)."""

    def __init__(self, seed: int) -> None:
        self._seed = seed
        self._throws = 0

    def _numbers(self, count: int) -> list[float]:
        self._throws += 1
        return [float(each) for each in uniform(self._seed, 700 + self._throws, count)]

    def number(self) -> float:
        """Return a number in [0, 1)."""
        return self._numbers(1)[0]

    def whole(self, end: int) -> int:
        """Return a whole number from 0 to below ``end``."""
        self._throws += 1
        return int(np.random.PCG64([self._seed % 2**64, 700 + self._throws]).random_raw()) % end

    def shuffled(self, things: Sequence[T]) -> list[T]:
        """Return things in an order of chance."""
        at = self._numbers(len(things))
        return [things[place] for place in sorted(range(len(things)), key=at.__getitem__)]

    def spread_over(self, things: Sequence[T], count: int) -> list[T]:
        """Return ``count`` of some things, each as often as the others, and none twice in a row."""
        drawn: list[T] = []
        while len(drawn) < count:
            more = self.shuffled(things)
            if drawn and more[0] == drawn[-1]:
                more.reverse()
            drawn.extend(more)
        return drawn[:count]
