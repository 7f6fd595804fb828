"""Tests on ranks: whether groups differ at all, and whether they rise in a stated order."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import replace
from itertools import permutations
from math import factorial, floor
from typing import Final

import numpy as np

from rustboard.findings.compare.results import Overall
from rustboard.findings.compare.shuffling import Shuffled, share_as_large, shuffled
from rustboard.findings.coupons.subject import Subject
from rustboard.findings.design_model import Numbers
from rustboard.findings.exchange import Unit
from rustboard.findings.power import Progress

_DRAWS: Final = 9_999
_MOST_STATES: Final = 200_000
_MOST_IN_A_ROW: Final = 7
_SLACK: Final = 1e-9


def friedman_statistic(table: Numbers) -> float:
    """Return Friedman's chi-square of a table with a row for each block and a column for each group.

    Ties within a block take their mean rank, and the statistic is corrected for them (as scipy and textbooks do).
    """
    ranks = _ranks_in_rows(table)
    blocks, groups = ranks.shape
    squares = float(np.square(ranks.sum(axis=0) - blocks * (groups + 1) / 2).sum())
    spread = float(np.square(ranks - (groups + 1) / 2).sum())
    return 0.0 if spread <= 0 else (groups - 1) * squares / spread


def friedman_exact_p(table: Numbers) -> float | None:
    """Return the share of all arrangements within blocks whose statistic is as large, counted; None beyond a limit.

    The sums of ranks of the groups are followed block by block; which group has which sum does not matter, so that
    sums that differ in their order alone count together.
    """
    ranks = _ranks_in_rows(table)
    blocks, groups = ranks.shape
    if groups > _MOST_IN_A_ROW:
        return None
    doubled = np.rint(2 * ranks).astype(int)
    states: dict[tuple[int, ...], int] = {tuple(sorted(doubled[0].tolist())): 1}
    for block in doubled[1:]:
        ways: dict[tuple[int, ...], int] = defaultdict(int)
        for order in permutations(block.tolist()):
            ways[order] += 1
        grown: dict[tuple[int, ...], int] = defaultdict(int)
        for state, count in states.items():
            for order, each in ways.items():
                grown[tuple(sorted(a + b for a, b in zip(state, order, strict=True)))] += count * each
        states = grown
        if len(states) * len(ways) > _MOST_STATES:
            return None
    middle = blocks * (groups + 1)
    seen = sum((each - middle) ** 2 for each in doubled.sum(axis=0).tolist())
    far = sum(count for state, count in states.items() if sum((each - middle) ** 2 for each in state) >= seen)
    return float(far / factorial(groups) ** (blocks - 1))


def page_statistic(table: Numbers) -> float:
    """Return Page's L of a table whose columns are in the order in which they are expected to rise."""
    return float(_ranks_in_rows(table).sum(axis=0) @ np.arange(1, table.shape[1] + 1))


def page_exact_p(table: Numbers, *, ties: bool = True) -> float | None:
    """Return the share of all arrangements within blocks whose L is as large, counted; None with too many columns.

    Args:
        table: a row for each block, columns in the expected order.
        ties: whether blocks keep the ties they have; published tables take the ranks of blocks without ties, and L
            rounded down, which makes p larger.
    """
    blocks, columns = table.shape
    if columns > _MOST_IN_A_ROW + 1:
        return None
    untied = np.tile(np.arange(1, columns + 1), (blocks, 1))
    ranks = np.rint(2 * (_ranks_in_rows(table) if ties else untied)).astype(int)
    sums: dict[int, int] = {0: 1}
    for block in ranks:
        ways: dict[int, int] = defaultdict(int)
        for order in permutations(block.tolist()):
            ways[sum(place * rank for place, rank in enumerate(order, 1))] += 1
        grown: dict[int, int] = defaultdict(int)
        for total, count in sums.items():
            for more, each in ways.items():
                grown[total + more] += count * each
        sums = grown
    statistic = page_statistic(table)
    seen = 2 * (statistic if ties else floor(statistic)) - _SLACK
    return float(sum(count for total, count in sums.items() if total >= seen) / sum(sums.values()))


def kruskal_statistic(values: Numbers, groups: np.ndarray) -> float:
    """Return the H of Kruskal and Wallis, corrected for ties."""
    ranks = _ranks(values)
    count = len(values)
    middle = (count + 1) / 2
    between = sum(
        np.count_nonzero(groups == each) * float(ranks[groups == each].mean() - middle) ** 2
        for each in np.unique(groups)
    )
    spread = float(np.square(ranks - middle).sum())
    return 0.0 if spread <= 0 else float((count - 1) * between / spread)


def overall_test(subject: Subject, values: Mapping[int, float], progress: Progress | None = None) -> Overall | None:
    """Return whether groups differ at all, by ranks and the ways the lots could have fallen; None without two groups.

    Ranks within rows (Friedman) where every row has one unit of each group; else ranks over the board (Kruskal and
    Wallis), exchanged within what the lots allow.

    Args:
        subject: the board.
        values: by key of coupon.
        progress: asked whether to stop; may end the work by raising.
    """
    if progress is not None:
        progress.step(0, 1)
    groups = _units_of_groups(subject, values)
    if len(groups) < 2 or sum(map(len, groups)) <= len(groups):
        return None
    there = shuffled(groups, values)
    table = complete_table(there)
    if table is None:
        ranked = replace(there, raw=_ranks(there.raw))
        statistic = kruskal_statistic(there.raw, there.groups)
        return Overall("Kruskal-Wallis", statistic, _sampled(ranked), _DRAWS, len(groups))
    statistic, exact = friedman_statistic(table), friedman_exact_p(table)
    if exact is not None:
        return Overall("Friedman", statistic, exact, 0, len(groups))
    raw = there.raw.copy()
    for stratum in there.strata:
        raw[stratum] = _ranks(raw[stratum])
    return Overall("Friedman", statistic, _sampled(replace(there, raw=raw)), _DRAWS, len(groups))


def _units_of_groups(subject: Subject, values: Mapping[int, float]) -> list[list[Unit]]:
    hanging = {each.coupon for each in subject.board.hung}
    found = []
    for group in subject.groups:
        coupons = frozenset(each for each in group.coupons if each in hanging and each in values)
        if coupons:
            found.append(subject.exchanges.units_of(coupons))
    return found


def complete_table(there: Shuffled) -> Numbers | None:
    """Return values with a row for each stratum and a column for each group, where each has one unit of each."""
    groups = int(there.groups.max()) + 1
    if len(there.strata) < 2:
        return None
    table = np.empty((len(there.strata), groups))
    for row, stratum in enumerate(there.strata):
        if sorted(there.groups[stratum].tolist()) != list(range(groups)):
            return None
        table[row, there.groups[stratum]] = there.raw[stratum]
    return table


def _sampled(there: Shuffled) -> float:
    """Return p of the spread of the groups' means, from arrangements drawn."""
    sizes, takes_means = np.bincount(there.groups).astype(np.float64), there.indicators
    seen = float(np.square(there.values @ takes_means) @ sizes)
    found = np.square(there.arrangements(_DRAWS, 0) @ takes_means) @ sizes
    return share_as_large(seen, found)


def _ranks(values: Numbers) -> Numbers:
    """Return ranks from 1, ties with their mean; differences in the last digits are ties."""
    from scipy.stats import rankdata

    return np.asarray(rankdata(np.round(values, 9)), dtype=np.float64)


def _ranks_in_rows(table: Numbers) -> Numbers:
    return np.array([_ranks(row) for row in np.asarray(table, dtype=np.float64)])
