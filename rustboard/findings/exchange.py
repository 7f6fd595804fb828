"""What could have been hung otherwise by lot: units whose labels may change places, and in how many ways.

A test that leans on nothing but the lots compares what was seen with every other way the lots could have fallen. Its
smallest p is decided before the first coupon rusts: by the number of those ways.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, reduce
from itertools import accumulate
from math import comb
from typing import NamedTuple

from rustboard.board.edges import beyond

Ways = Mapping[int, int]
"""In how many ways labels could lie, by how many coupons of the first group are then at the edge of the board."""

_ONE: Ways = {0: 1}


@dataclass(frozen=True, slots=True)
class Unit:
    """What the lots moved as one: a coupon, or all coupons of a column.

    Attributes:
        coupons: keys.
        in_a: whether it belongs to the first group of the comparison.
        stratum: labels change places only between units of one stratum.
        at_edge: how many of its coupons are at the edge of the board.
    """

    coupons: frozenset[int]
    in_a: bool
    stratum: tuple[int, ...] = ()
    at_edge: int = 0


class EdgeLimits(NamedTuple):
    """Each group's fair share of the edge of the board, and how far from fair both together may be."""

    low_a: int
    high_a: int
    low_b: int
    high_b: int
    excess: int = 0

    def allow(self, edge_a: int, edge_b: int) -> bool:
        """Return whether the lots could have put so many coupons of each group at the edge."""
        of_both = beyond(edge_a, self.low_a, self.high_a) + beyond(edge_b, self.low_b, self.high_b)
        return of_both <= self.excess


class Exchangeable(NamedTuple):
    """The units of one level of the other factor, and what the lots kept to at the edges (None = to nothing)."""

    units: Sequence[Unit]
    limits: EdgeLimits | None = None


class AlikeUnits(NamedTuple):
    """Units of one stratum with as many coupons at the edge each: how many of either group."""

    at_edge: int
    of_a: int
    of_b: int


Stratum = tuple[AlikeUnits, ...]


@dataclass(frozen=True)
class Exchange:
    """Numbers of units and the ways their labels may be exchanged.

    Attributes:
        strata: labels stay within a stratum.
        limits: what the lots kept to at the edges over all strata together, or None.
    """

    strata: tuple[Stratum, ...]
    limits: EdgeLimits | None = None

    @property
    def of_a(self) -> int:
        """Units of the first group."""
        return sum(map(_of_a, self.strata))

    @property
    def of_b(self) -> int:
        """Units of the second group."""
        return sum(each.of_b for stratum in self.strata for each in stratum)

    @cached_property
    def _within(self) -> list[Ways]:
        return [_ways_within(each) for each in self.strata]

    @cached_property
    def _arrangements(self) -> int:
        return self._allowed(reduce(_product, self._within, _ONE))

    def arrangements(self) -> int:
        """Return in how many ways the labels could lie."""
        return self._arrangements

    def has_mirror(self) -> bool:
        """Return whether another arrangement lies exactly opposite the one seen, as far from the mean of them all.

        What is opposite has twice the mean less what is seen, unit by unit: a unit whose label is always the same
        keeps it, one that has either label equally often changes it, and with any other share nothing is opposite.
        """
        ways, edge_a = self._arrangements, 0
        for alike, with_a in self._with_one_of_a():
            of_a = alike.of_a
            if 2 * with_a == ways:
                of_a = alike.of_b
            elif with_a not in (0, ways):
                return False
            edge_a += of_a * alike.at_edge
        return self._allows(edge_a)

    def shares_of_a(self) -> list[float]:
        """Return how often a unit has the first group's label, for units alike, in the order of the strata."""
        return [with_a / self._arrangements for _, with_a in self._with_one_of_a()]

    def _with_one_of_a(self) -> Iterator[tuple[AlikeUnits, int]]:
        """Yield in how many ways a certain one of the units alike has the first group's label."""
        before = list(accumulate(self._within, _product, initial=_ONE))
        after = list(accumulate(reversed(self._within), _product, initial=_ONE))[::-1]
        for place, stratum in enumerate(self.strata):
            others = _product(before[place], after[place + 1])
            for number, alike in enumerate(stratum):
                yield alike, self._allowed(_product(others, _ways_with_one_of_a(stratum, number)))

    def _allowed(self, ways: Ways) -> int:
        return sum(number for edge_a, number in ways.items() if self._allows(edge_a))

    def _allows(self, edge_a: int) -> bool:
        if self.limits is None:
            return True
        both = sum(each.at_edge * (each.of_a + each.of_b) for stratum in self.strata for each in stratum)
        return self.limits.allow(edge_a, both - edge_a)


def exchange_of(level: Exchangeable) -> Exchange:
    """Return how the labels of units may be exchanged, in numbers."""
    counts: dict[tuple[int, ...], dict[int, Counter[bool]]] = defaultdict(lambda: defaultdict(Counter))
    for each in level.units:
        counts[each.stratum][each.at_edge if level.limits else 0][each.in_a] += 1
    return Exchange(
        tuple(
            tuple(AlikeUnits(at_edge, found[True], found[False]) for at_edge, found in sorted(alike.items()))
            for _, alike in sorted(counts.items())
        ),
        level.limits,
    )


def _of_a(stratum: Stratum) -> int:
    return sum(each.of_a for each in stratum)


def _ways_within(stratum: Stratum) -> Ways:
    return _chosen([(each.at_edge, each.of_a + each.of_b) for each in stratum], _of_a(stratum))


def _ways_with_one_of_a(stratum: Stratum, number: int) -> Ways:
    """Return the ways in which one certain unit of those alike (by their number) has the first group's label."""
    sizes = [(each.at_edge, each.of_a + each.of_b - (place == number)) for place, each in enumerate(stratum)]
    if not _of_a(stratum):
        return {}
    return {at_edge + stratum[number].at_edge: ways for at_edge, ways in _chosen(sizes, _of_a(stratum) - 1).items()}


def _chosen(sizes: Sequence[tuple[int, int]], wanted: int) -> Ways:
    """Return in how many ways ``wanted`` units are chosen, from numbers of units with so many at the edge each."""
    states: dict[tuple[int, int], int] = {(0, 0): 1}  # (chosen, at the edge) -> ways
    for at_edge, size in sizes:
        grown: dict[tuple[int, int], int] = defaultdict(int)
        for (chosen, edge), ways in states.items():
            for more in range(min(size, wanted - chosen) + 1):
                grown[chosen + more, edge + more * at_edge] += ways * comb(size, more)
        states = grown
    return {edge: ways for (chosen, edge), ways in states.items() if chosen == wanted}


def _product(one: Ways, other: Ways) -> Ways:
    result: dict[int, int] = defaultdict(int)
    for at_edge, ways in one.items():
        for more, more_ways in other.items():
            result[at_edge + more] += ways * more_ways
    return result
