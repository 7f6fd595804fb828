"""Every arrangement of a small layout, written out one by one: slow, and too plain to be wrong."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import combinations, product

from rustboard.findings.exchange import EdgeLimits, Exchangeable, Unit


def units(strata: Sequence[tuple[int, int]], *, edges: Sequence[tuple[int, int]] = ()) -> list[Unit]:
    """Units of strata of so many (of a, of b); ``edges`` says how many of each hang at the edge."""
    found = []
    for number, sizes in enumerate(strata):
        at_edge = edges[number] if edges else (0, 0)
        for in_a, size, edge in zip((True, False), sizes, at_edge, strict=True):
            found += [(in_a, number, int(place < edge)) for place in range(size)]
    return [Unit(frozenset({key}), in_a, (stratum,), edge) for key, (in_a, stratum, edge) in enumerate(found)]


def labellings(level: Exchangeable) -> Iterator[frozenset[int]]:
    """Every set of coupons that the lots could have put into the first group."""
    strata: dict[tuple[int, ...], list[Unit]] = defaultdict(list)
    for each in level.units:
        strata[each.stratum].append(each)
    choices = [combinations(members, sum(each.in_a for each in members)) for members in strata.values()]
    for chosen in product(*choices):
        of_a = {unit for part in chosen for unit in part}
        if _allowed(level.units, of_a, level.limits):
            yield frozenset(key for each in of_a for key in each.coupons)


def _allowed(members: Sequence[Unit], of_a: set[Unit], limits: EdgeLimits | None) -> bool:
    if limits is None:
        return True
    edge_a = sum(each.at_edge for each in of_a)
    edge_b = sum(each.at_edge for each in members) - edge_a
    too_far = sum(
        max(low - edge, edge - high, 0)
        for edge, low, high in ((edge_a, limits.low_a, limits.high_a), (edge_b, limits.low_b, limits.high_b))
    )
    return too_far <= limits.excess


def enumerated(levels: Sequence[Exchangeable], values: dict[int, int]) -> tuple[Fraction, Fraction, Fraction, int]:
    """Two-sided p, p of greater, p of less, and the number of arrangements."""
    sums = [
        sum(values[key] for part in chosen for key in part)
        for chosen in product(*(list(labellings(each)) for each in levels))
    ]
    seen = sum(values[key] for level in levels for each in level.units if each.in_a for key in each.coupons)
    mean, count = Fraction(sum(sums), len(sums)), len(sums)
    return (
        Fraction(sum(abs(each - mean) >= abs(seen - mean) for each in sums), count),
        Fraction(sum(each >= seen for each in sums), count),
        Fraction(sum(each <= seen for each in sums), count),
        count,
    )
