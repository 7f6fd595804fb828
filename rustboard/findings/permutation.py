"""The exact permutation test of a comparison: every way the lots could have fallen is counted, none is sampled.

A plan has no grades yet, so planning does not call it: it is there to judge a board once it is graded, by the same
exchanges whose number the plan is told beforehand.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import lcm
from typing import Final

from rustboard.findings.exchange import EdgeLimits, Exchangeable, Unit

MOST_STATES: Final = 400_000
"""Beyond so many different sums the count takes too long (common practice, no source)."""

_TOLERANCE: Final = Fraction(1, 10**9)
"""Of the largest value: sums that differ by less are equal, as 0.1 + 0.2 and 0.3 are."""


@dataclass(frozen=True, slots=True)
class ExactTest:
    """What a permutation test found.

    Attributes:
        two_sided: share of arrangements whose sum lies as far from the mean of all as the one seen, or farther.
        greater, less: share whose sum for the first group is as high, or as low, or more so.
        arrangements: how many there are.
    """

    two_sided: float
    greater: float
    less: float
    arrangements: int


def exact_test(
    levels: Sequence[Exchangeable], values: Mapping[int, float], *, most_states: int = MOST_STATES
) -> ExactTest | None:
    """Return the exact test of a difference between the two groups; None when there are too many different sums.

    The statistic is the sum of the first group's values, a unit of several coupons counting with their mean, each
    stratum apart. Where the groups have unequal numbers, this is the stratified test that weighs the difference in a
    stratum by ``n_a n_b / (n_a + n_b)``.

    Args:
        levels: as `findings.units.Exchanges.of` gives them.
        values: by key of coupon; units of which no coupon has a value are left out.
        most_states: how much work is allowed.
    """
    found = _distribution(levels, values, most_states)
    return None if found is None else _judged(found)


def attainable_p(
    levels: Sequence[Exchangeable], values: Mapping[int, float], *, most_states: int = MOST_STATES
) -> tuple[float, ...] | None:
    """Return every two-sided p that the exact test of these values could have had, the smallest first.

    Args:
        levels: as for `exact_test`.
        values: by key of coupon.
        most_states: how much work is allowed; None beyond it.
    """
    found = _distribution(levels, values, most_states)
    if found is None or not found.count:
        return None
    by_distance: dict[Fraction, int] = defaultdict(int)
    for total, ways in found.sums.items():
        by_distance[abs(total - found.mean)] += ways
    attained, farther, before = [], 0, None
    for distance in sorted(by_distance, reverse=True):
        if before is not None and before - distance > found.slack:
            attained.append(farther / found.count)
        farther += by_distance[distance]
        before = distance
    return (*attained, 1.0)


@dataclass(frozen=True, slots=True)
class _Distribution:
    """Sums of the first group over all arrangements: how many arrangements have each, and the one that was seen."""

    sums: Mapping[int, int]
    observed: int
    slack: Fraction

    @property
    def count(self) -> int:
        return sum(self.sums.values())

    @property
    def mean(self) -> Fraction:
        return Fraction(sum(total * ways for total, ways in self.sums.items()), self.count)


def _distribution(
    levels: Sequence[Exchangeable], values: Mapping[int, float], most_states: int
) -> _Distribution | None:
    sums: dict[int, int] = {0: 1}
    observed = 0
    measured = [
        [(each, value) for each in level.units if (value := _mean(each, values)) is not None] for level in levels
    ]
    scale = lcm(1, *(value.denominator for found in measured for _, value in found))
    for level, found in zip(levels, measured, strict=True):
        whole = [(unit, int(value * scale)) for unit, value in found]
        observed += sum(value for unit, value in whole if unit.in_a)
        here = _sums(whole, level.limits, most_states)
        if here is None or len(sums) * len(here) > most_states * 10:
            return None
        sums = _convolved(sums, here)
        if len(sums) > most_states:
            return None
    largest = max((abs(value) for found in measured for _, value in found), default=Fraction())
    return _Distribution(sums, observed, largest * _TOLERANCE * scale)


def _mean(unit: Unit, values: Mapping[int, float]) -> Fraction | None:
    # From its decimal digits, so that equal decimals make equal sums.
    known = [Fraction(repr(float(values[each]))) for each in unit.coupons if each in values]
    return sum(known, Fraction()) / len(known) if known else None


def _sums(units: Iterable[tuple[Unit, int]], limits: EdgeLimits | None, most_states: int) -> dict[int, int] | None:
    """Return how many arrangements of one level have each sum."""
    units = list(units)
    strata: dict[tuple[int, ...], list[tuple[Unit, int]]] = defaultdict(list)
    for unit, value in units:
        strata[unit.stratum].append((unit, value))
    states: dict[tuple[int, int], int] = {(0, 0): 1}  # (units of a at the edge, sum) -> arrangements
    for members in strata.values():
        within = _chosen(members, edges=limits is not None, most_states=most_states)
        if within is None or len(within) * len(states) > most_states * 10:
            return None
        states = _merged(states, within)
        if len(states) > most_states:
            return None
    at_edge = sum(unit.at_edge for unit, _ in units)
    result: dict[int, int] = defaultdict(int)
    for (edge_a, total), ways in states.items():
        if limits is None or limits.allow(edge_a, at_edge - edge_a):
            result[total] += ways
    return dict(result)


def _chosen(
    members: Sequence[tuple[Unit, int]], *, edges: bool, most_states: int
) -> dict[tuple[int, int], int] | None:
    """Return how many ways to choose as many units as the first group has, by how many at the edge and by sum."""
    wanted = sum(unit.in_a for unit, _ in members)
    states: dict[tuple[int, int, int], int] = {(0, 0, 0): 1}  # (chosen, at the edge, sum)
    for seen, (unit, value) in enumerate(members, 1):
        grown: dict[tuple[int, int, int], int] = defaultdict(int)
        needed = wanted - (len(members) - seen)
        for (chosen, at_edge, total), ways in states.items():
            if chosen >= needed:
                grown[chosen, at_edge, total] += ways
            if chosen < wanted:
                grown[chosen + 1, at_edge + unit.at_edge * edges, total + value] += ways
        if len(grown) > most_states:
            return None
        states = grown
    return {(at_edge, total): ways for (chosen, at_edge, total), ways in states.items() if chosen == wanted}


def _merged(one: Mapping[tuple[int, int], int], other: Mapping[tuple[int, int], int]) -> dict[tuple[int, int], int]:
    result: dict[tuple[int, int], int] = defaultdict(int)
    for (edge, total), ways in one.items():
        for (more_edge, more), more_ways in other.items():
            result[edge + more_edge, total + more] += ways * more_ways
    return result


def _convolved(one: Mapping[int, int], other: Mapping[int, int]) -> dict[int, int]:
    result: dict[int, int] = defaultdict(int)
    for total, ways in one.items():
        for more, more_ways in other.items():
            result[total + more] += ways * more_ways
    return result


def _judged(found: _Distribution) -> ExactTest | None:
    count = found.count
    if not count:
        return None
    mean, slack, observed = found.mean, found.slack, found.observed
    far = abs(observed - mean) - slack
    return ExactTest(
        sum(ways for total, ways in found.sums.items() if abs(total - mean) >= far) / count,
        sum(ways for total, ways in found.sums.items() if total >= observed - slack) / count,
        sum(ways for total, ways in found.sums.items() if total <= observed + slack) / count,
        count,
    )
