"""When rust begins: a good coating keeps steel bright for a while, and only then does rust grow by its law.

With such a time of grace the law counts exposure from its end, and percent is nothing before. Forecasts that know no
time of grace expect far too much rust of a coating that held for long. For each group it is none, or one of a few
shares of the time through which all its coupons were seen bright, or half-way from there to its first rust. Each is
as probable as it makes the looks (the standard deviations are those that the most probable ones leave), and courses
are drawn from all of them.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import inf
from typing import Final

import numpy as np

from rustboard.findings.design_model import Numbers
from rustboard.findings.growth.fit import Courses, GrowthFit, evidence, fit_growth, fit_with
from rustboard.findings.growth.looks import NO_RUST, Counts, Look, Looks, as_arrays
from rustboard.findings.power import Progress

_SHARES: Final = (0.0, 0.25, 0.5, 0.75, 0.9)
_ROUNDS: Final = 2
_HALF_WAY: Final = 0.5
_BEFOREHAND: Final = np.log([0.5, 0.1, 0.1, 0.1, 0.1, 0.1])
"""Probabilities of the shares before anything was seen: none is as probable as all others (a choice of our own)."""

Members = tuple[int, ...]


class _Part:
    """Progress of one of several fits."""

    def __init__(self, whole: Progress, number: int, count: int) -> None:
        self._whole, self._number, self._count = whole, number, count

    def step(self, done: int, total: int) -> None:
        self._whole.step(self._number * total + done, self._count * total)


@dataclass(frozen=True, eq=False)
class GraceFit:
    """Fits for each time of grace that may be, with how probable they are.

    Attributes:
        fits: one for each, of all groups; exposure is counted from the end of their grace.
        grace: place on the clock (what may be x groups). weights: probability (the same).
        group_of: which group each coupon belongs to, by key of coupon.
    """

    fits: tuple[GrowthFit, ...]
    grace: Numbers
    weights: Numbers
    group_of: Counts

    def draws(self, number: int, seed: int) -> Courses:
        """Return courses that rust may take: each with one time of grace for each group."""
        random = np.random.default_rng((seed, 1))
        ends = np.cumsum(self.weights, axis=0)
        chosen = (random.random((number, 1, self.weights.shape[1])) > ends[None, :-1]).sum(axis=1)[:, self.group_of]
        courses = [fit.draws(number, seed) for fit in self.fits]
        return Courses(
            np.choose(chosen, [each.level for each in courses]),
            np.choose(chosen, [each.slope for each in courses]),
            np.choose(chosen, [each.scatter for each in courses]),
            self.grace[chosen, self.group_of],
        )


def fit_with_grace(
    looks: Mapping[int, Sequence[Look]], groups: Sequence[Members], progress: Progress | None = None
) -> GraceFit:
    """Fit the law of growth with a time of grace for each group.

    Args:
        looks: by key of coupon, by time.
        groups: keys of coupons of each group; see `fit_growth` for what looks they need.
        progress: told how far the work is; may end it by raising.
    """
    grace = np.array([_may_be([look for key in each for look in looks[key]]) for each in groups]).T
    best = np.zeros(len(groups), dtype=np.int64)
    columns = np.arange(len(groups))
    for number in range(_ROUNDS):
        fit = _fit(
            looks, groups, grace[best, columns], None if progress is None else _Part(progress, number, _ROUNDS)
        )
        chances = np.array([_log_chances(looks, each, grace[:, n], fit) for n, each in enumerate(groups)]).T
        found = chances.argmax(axis=0)
        if (found == best).all():
            break
        # The scatter that the first fit saw holds what it could not explain; the second sees it without.
        best = found
    weights = np.exp(chances - chances.max(axis=0))
    numbers = {key: number for number, coupons in enumerate(groups) for key in coupons}
    fits = tuple(fit_with(_counted(looks, numbers, each), fit.look_sd, fit.coupon_sd) for each in grace)
    return GraceFit(fits, grace, weights / weights.sum(axis=0), fit.group_of)


def _fit(
    looks: Mapping[int, Sequence[Look]], groups: Sequence[Members], grace: Numbers, progress: Progress | None
) -> GrowthFit:
    numbers = {key: number for number, coupons in enumerate(groups) for key in coupons}
    return fit_growth(_counted(looks, numbers, grace), progress)


def _counted(looks: Mapping[int, Sequence[Look]], numbers: Mapping[int, int], grace: Numbers) -> Looks:
    counted = {key: _after(looks[key], float(grace[number])) for key, number in numbers.items()}
    return as_arrays(counted, numbers)


def _after(looks: Sequence[Look], grace: float) -> list[Look]:
    """Return looks with their places counted from the end of the grace; before it there was nothing to see."""
    return [look._replace(place=look.place - grace) for look in looks if look.place > grace]


def first_rust(looks: Sequence[Look]) -> tuple[float, float]:
    """Return between which places a group's first rust appeared; twice 0 where there was rust from the first."""
    first = min((look.place for look in looks if look.high > NO_RUST), default=0.0)
    bright = max((look.place for look in looks if look.place < first), default=0.0)
    return (bright, first) if bright > 0 else (0.0, 0.0)


def _may_be(looks: Sequence[Look]) -> list[float]:
    """Return the times of grace that may be, none first."""
    bright, first = first_rust(looks)
    found = [share * bright for share in _SHARES]
    between = bright + _HALF_WAY * (first - bright)
    left = [look for look in looks if look.place > between]
    # What is left must bound the growth from above, and show it at two places.
    enough = len({look.place for look in left}) > 1 and any(look.high < inf for look in left)
    return [*found, between if enough else found[-1]]


def _log_chances(looks: Mapping[int, Sequence[Look]], coupons: Members, grace: Numbers, fit: GrowthFit) -> Numbers:
    """Return logarithms of how probable each time of grace is for one group, but for a constant."""
    if grace[-1] <= 0:
        return np.where(np.arange(len(grace)) == 0, 0.0, -np.inf)
    alone = dict.fromkeys(coupons, 0)
    found = [evidence(_counted(looks, alone, grace[[n]]), fit.look_sd, fit.coupon_sd) for n in range(len(grace))]
    return np.array(found) + _BEFOREHAND
