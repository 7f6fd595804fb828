"""Closed testing: a difference is shown only when every hypothesis that implies there is none is rejected.

The chance of any false difference among all comparisons of the question then stays within 5 in 100, with nothing
leaned on but the lots.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from itertools import combinations
from math import sqrt
from typing import Final

import numpy as np

from rustboard.board.comparisons import Comparison
from rustboard.findings.compare.results import ExactResult
from rustboard.findings.compare.shuffling import share_as_large, shuffled
from rustboard.findings.compare.step_down import step_down
from rustboard.findings.coupons.subject import Subject
from rustboard.findings.design_model import Numbers
from rustboard.findings.exchange import Unit
from rustboard.findings.power import Progress

Tested = Sequence[tuple[Comparison, ExactResult]]
Pair = tuple[int, int]

MOST_GROUPS: Final = 12
"""With more there are too many sets of them; Holm's step-down takes the place of closed testing."""
_FAR_FROM_DECIDING: Final = 0.25
_DRAWS_FOR_FEW: Final = 9_999
_DRAWS_FOR_MANY: Final = 1_999
_FEW_GROUPS: Final = 7


def with_family(
    subject: Subject, results: Tested, values: Mapping[int, float], progress: Progress | None = None
) -> list[ExactResult]:
    """Return the exact results, each with its p over all comparisons of the question.

    All pairs of groups: sets of groups that are all equal, each tested by exchanging labels within it, the largest
    difference of means as the statistic; the p of a set of m of k groups becomes 1 - (1 - p) ** (k / m) where m is
    less than k - 1, so that several disjoint sets may be equal at once (Ryan 1960, Einot and Gabriel 1975, Welsch
    1977; from memory). Against controls: sets of treatments all equal to the controls, the largest difference from
    them as the statistic (Marcus, Peritz and Gabriel 1976; from memory). Everything else: Holm's step-down for exact
    tests.

    Args:
        subject: the board.
        results: all comparisons of the question, each with its exact test alone.
        values: by key of coupon.
        progress: told how far the work is; may end it by raising.
    """
    if len(results) < 2:
        return [replace(each, p_family=each.p) for _, each in results]
    kinds = {comparison.kind for comparison, _ in results}
    groups = _groups(comparison for comparison, _ in results)
    if len(groups) <= MOST_GROUPS and kinds == {"control"}:
        return _Closure(subject, results, values, groups, progress).against_control()
    all_pairs = len(results) == len(groups) * (len(groups) - 1) // 2
    if len(groups) <= MOST_GROUPS and all_pairs and len(kinds) == 1 and kinds <= {"pair", "family"}:
        return _Closure(subject, results, values, groups, progress).all_pairs()
    return step_down(subject, results, values, progress)


def _groups(comparisons: Iterable[Comparison]) -> dict[str, frozenset[int]]:
    found: dict[str, frozenset[int]] = {}
    for each in comparisons:
        found.setdefault(each.a, each.coupons_a)
        found.setdefault(each.b, each.coupons_b)
    return found


class _Closure:
    """The sets of groups, tested from the largest to the smallest."""

    def __init__(
        self,
        subject: Subject,
        results: Tested,
        values: Mapping[int, float],
        groups: Mapping[str, frozenset[int]],
        progress: Progress | None,
    ) -> None:
        self._results, self._values, self._progress = results, values, progress
        self._names = sorted(groups)
        numbers = {name: number for number, name in enumerate(self._names)}
        self._pairs: list[Pair] = [(numbers[each.a], numbers[each.b]) for each, _ in results]
        self._units: list[list[Unit]] = [subject.exchanges.units_of(groups[name]) for name in self._names]
        self._draws = _DRAWS_FOR_FEW if len(groups) <= _FEW_GROUPS else _DRAWS_FOR_MANY
        self._largest = [0.0] * len(results)
        self._at_least = [False] * len(results)

    def all_pairs(self) -> list[ExactResult]:
        """Return all pairs with their p over the family."""
        every = range(len(self._names))
        count = len(self._names)

        def adjusted(p: float, members: int) -> float:
            return p if members >= count - 1 else float(1 - (1 - p) ** (count / members))

        sets = [each for size in range(count, 1, -1) for each in combinations(every, size)]
        return self._closed(sets, _largest_of_all, adjusted)

    def against_control(self) -> list[ExactResult]:
        """Return all differences from the controls with their p over the family."""
        control = self._pairs[0][1]
        treatments = [each for each in range(len(self._names)) if each != control]
        sets = [(control, *each) for size in range(len(treatments), 0, -1) for each in combinations(treatments, size)]
        return self._closed(sets, _largest_from_first, _as_it_is)

    def _closed(
        self,
        sets: Sequence[tuple[int, ...]],
        statistic: Callable[[Numbers, Numbers], Numbers],
        adjusted: Callable[[float, int], float],
    ) -> list[ExactResult]:
        for number, members in enumerate(sets):
            if self._progress is not None:
                self._progress.step(number, len(sets))
            concerned = [place for place, pair in enumerate(self._pairs) if set(pair) <= set(members)]
            open_ones = [place for place in concerned if self._largest[place] < _FAR_FROM_DECIDING]
            if not open_ones:
                for place in concerned:
                    self._at_least[place] |= self._largest[place] < 1.0
                continue
            p = self._results[concerned[0]][1].p if len(members) == 2 else self._p_of(members, statistic, number)
            for place in concerned:
                self._largest[place] = max(self._largest[place], adjusted(p, len(members)))
        return [
            # A set that was not looked into may hide the pair's own p, which the family's never lies below.
            _with_family_p(exact, min(1.0, max(exact.p, self._largest[place])), at_least=self._at_least[place])
            for place, (_, exact) in enumerate(self._results)
        ]

    def _p_of(self, members: Sequence[int], statistic: Callable[[Numbers, Numbers], Numbers], seed: int) -> float:
        there = shuffled([self._units[each] for each in members], self._values)
        takes_means = there.indicators
        sizes = np.bincount(there.groups).astype(np.float64)
        seen = statistic((there.values @ takes_means)[None, :], sizes)
        found = statistic(there.arrangements(self._draws, seed) @ takes_means, sizes)
        return share_as_large(float(seen[0]), found)


def _with_family_p(exact: ExactResult, p: float, *, at_least: bool) -> ExactResult:
    return replace(exact, p_family=p, at_least=at_least and p < 1.0)


def _as_it_is(p: float, members: int) -> float:
    return p


def _largest_of_all(means: Numbers, sizes: Numbers) -> Numbers:
    """Return the largest difference of two means in units of its own error, row by row."""
    if len(set(sizes.tolist())) == 1:
        return np.asarray((means.max(axis=1) - means.min(axis=1)) * sqrt(sizes[0] / 2), dtype=np.float64)
    scale = 1 / np.sqrt(1 / sizes[:, None] + 1 / sizes[None, :])
    largest = np.zeros(len(means))
    for one in range(len(sizes) - 1):
        apart = np.abs(means[:, one + 1 :] - means[:, one : one + 1]) * scale[one, one + 1 :]
        np.maximum(largest, apart.max(axis=1), out=largest)
    return largest


def _largest_from_first(means: Numbers, sizes: Numbers) -> Numbers:
    """Return the largest difference from the first mean in units of its own error, row by row."""
    scale = 1 / np.sqrt(1 / sizes[1:] + 1 / sizes[0])
    return np.asarray((np.abs(means[:, 1:] - means[:, :1]) * scale).max(axis=1), dtype=np.float64)
