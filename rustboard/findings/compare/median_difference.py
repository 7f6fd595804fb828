"""The median difference of one comparison, where ranks tell what the lots allow."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence

from rustboard.board.comparisons import Comparison
from rustboard.findings.compare.exact_pairs import levels_with_values
from rustboard.findings.compare.shifts import Shift, paired_shift, two_sample_shift
from rustboard.findings.coupons.subject import Subject, values_of
from rustboard.findings.exchange import Exchangeable, Unit, exchange_of


def median_difference(subject: Subject, comparison: Comparison) -> Shift | None:
    """Return by how much the first side lies above the second: the median of all differences, with its interval.

    Two samples where labels change places over all units; pairs where they do so only within strata of one unit of
    each side. None for anything else: more than one level, strata of other sizes, lots that kept some arrangements
    out to spread the edges fairly, and times, which are known as intervals only.
    """
    levels = levels_with_values(subject, comparison, subject.values)
    if len(levels) != 1 or not subject.in_grades or _keeps_ways_out(levels[0]):
        return None
    strata: dict[tuple[int, ...], tuple[list[float], list[float]]] = defaultdict(lambda: ([], []))
    for unit in levels[0].units:
        a, b = strata[unit.stratum]
        (a if unit.in_a else b).append(_mean(unit, subject.values))
    sides = list(strata.values())
    if len(sides) == 1 and all(sides[0]):
        return two_sample_shift(*sides[0])
    if sides and all(len(a) == len(b) == 1 for a, b in sides):
        return paired_shift(_firsts(a for a, _ in sides), _firsts(b for _, b in sides))
    return None


def _keeps_ways_out(level: Exchangeable) -> bool:
    free = exchange_of(Exchangeable(level.units))
    return level.limits is not None and exchange_of(level).arrangements() < free.arrangements()


def _mean(unit: Unit, values: Mapping[int, float]) -> float:
    known = values_of(unit.coupons, values)
    return sum(known) / len(known)


def _firsts(sides: Iterable[Sequence[float]]) -> list[float]:
    return [each[0] for each in sides]
