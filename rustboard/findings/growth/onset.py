"""When rust begins: a good coating keeps steel bright for a while, and only then does rust grow by its law.

With such a time of grace the law counts exposure from its end, and percent is nothing before. Forecasts that know no
time of grace expect far too much rust of a coating that held for long: in `tests/benchmarks/growth_forecast.py` their
bands hold 5 to 7 of 10 grades that come. For each group the time of grace is none, or one of a few shares of the
time through which all its coupons were seen bright, whichever makes the looks most probable.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import log
from typing import Final

from rustboard.findings.growth.fit import GrowthFit, evidence, fit_growth
from rustboard.findings.growth.looks import NO_RUST, Look, as_arrays
from rustboard.findings.power import Progress

_SHARES: Final = (0.25, 0.5, 0.75, 0.9)
_ROUNDS: Final = 2
_PRICE: Final = log(len(_SHARES))
"""By how much a time of grace must make the log likelihood better: none is as probable beforehand as all shares."""

Members = tuple[int, ...]


class _Part:
    """Progress of one of several fits."""

    def __init__(self, whole: Progress, number: int, count: int) -> None:
        self._whole, self._number, self._count = whole, number, count

    def step(self, done: int, total: int) -> None:
        self._whole.step(self._number * total + done, self._count * total)


def fit_with_grace(
    looks: Mapping[int, Sequence[Look]], groups: Sequence[Members], progress: Progress | None = None
) -> tuple[GrowthFit, tuple[float, ...]]:
    """Fit the law of growth with a time of grace for each group.

    Args:
        looks: by key of coupon, by time.
        groups: keys of coupons of each group; see `fit_growth` for what looks they need.
        progress: told how far the work is; may end it by raising.

    Returns:
        The fit, with exposure counted from the end of the grace, and the length of it on the clock for each group.
    """
    grace = tuple(0.0 for _ in groups)
    for number in range(_ROUNDS + 1):
        part = None if progress is None else _Part(progress, number, _ROUNDS + 1)
        fit = _fit(looks, groups, grace, part)
        if number == _ROUNDS:
            break
        # The scatter that the first fit saw holds what it could not explain; the second sees it without.
        better = tuple(_most_probable(looks, each, fit) for each in groups)
        if better == grace:
            break
        grace = better
    return fit, grace


def _fit(
    looks: Mapping[int, Sequence[Look]],
    groups: Sequence[Members],
    grace: Sequence[float],
    progress: Progress | None,
) -> GrowthFit:
    numbers = {key: number for number, coupons in enumerate(groups) for key in coupons}
    counted = {key: _after(looks[key], grace[number]) for key, number in numbers.items()}
    return fit_growth(as_arrays(counted, numbers), progress)


def _after(looks: Sequence[Look], grace: float) -> list[Look]:
    """Return looks with their places counted from the end of the grace; before it there was nothing to see."""
    return [look._replace(place=look.place - grace) for look in looks if look.place > grace]


def bright_until(looks: Sequence[Look]) -> float:
    """Return the last place before the first rust of a group, 0 where there was rust from the first."""
    first_rust = min((look.place for look in looks if look.high > NO_RUST), default=0.0)
    return max((look.place for look in looks if look.place < first_rust), default=0.0)


def _most_probable(looks: Mapping[int, Sequence[Look]], coupons: Members, fit: GrowthFit) -> float:
    bright = bright_until([look for each in coupons for look in looks[each]])
    best, best_evidence = 0.0, _evidence(looks, coupons, 0.0, fit)
    for share in _SHARES if bright > 0 else ():
        found = _evidence(looks, coupons, share * bright, fit) - _PRICE
        if found > best_evidence:
            best, best_evidence = share * bright, found
    return best


def _evidence(looks: Mapping[int, Sequence[Look]], coupons: Members, grace: float, fit: GrowthFit) -> float:
    counted = {each: _after(looks[each], grace) for each in coupons}
    return evidence(as_arrays(counted, dict.fromkeys(coupons, 0)), fit.look_sd, fit.coupon_sd)
