"""What an order from choices is worth: coupons not told apart, choices that contradict, and the grades beside it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations
from math import sqrt
from typing import Final, NamedTuple

import numpy as np

from rustboard.findings.side_by_side.choices import Choice, among, preferences
from rustboard.findings.side_by_side.strengths import Strengths

_EQUAL: Final = 1e-9


def inseparable(strengths: Strengths) -> tuple[tuple[int, ...], ...]:
    """Return the groups of two or more coupons of which no two can be told apart, least rusted first.

    A group is a run of neighbours in the order, as long as it can be; a coupon may be in several. Two can be told
    apart where the 95 % interval of their gap does not hold 0, each pair taken alone: among many coupons one pair in
    twenty that are alike is told apart by luck.
    """
    count, found, reached = len(strengths.order), [], 0
    for start in range(count):
        end = max(start, reached)  # what holds for a run holds for its part
        while end < count and not any(strengths.gap(place, end).is_sure for place in range(start, end)):
            end += 1
        if end - start > 1 and end > reached:
            found.append(tuple(each.item for each in strengths.order[start:end]))
        reached = max(reached, end)
    return tuple(found)


@dataclass(frozen=True, slots=True)
class Contradictions:
    """Choices that no order can meet.

    Attributes:
        circles: threes of coupons of which a was called less rusted than b, b than c, and c than a (circular triads,
            Kendall & Babington Smith 1940), by the majority where a pair was asked more than once.
        threes: threes of which all three pairs were decided, so that there could be a circle.
        items: coupons in circles, with the number of circles each, most first.
        reversed_pairs: pairs that were answered both ways.
        against: choices that go against the order.
        decided: choices that were not “cannot tell”.
    """

    circles: int
    threes: int
    items: tuple[tuple[int, int], ...]
    reversed_pairs: int
    against: int
    decided: int


def contradictions(strengths: Strengths, choices: Iterable[Choice]) -> Contradictions:
    """Return what contradicts one another in choices, and the order that was made of them."""
    items = [each.item for each in strengths.order]
    values = {each.item: each.value for each in strengths.order}
    decided = [each for each in among(items, choices) if each.rustier is not None]
    won = preferences(items, decided)
    beats = (won > won.T).astype(float)
    around = np.diag(beats @ beats @ beats)
    either = beats + beats.T
    in_circles = [(item, round(float(times))) for item, times in zip(items, around, strict=True) if times > 0]
    against = sum(
        values[each.rustier] > values[each.left + each.right - each.rustier] + _EQUAL
        for each in decided
        if each.rustier is not None
    )
    return Contradictions(
        circles=round(float(around.sum()) / 3),
        threes=round(float(np.trace(either @ either @ either)) / 6),
        items=tuple(sorted(in_circles, key=lambda each: -each[1])),
        reversed_pairs=round(float(((won > 0) & (won.T > 0)).sum()) / 2),
        against=against,
        decided=len(decided),
    )


class Misplaced(NamedTuple):
    """A coupon that the order puts elsewhere than its grade does.

    Attributes:
        item: key of the coupon.
        grade: of it.
        place: in the order, 1 = least rusted.
        first, last: places its grade allows, among coupons of the same grade.
        off_by: from the nearest of those; above 0 = the order has it more rusted than its grade says.
    """

    item: int
    grade: float
    place: int
    first: int
    last: int
    off_by: int


@dataclass(frozen=True, slots=True)
class AgainstGrades:
    """How an order agrees with grades.

    Attributes:
        items: coupons that are in both.
        tau: Kendall's tau-b, from 1 (same order) over 0 to -1 (reversed); None with fewer than two different grades
            or strengths. Coupons of equal grade are left as ties, which the order may put either way.
        same, other: pairs of coupons of different grade that stand in the same order, and in the other one.
        misplaced: coupons off their place, farthest first.
    """

    items: int
    tau: float | None
    same: int
    other: int
    misplaced: tuple[Misplaced, ...]


def against_grades(strengths: Strengths, grades: Mapping[int, float]) -> AgainstGrades:
    """Return how the order agrees with grades; coupons without a grade are left out, and places counted without them.

    Kendall's tau-b (Kendall 1945, "The treatment of ties in ranking problems").

    Args:
        strengths: the order.
        grades: by key of coupon; higher = less rust.
    """
    known = [(each.item, each.value, grades[each.item]) for each in strengths.order if each.item in grades]
    same = other = by_value = by_grade = 0
    for (_, value_a, grade_a), (_, value_b, grade_b) in combinations(known, 2):
        values, apart = value_a - value_b > _EQUAL, grade_a - grade_b  # strengths fall along the order
        same += values and apart > 0
        other += values and apart < 0
        by_value += values
        by_grade += apart != 0
    tau = (same - other) / sqrt(by_value * by_grade) if by_value and by_grade else None
    return AgainstGrades(len(known), tau, same, other, _misplaced([(item, grade) for item, _, grade in known]))


def _misplaced(order: Sequence[tuple[int, float]]) -> tuple[Misplaced, ...]:
    found = []
    for place, (item, grade) in enumerate(order, 1):
        first = 1 + sum(each > grade for _, each in order)
        last = sum(each >= grade for _, each in order)
        off_by = place - min(max(place, first), last)
        if off_by:
            found.append(Misplaced(item, grade, place, first, last, off_by))
    return tuple(sorted(found, key=lambda each: -abs(each.off_by)))
