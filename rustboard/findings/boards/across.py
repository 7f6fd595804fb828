"""The exact permutation test over several boards: every board is a stratum, labels never leave their board."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import sqrt
from typing import Final

import numpy as np
import numpy.typing as npt

from rustboard.findings.boards.effects import Sides
from rustboard.findings.coupons.subject import Subject
from rustboard.findings.exchange import EdgeLimits, Exchangeable, Unit, exchange_of
from rustboard.findings.permutation import exact_test
from rustboard.findings.smallest_p import smallest_p

DRAWS: Final = 20_000
LEAST_DRAWS: Final = 1_000
"""With fewer arrangements drawn there is no p (own choice, no source)."""
MOST_STATES: Final = 60_000
"""Beyond so many different sums arrangements are drawn instead of counted: several boards have very many."""
_SEED: Final = 7_207
_MOST_ROUNDS: Final = 50
_MOST_AT_ONCE: Final = 2_000_000
_TOLERANCE: Final = 1e-9
_UNSURE: Final = 4
"""Standard errors of a drawn mean within which sums count as equally far from it: it may not halve a p."""
_Numbers = npt.NDArray[np.float64]
_Members = Sequence[tuple[Unit, float]]


@dataclass(frozen=True, slots=True)
class AcrossTest:
    """What the exact test over several boards found.

    Attributes:
        p: two-sided; None where so few arrangements could be drawn that it would say nothing.
        smallest: the smallest p that these boards together could give.
        sampled: how many arrangements were drawn; 0 = all were counted.
    """

    p: float | None
    smallest: float
    sampled: int = 0


def across_boards(
    sides: Sequence[Sides], subjects: Sequence[Subject], *, draws: int = DRAWS, most_states: int = MOST_STATES
) -> AcrossTest:
    """Return the exact test of one comparison over all boards that can make it.

    The statistic is the sum of the first group's values on all boards; each board weighs its difference by
    ``n_a n_b / (n_a + n_b)``. What is tested is that the two made no difference to any coupon on any board. Where
    the arrangements are too many to count, ``draws`` of them are drawn, always the same ones, and p is
    ``(k + 1) / (m + 1)``: it holds for any number drawn (Phipson and Smyth 2010).
    """
    levels, values = _joined(sides, subjects)
    least = smallest_p([exchange_of(each) for each in levels])
    found = exact_test(levels, values, most_states=most_states)
    if found is not None:
        return AcrossTest(found.two_sided, least)
    return _sampled(levels, values, least, draws)


def _joined(sides: Sequence[Sides], subjects: Sequence[Subject]) -> tuple[list[Exchangeable], dict[int, float]]:
    """Return the levels of all boards with coupons that have keys of their own, and their values."""
    levels: list[Exchangeable] = []
    values: dict[int, float] = {}
    for each in sides:
        subject = subjects[each.board]
        keys: dict[int, int] = {}
        for level in subject.exchanges.of(each.comparison):
            units = []
            for unit in level.units:
                for coupon in unit.coupons:
                    keys.setdefault(coupon, len(values) + len(keys))
                units.append(
                    Unit(frozenset(keys[one] for one in unit.coupons), unit.in_a, unit.stratum, unit.at_edge)
                )
            levels.append(Exchangeable(tuple(units), level.limits))
        values |= {keys[coupon]: subject.values.get(coupon, float("nan")) for coupon in keys}
    return levels, {key: value for key, value in values.items() if value == value}


def _sampled(levels: Sequence[Exchangeable], values: Mapping[int, float], least: float, draws: int) -> AcrossTest:
    draw = np.random.default_rng(_SEED)
    sums = np.zeros(draws)
    observed, middle, unsure, reached = 0.0, 0.0, 0.0, draws
    for level in levels:
        members = [(unit, value) for unit in level.units if (value := _value(unit, values)) is not None]
        found = _level_sums(members, level.limits, draw, draws)
        reached = min(reached, len(found))
        if reached < LEAST_DRAWS:
            return AcrossTest(None, least)
        sums[:reached] = sums[:reached] + found[:reached]
        observed += sum(value for unit, value in members if unit.in_a)
        if level.limits is None:
            middle += _mean(members)
        else:  # not every unit comes into either group equally often: the mean is that of those drawn
            middle += float(found.mean())
            unsure += _UNSURE * float(found.std()) / sqrt(len(found))
    sums = sums[:reached]
    slack = unsure + _TOLERANCE * max(map(abs, values.values()), default=0.0)
    extreme = np.abs(sums - middle) >= abs(observed - middle) - slack
    return AcrossTest(float((np.count_nonzero(extreme) + 1) / (reached + 1)), least, reached)


def _mean(members: _Members) -> float:
    """Return the mean of all sums where every unit of a stratum comes into the first group equally often."""
    strata = _strata(members)
    return sum(
        sum(unit.in_a for unit, _ in within) * sum(value for _, value in within) / len(within)
        for within in strata.values()
    )


def _strata(members: _Members) -> dict[tuple[int, ...], list[tuple[Unit, float]]]:
    found: dict[tuple[int, ...], list[tuple[Unit, float]]] = defaultdict(list)
    for unit, value in members:
        found[unit.stratum].append((unit, value))
    return found


def _level_sums(members: _Members, limits: EdgeLimits | None, draw: np.random.Generator, draws: int) -> _Numbers:
    """Return sums of one level by lots as they could have fallen.

    Where lots kept to fair edges, those that they would not have allowed are drawn again, some fifty times at most.
    """
    at_edge = sum(unit.at_edge for unit, _ in members)
    allowed = np.array([limits is None or limits.allow(each, at_edge - each) for each in range(at_edge + 1)])
    portion = max(1, min(draws, _MOST_AT_ONCE // max(len(members), 1)))
    kept: list[_Numbers] = []
    for _ in range(_MOST_ROUNDS * (-(-draws // portion))):
        sums, edges = _once(members, draw, portion)
        kept.append(sums[allowed[edges]])
        if sum(map(len, kept)) >= draws:
            break
    return np.concatenate(kept)[:draws]


def _once(members: _Members, draw: np.random.Generator, draws: int) -> tuple[_Numbers, npt.NDArray[np.intp]]:
    """Return sums of the first group and how many of its coupons are at the edge, for so many lots."""
    sums, edges = np.zeros(draws), np.zeros(draws, dtype=np.intp)
    for within in _strata(members).values():
        wanted = sum(unit.in_a for unit, _ in within)
        order = np.argsort(draw.random((draws, len(within))), axis=1)[:, :wanted]
        sums += np.array([value for _, value in within])[order].sum(axis=1)
        edges += np.array([unit.at_edge for unit, _ in within], dtype=np.intp)[order].sum(axis=1)
    return sums, edges


def _value(unit: Unit, values: Mapping[int, float]) -> float | None:
    known = [values[each] for each in sorted(unit.coupons) if each in values]
    return sum(known) / len(known) if known else None


def step_down(found: Sequence[float | None]) -> list[float | None]:
    """Return p values of a family, so that the chance of any false difference stays within them (Holm 1979)."""
    known = sorted((p, number) for number, p in enumerate(found) if p is not None)
    result: list[float | None] = [None] * len(found)
    highest = 0.0
    for place, (p, number) in enumerate(known):
        highest = max(highest, min(1.0, p * (len(known) - place)))
        result[number] = highest
    return result
