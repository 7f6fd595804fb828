"""What could have been hung otherwise by lot: units whose labels may change places, and in how many ways.

A test that leans on nothing but the lots compares what was seen with every other way the lots could have fallen. Its
smallest p is decided before the first coupon rusts: by the number of those ways.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from functools import reduce
from itertools import accumulate
from math import comb
from typing import NamedTuple


@dataclass(frozen=True, slots=True)
class Unit:
    """What the lots moved as one: a coupon, or all coupons of a treatment in one column.

    Attributes:
        coupons: keys.
        in_a: whether it belongs to the first group of the comparison.
        stratum: labels change places only between units of one stratum.
        at_edge: whether it hangs at the edge of the board.
    """

    coupons: frozenset[int]
    in_a: bool
    stratum: tuple[int, ...] = ()
    at_edge: bool = False


class EdgeLimits(NamedTuple):
    """How many of each group the lots put at the edge of the board, at least and at most."""

    low_a: int
    high_a: int
    low_b: int
    high_b: int


class Exchangeable(NamedTuple):
    """The units of one level of the other factor, and what the lots kept to at the edges (None = to nothing)."""

    units: Sequence[Unit]
    limits: EdgeLimits | None = None


class Stratum(NamedTuple):
    """How many units of each group a stratum has, at the edge of the board and away from it."""

    edge_a: int
    edge_b: int
    inner_a: int
    inner_b: int

    @property
    def of_a(self) -> int:
        """Units of the first group."""
        return self.edge_a + self.inner_a

    @property
    def of_b(self) -> int:
        """Units of the second group."""
        return self.edge_b + self.inner_b


@dataclass(frozen=True, slots=True)
class Exchange:
    """Units of two groups and the ways their labels may be exchanged.

    Attributes:
        strata: numbers of units; labels stay within a stratum.
        limits: what the lots kept to at the edges over all strata together, or None.
    """

    strata: tuple[Stratum, ...]
    limits: EdgeLimits | None = None

    @property
    def of_a(self) -> int:
        """Units of the first group."""
        return sum(each.of_a for each in self.strata)

    @property
    def of_b(self) -> int:
        """Units of the second group."""
        return sum(each.of_b for each in self.strata)

    def allows(self, edge_a: int) -> bool:
        """Return whether the lots could have put so many units of the first group at the edge."""
        if self.limits is None:
            return True
        edge_b = sum(each.edge_a + each.edge_b for each in self.strata) - edge_a
        low_a, high_a, low_b, high_b = self.limits
        return low_a <= edge_a <= high_a and low_b <= edge_b <= high_b

    def arrangements(self) -> int:
        """Return in how many ways the labels could lie."""
        ways = reduce(_product, map(_ways_within, self.strata), [1])  # by the first group's units at the edge
        return sum(number for edge_a, number in enumerate(ways) if self.allows(edge_a))

    def has_mirror(self) -> bool:
        """Return whether another arrangement lies exactly opposite the one seen, as far from the mean of them all.

        What is opposite has twice the mean less what is seen, unit by unit: a unit whose label is always the same
        keeps it, one that has either label equally often changes it, and with any other share nothing is opposite.
        """
        ways, edge_a = self.arrangements(), 0
        for each, at_edge in zip(self.strata, self._labels_at_edge(), strict=True):
            edge = _opposite(each.edge_a, each.edge_b, at_edge, ways)
            inner = _opposite(each.inner_a, each.inner_b, ways * each.of_a - at_edge, ways)
            if edge is None or inner is None:
                return False
            edge_a += edge
        return self.allows(edge_a)

    def _labels_at_edge(self) -> list[int]:
        """Return for each stratum how many units of the first group all arrangements together put at the edge."""
        if self.limits is None:
            ways = self.arrangements()
            return [ways * s.of_a * (s.edge_a + s.edge_b) // max(s.of_a + s.of_b, 1) for s in self.strata]
        within = [_ways_within(each) for each in self.strata]
        before = list(accumulate(within, _product, initial=[1]))
        after = list(accumulate(reversed(within), _product, initial=[1]))[::-1]
        return [
            sum(
                edge_a * number * more
                for edge_a, number in enumerate(ways)
                for others, more in enumerate(_product(before[place], after[place + 1]))
                if self.allows(edge_a + others)
            )
            for place, ways in enumerate(within)
        ]


def exchange_of(level: Exchangeable) -> Exchange:
    """Return how the labels of units may be exchanged, in numbers."""
    counts: dict[tuple[int, ...], Counter[tuple[bool, bool]]] = defaultdict(Counter)
    for each in level.units:
        counts[each.stratum][each.at_edge, each.in_a] += 1
    strata = (
        Stratum(found[True, True], found[True, False], found[False, True], found[False, False])
        for _, found in sorted(counts.items())
    )
    return Exchange(tuple(strata), level.limits)


def _opposite(of_a: int, of_b: int, labels: int, ways: int) -> int | None:
    """Return how many of these units have the first group's label in the opposite arrangement; None = there is none.

    Args:
        of_a: how many have the first group's label now.
        of_b: how many have the second's.
        labels: how often, over all arrangements, one of them has the first group's.
        ways: how many arrangements there are.
    """
    if labels in (0, ways * (of_a + of_b)):
        return of_a
    return of_b if 2 * labels == ways * (of_a + of_b) else None


def _ways_within(stratum: Stratum) -> list[int]:
    edge, inner = stratum.edge_a + stratum.edge_b, stratum.inner_a + stratum.inner_b
    return [comb(edge, edge_a) * comb(inner, stratum.of_a - edge_a) for edge_a in range(min(edge, stratum.of_a) + 1)]


def _product(one: Sequence[int], other: Sequence[int]) -> list[int]:
    """Return the coefficients of the product of two polynomials."""
    result = [0] * (len(one) + len(other) - 1)
    for power, factor in enumerate(one):
        for more, second in enumerate(other):
            result[power + more] += factor * second
    return result
