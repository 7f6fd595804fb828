"""The exact test of one comparison, with the smallest p that it could ever have had."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from typing import Final

import numpy as np

from rustboard.board.comparisons import Comparison
from rustboard.findings.compare.results import ExactResult
from rustboard.findings.compare.shuffling import SEED, share_as_large
from rustboard.findings.coupons.subject import Subject
from rustboard.findings.exchange import EdgeLimits, Exchangeable, Unit, exchange_of
from rustboard.findings.permutation import exact_test
from rustboard.findings.power import Progress
from rustboard.findings.smallest_p import arrangements, smallest_p

DRAWS: Final = 19_999
MOST_STATES: Final = 60_000
_PORTION: Final = 4_000
_FEWEST_KEPT: Final = 0.02


def exact_result(
    subject: Subject, comparison: Comparison, values: Mapping[int, float], progress: Progress | None = None
) -> ExactResult:
    """Return the exact test of one comparison, alone.

    Where there are too many arrangements to count, `DRAWS` of them are drawn.

    Args:
        subject: the board.
        comparison: of it, with the coupons that have a value.
        values: by key of coupon.
        progress: asked whether to stop; may end the work by raising.
    """
    levels = levels_with_values(subject, comparison, values)
    exchanges = [exchange_of(each) for each in levels]
    ways, smallest = arrangements(exchanges), smallest_p(exchanges)
    if progress is not None:
        progress.step(0, 1)
    found = exact_test(levels, values, most_states=MOST_STATES)
    if found is not None:
        return ExactResult(found.two_sided, smallest, ways)
    return ExactResult(_sampled_p(levels, values), smallest, ways, DRAWS)


def levels_with_values(subject: Subject, comparison: Comparison, values: Mapping[int, float]) -> list[Exchangeable]:
    """Return the units of a comparison that have a value, by level, as the lots may exchange them."""
    return [
        Exchangeable(tuple(unit for unit in level.units if not unit.coupons.isdisjoint(values)), level.limits)
        for level in subject.exchanges.of(comparison)
    ]


def _sampled_p(levels: Sequence[Exchangeable], values: Mapping[int, float]) -> float:
    seen, middle, sums = 0.0, 0.0, np.zeros(DRAWS)
    for number, level in enumerate(levels):
        of_units = np.array([_mean(each, values) for each in level.units])
        in_a = np.array([each.in_a for each in level.units])
        # About the middle of each stratum, so that what is far out is far from the mean of all arrangements.
        for stratum in {each.stratum for each in level.units}:
            members = [place for place, each in enumerate(level.units) if each.stratum == stratum]
            of_units[members] -= of_units[members].mean()
        labels, shares = _labels(level.units, level.limits, number)
        seen += float(of_units[in_a].sum())
        middle += float(shares @ of_units)
        sums += labels @ of_units
    # The middle of all arrangements, not of those drawn: what lies exactly opposite must count as being as far out.
    return share_as_large(abs(seen - middle), np.abs(sums - middle))


def _mean(unit: Unit, values: Mapping[int, float]) -> float:
    known = [values[each] for each in sorted(unit.coupons) if each in values]
    return sum(known) / len(known)


def _labels(units: Sequence[Unit], limits: EdgeLimits | None, level: int) -> tuple[np.ndarray, np.ndarray]:
    """Return labels of the first group as the lots could have dealt them, a row for each draw, and their mean."""
    strata = [each.stratum for each in units]
    if limits is None:
        return _dealt(units, strata, DRAWS, (SEED, level)), _mean_labels(units, strata)
    kept: list[np.ndarray] = []
    at_edge = np.array([each.at_edge for each in units])
    count, tried = 0, 0
    while count < DRAWS:
        some = _dealt(units, strata, _PORTION, (SEED, level, tried))
        edges = some @ at_edge
        fair = some[[limits.allow(int(each), int(at_edge.sum() - each)) for each in edges]]
        kept.append(fair)
        count, tried = count + len(fair), tried + 1
        if tried >= 3 and count < _FEWEST_KEPT * tried * _PORTION:
            # Fair lots are too rare to wait for: exchange only within equal shares of the edge, which is fair too.
            strata = [(*each.stratum, each.at_edge) for each in units]
            return _dealt(units, strata, DRAWS, (SEED, level)), _mean_labels(units, strata)
    alike = sorted({(each.stratum, each.at_edge) for each in units})
    shares = dict(zip(alike, exchange_of(Exchangeable(units, limits)).shares_of_a(), strict=True))
    return np.concatenate(kept)[:DRAWS], np.array([shares[each.stratum, each.at_edge] for each in units])


def _mean_labels(units: Sequence[Unit], strata: Sequence[tuple[int, ...]]) -> np.ndarray:
    """Return how often each unit has the first group's label where all within a stratum have it alike."""
    sizes = Counter(strata)
    of_a = Counter(stratum for unit, stratum in zip(units, strata, strict=True) if unit.in_a)
    return np.array([of_a[each] / sizes[each] for each in strata])


def _dealt(units: Sequence[Unit], strata: Sequence[tuple[int, ...]], draws: int, seed: tuple[int, ...]) -> np.ndarray:
    draw = np.random.default_rng(seed)
    found = np.zeros((draws, len(units)), dtype=np.int8)
    for stratum in sorted(set(strata)):
        members = np.array([place for place, each in enumerate(strata) if each == stratum])
        of_a = sum(units[place].in_a for place in members)
        order = draw.random((draws, len(members))).argsort(axis=1)
        found[:, members] = order < of_a
    return found
