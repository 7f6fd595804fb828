"""How much coupons treated alike differ in grade: seen on boards that were graded, or assumed."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import sqrt
from statistics import variance
from typing import Final

from rustboard.board.grade import GRADES
from rustboard.board.record import BoardRecord

ASSUMED_SD: Final = 1.0
"""Grades. Nobody has published how much grades of coupons treated alike differ: a round assumption of our own."""


@dataclass(frozen=True, slots=True)
class Spread:
    """The spread within treatments.

    Attributes:
        sd: standard deviation in grades.
        degrees_of_freedom: what it rests on; 0 = it is assumed.
        treatments: how many treatments it was seen in.
        boards: names of the boards it was seen on.
    """

    sd: float
    degrees_of_freedom: int
    treatments: int = 0
    boards: tuple[str, ...] = ()


def board_spread(record: BoardRecord) -> Spread | None:
    """Return the spread on a board, pooled over its treatments; None where it shows none.

    Of each treatment counts the last inspection at which two or more of its coupons were graded. A treatment whose
    coupons then all had grade 10, or all 0, is left out: at the ends of the scale nothing can differ.
    """
    squares, freedom, treatments = 0.0, 0, 0
    for grades in _last_grades(record):
        if set(grades) in ({GRADES[0]}, {GRADES[-1]}):
            continue
        squares += variance(grades) * (len(grades) - 1)
        freedom += len(grades) - 1
        treatments += 1
    if not freedom:
        return None
    return Spread(sqrt(squares / freedom), freedom, treatments, (record.board.name,))


def _last_grades(record: BoardRecord) -> Iterable[list[int]]:
    """Yield for each treatment the grades of its coupons at the last inspection that has two or more of them."""
    inspections = record.inspections_in_order()
    replicates: dict[int, list[int]] = {}
    for coupon in record.coupons.values():
        if coupon.treatment is not None:
            replicates.setdefault(coupon.treatment, []).append(coupon.key)
    for coupons in replicates.values():
        for inspection in reversed(inspections):
            found = [each for key in coupons if (each := record.grading(key, inspection.key)) is not None]
            if len(found) >= 2:
                yield [each.grade for each in found]
                break


def pooled_spread(spreads: Iterable[Spread]) -> Spread | None:
    """Return the spread of several boards together, each by its degrees of freedom; None where there is none."""
    measured = [each for each in spreads if each.degrees_of_freedom]
    freedom = sum(each.degrees_of_freedom for each in measured)
    if not freedom:
        return None
    squares = sum(each.sd**2 * each.degrees_of_freedom for each in measured)
    names = tuple(name for each in measured for name in each.boards)
    return Spread(sqrt(squares / freedom), freedom, sum(each.treatments for each in measured), names)
