"""What was seen of growing rust: for each look at a coupon its place on the clock and an interval of percent."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import inf, log10
from typing import Final, NamedTuple

import numpy as np
import numpy.typing as npt

from rustboard.board.model import Grading
from rustboard.findings.coupons.measures import Place, graded_places
from rustboard.findings.coupons.subject import Subject
from rustboard.findings.design_model import Numbers
from rustboard.scales.rust_grade import UPPER_LIMITS, limits_percent

Counts = npt.NDArray[np.int64]

MOST_LOOKS: Final = 40
"""So many looks at a coupon are enough: more in between two changes of its grade say next to nothing new, and looks
close to one another are less independent than the model takes them to be (a choice of our own)."""

NO_RUST: Final = log10(UPPER_LIMITS[0])
ALL_RUST: Final = log10(UPPER_LIMITS[-2])
"""Ends of the scale as logarithms of percent: of less or of more is said only that it lies beyond."""


class Look(NamedTuple):
    """One look at a coupon.

    Attributes:
        place: on the clock, above 0.
        low, high: logarithms (base 10) of percent rusted; equal where the percent was stated.
        grade: as given.
    """

    place: float
    low: float
    high: float
    grade: int


@dataclass(frozen=True, eq=False)
class Looks:
    """Looks at coupons, as the fit wants them.

    Attributes:
        place: logarithm (base 10) of the place on the clock of each look.
        low, high: logarithms of percent.
        coupon: which of the coupons, counted from 0.
        group_of: which group each coupon belongs to, counted from 0.
    """

    place: Numbers
    low: Numbers
    high: Numbers
    coupon: Counts
    group_of: Counts


def percent_interval(grading: Grading) -> tuple[float, float]:
    """Return between which logarithms of percent a coupon lay.

    A grade stands for its whole interval, a stated percent for itself. Beyond the ends of the scale, up to 0.01 % and
    above 50 %, a percent says no more than the grade does: nearly nothing has no trustworthy logarithm, and what is
    nearly all rust cannot go on growing.
    """
    if grading.percent is None:
        low, high = limits_percent(grading.grade)
    else:
        low = high = grading.percent
    if high <= UPPER_LIMITS[0]:
        return -inf, NO_RUST
    if low >= UPPER_LIMITS[-2]:
        return ALL_RUST, inf
    return log10(low), log10(high)


def looks_of(subject: Subject, coupons: Iterable[int]) -> dict[int, list[Look]]:
    """Return the looks at coupons by key, by time; without those when exposure had not begun."""
    record, clock = subject.record, subject.request.clock
    inspections = record.inspections_in_order()
    found = {}
    for coupon in coupons:
        places: list[Place] = graded_places(record, coupon, inspections, clock)
        found[coupon] = [
            Look(place, *percent_interval(grading), grading.grade) for place, grading in places if place > 0
        ]
    return found


def thinned(looks: Sequence[Look], most: int = MOST_LOOKS) -> list[Look]:
    """Return at most so many looks: those on both sides of a change of grade, the first, the last, then evenly."""
    if len(looks) <= most:
        return list(looks)
    changes = {0, len(looks) - 1}
    for number in range(1, len(looks)):
        if looks[number].grade != looks[number - 1].grade:
            changes |= {number - 1, number}
    kept = _evenly(sorted(changes), most)
    others = [number for number in range(len(looks)) if number not in changes]
    return [looks[number] for number in sorted({*kept, *_evenly(others, most - len(kept))})]


def _evenly(numbers: Sequence[int], most: int) -> list[int]:
    if len(numbers) <= most:
        return list(numbers)
    if most < 2:
        return list(numbers[:most])
    return [numbers[round(step * (len(numbers) - 1) / (most - 1))] for step in range(most)]


def as_arrays(looks: Mapping[int, Sequence[Look]], group_of: Mapping[int, int]) -> Looks:
    """Return looks as the fit wants them, coupons by key.

    Args:
        looks: by key of coupon.
        group_of: number of its group, by key.
    """
    coupons = sorted(looks)
    rows = [(number, each) for number, key in enumerate(coupons) for each in thinned(looks[key])]
    return Looks(
        np.array([log10(each.place) for _, each in rows], dtype=np.float64),
        np.array([each.low for _, each in rows], dtype=np.float64),
        np.array([each.high for _, each in rows], dtype=np.float64),
        np.array([number for number, _ in rows], dtype=np.int64),
        np.array([group_of[key] for key in coupons], dtype=np.int64),
    )
