"""The law of growth fitted to looks: percent rusted grows with a power of the exposure.

For the coupon i of the group g at the place x on the clock::

    log10(percent) = level[g] + slope[g] * log10(x) + own[i] + scatter

with ``own`` normal with standard deviation ``coupon_sd`` and ``scatter`` normal with ``look_sd``, both pooled over
the board. A power of time is common practice for the growth of corrosion (no source here). Slopes are shrunk towards
one another, and never fall below 0, because rust does not go back: each is normal about the board's common slope, the
common slope about a wide guess.

For given standard deviations the most probable values are found by Newton's method (the logarithm of the posterior is
concave); the standard deviations are those with the highest likelihood once everything else is integrated out by
Laplace's approximation. How sure the values are is the inverse of the curvature there.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import log
from typing import Final

import numpy as np

from rustboard.findings.design_model import Numbers
from rustboard.findings.growth.likelihood import Terms, interval_terms
from rustboard.findings.growth.looks import Counts, Looks
from rustboard.findings.power import Progress

SLOPES_SD: Final = 1.0
"""How far slopes of treatments lie from the common one (a choice of our own, weak beside a few looks)."""

SLOPE_GUESS: Final = 1.5
SLOPE_GUESS_SD: Final = 1.5
_KEEP_POSITIVE: Final = 0.1
"""Weight of the logarithm of a slope: it keeps slopes above 0 and changes none that the looks know anything about."""

_LOOK_SD_GUESS: Final = 0.2
_COUPON_SD_GUESS: Final = 0.4
_SD_GUESS_WIDTH: Final = 0.8
"""Guesses for both standard deviations in tenth powers of percent, and the standard deviation of their logarithms:
a grade is about 0.5 wide. They keep few grades that happen to agree from passing for no scatter at all. Choices of
our own."""

_LEAST_SD: Final = 0.03
_MOST_SD: Final = 3.0
_MOST_STEPS: Final = 80
_MOST_TRIALS: Final = 60
_SMALL: Final = 1e-7


@dataclass(frozen=True, eq=False)
class _Values:
    level: Numbers
    slope: Numbers
    own: Numbers
    common: float


@dataclass(frozen=True, eq=False)
class _Curvature:
    """The curvature of the log posterior, taken apart: coupons hang on their group, groups on the common slope.

    Attributes:
        own: of each coupon's own level. level_own, slope_own: of it with its group's level and slope.
        inverse: of each group's level and slope, coupons integrated out (groups x 2 x 2).
        common: of the common slope, all else integrated out.
        log_determinant: of the whole.
    """

    own: Numbers
    level_own: Numbers
    slope_own: Numbers
    inverse: Numbers
    common: float
    log_determinant: float


@dataclass(frozen=True, eq=False)
class GrowthFit:
    """A fit, ready to be asked what grades it expects.

    Attributes:
        look_sd, coupon_sd: standard deviations of the scatter and of the coupons' own levels, in tenth powers.
        level: of each group at 1 on the clock. slope: of each group. own: of each coupon.
        common_slope: of the board.
        group_of: which group each coupon belongs to.
    """

    look_sd: float
    coupon_sd: float
    level: Numbers
    slope: Numbers
    own: Numbers
    common_slope: float
    group_of: Counts
    _middle: float
    _curvature: _Curvature

    def draws(self, number: int, seed: int) -> Courses:
        """Return courses that rust may take, as the looks leave it open."""
        random = np.random.default_rng(seed)
        groups, coupons = len(self.level), len(self.own)
        curved, group = self._curvature, self.group_of
        common = random.standard_normal(number) / np.sqrt(curved.common)
        roots = np.linalg.cholesky(curved.inverse)
        moved = np.einsum("gij,ngj->ngi", roots, random.standard_normal((number, groups, 2)))
        moved += curved.inverse[None, :, :, 1] * (common / SLOPES_SD**2)[:, None, None]
        own = random.standard_normal((number, coupons)) / np.sqrt(curved.own)
        own -= (curved.level_own * moved[:, group, 0] + curved.slope_own * moved[:, group, 1]) / curved.own
        slope = self.slope[None] + moved[:, :, 1]
        level = self.level + self.slope * self._middle + moved[:, :, 0] - np.maximum(slope, 0.0) * self._middle
        return Courses(
            level[:, group] + self.own + own,
            np.maximum(slope, 0.0)[:, group],
            self.look_sd * random.standard_normal((number, coupons)),
            np.zeros((number, coupons)),
        )


@dataclass(frozen=True, eq=False)
class Courses:
    """Courses that the rust of each coupon may take: a row for each course, a column for each coupon.

    Attributes:
        level: logarithm of percent at 1 on the clock after ``begins``. slope: by the logarithm of the place.
        scatter: of one more look. begins: place on the clock; before it there is no rust.
    """

    level: Numbers
    slope: Numbers
    scatter: Numbers
    begins: Numbers

    def of(self, columns: Sequence[int]) -> Courses:
        """Return the courses of some of the coupons."""
        return Courses(*(each[:, columns] for each in (self.level, self.slope, self.scatter, self.begins)))

    def log_percent(self, place: float | Numbers) -> Numbers:
        """Return logarithms of percent as a look would find them, at one place or at one for each coupon."""
        there = place - self.begins
        grown = self.level + self.slope * np.log10(np.where(there > 0, there, 1.0)) + self.scatter
        return np.where(there > 0, grown, -np.inf)


def fit_growth(looks: Looks, progress: Progress | None = None) -> GrowthFit:
    """Fit the law of growth.

    Every group must have looks at two places, one that is no end of the scale at least or both ends.

    Args:
        looks: at all coupons of the groups.
        progress: told how far the work is; may end it by raising.
    """
    from scipy.optimize import minimize

    problem = _Problem(looks)
    trials = 0

    def badness(logs: Numbers) -> float:
        nonlocal trials
        if progress is not None:
            progress.step(min(trials, _MOST_TRIALS), _MOST_TRIALS)
        trials += 1
        return -problem.evidence(float(logs[0]), float(logs[1]))

    start = np.log([_LOOK_SD_GUESS, _COUPON_SD_GUESS])
    simplex = start + np.array([[0.0, 0.0], [0.5, 0.0], [0.0, 0.5]])
    found = minimize(
        badness, start, method="Nelder-Mead",
        options={"initial_simplex": simplex, "xatol": 0.02, "fatol": 0.005, "maxfev": _MOST_TRIALS},
    )  # fmt: skip
    return problem.fit(float(found.x[0]), float(found.x[1]))


def fit_with(looks: Looks, look_sd: float, coupon_sd: float) -> GrowthFit:
    """Return the fit for two standard deviations that are known."""
    return _Problem(looks).fit(log(look_sd), log(coupon_sd))


def evidence(looks: Looks, look_sd: float, coupon_sd: float) -> float:
    """Return the log likelihood of looks for two standard deviations, all else integrated out, but for a constant."""
    return _Problem(looks).evidence(log(look_sd), log(coupon_sd))


class _Problem:
    """Looks with what is worked out once, and where the last search ended: the next begins there."""

    def __init__(self, looks: Looks) -> None:
        self._looks = looks
        self._group = looks.group_of[looks.coupon]
        self._groups = int(looks.group_of.max(initial=-1)) + 1
        self._middle = float(looks.place.mean())
        self._place = looks.place - self._middle
        self._values = self._first_values()

    def _first_values(self) -> _Values:
        low, high = self._looks.low, self._looks.high
        shown = np.where(np.isfinite(low), np.where(np.isfinite(high), (low + high) / 2, low), high)
        level = self._by_group(shown) / np.maximum(self._by_group(np.ones_like(shown)), 1.0)
        slope = np.full(self._groups, SLOPE_GUESS)
        return _Values(level, slope, np.zeros(len(self._looks.group_of)), SLOPE_GUESS)

    def evidence(self, log_look_sd: float, log_coupon_sd: float) -> float:
        """Return the log likelihood of two standard deviations, all else integrated out, with their guesses."""
        look_sd, coupon_sd = _clipped(log_look_sd), _clipped(log_coupon_sd)
        self._values = self._most_probable(look_sd, coupon_sd)
        terms = self._terms(self._values, look_sd)
        found = self._log_posterior(self._values, terms, coupon_sd)
        found -= len(self._values.own) * log(coupon_sd)
        found -= 0.5 * self._curvature(self._values, terms, coupon_sd).log_determinant
        guesses = ((log_look_sd, _LOOK_SD_GUESS), (log_coupon_sd, _COUPON_SD_GUESS))
        return found - sum(0.5 * ((value - log(guess)) / _SD_GUESS_WIDTH) ** 2 for value, guess in guesses)

    def fit(self, log_look_sd: float, log_coupon_sd: float) -> GrowthFit:
        """Return the fit for two standard deviations."""
        look_sd, coupon_sd = _clipped(log_look_sd), _clipped(log_coupon_sd)
        found = self._most_probable(look_sd, coupon_sd)
        curvature = self._curvature(found, self._terms(found, look_sd), coupon_sd)
        level = found.level - found.slope * self._middle
        spread, groups = (look_sd, coupon_sd), self._looks.group_of
        return GrowthFit(*spread, level, found.slope, found.own, found.common, groups, self._middle, curvature)

    def _most_probable(self, look_sd: float, coupon_sd: float) -> _Values:
        values = self._values
        terms = self._terms(values, look_sd)
        height = self._log_posterior(values, terms, coupon_sd)
        for _ in range(_MOST_STEPS):
            step, gain = self._newton_step(values, terms, coupon_sd)
            if gain < _SMALL:
                break
            falling = step.slope < 0
            length = min(1.0, 0.9 * float(np.min(values.slope[falling] / -step.slope[falling], initial=np.inf)))
            while length > _SMALL:
                there = _Values(
                    values.level + length * step.level,
                    values.slope + length * step.slope,
                    values.own + length * step.own,
                    values.common + length * step.common,
                )
                new_terms = self._terms(there, look_sd)
                new_height = self._log_posterior(there, new_terms, coupon_sd)
                if new_height >= height:
                    break
                length /= 2
            else:
                break
            values, terms, height = there, new_terms, new_height
        return values

    def _terms(self, values: _Values, look_sd: float) -> Terms:
        group, coupon = self._group, self._looks.coupon
        centre = values.level[group] + values.slope[group] * self._place + values.own[coupon]
        return interval_terms(self._looks.low, self._looks.high, centre, look_sd)

    def _log_posterior(self, values: _Values, terms: Terms, coupon_sd: float) -> float:
        return float(
            terms.log_likelihood.sum()
            + _KEEP_POSITIVE * np.log(values.slope).sum()
            - 0.5 * ((values.slope - values.common) ** 2).sum() / SLOPES_SD**2
            - 0.5 * ((values.common - SLOPE_GUESS) / SLOPE_GUESS_SD) ** 2
            - 0.5 * (values.own**2).sum() / coupon_sd**2
        )

    def _newton_step(self, values: _Values, terms: Terms, coupon_sd: float) -> tuple[_Values, float]:
        """Return the step to the top of the parabola, and how much higher that would be, twice."""
        off = (values.slope - values.common) / SLOPES_SD**2
        by_level = self._by_group(terms.slope)
        by_slope = self._by_group(terms.slope * self._place) + _KEEP_POSITIVE / values.slope - off
        by_common = float(off.sum()) - (values.common - SLOPE_GUESS) / SLOPE_GUESS_SD**2
        by_own = self._by_coupon(terms.slope) - values.own / coupon_sd**2
        curved, group = self._curvature(values, terms, coupon_sd), self._looks.group_of
        shares = by_own / curved.own
        left = np.stack(
            [
                by_level - self._coupons_by_group(curved.level_own * shares),
                by_slope - self._coupons_by_group(curved.slope_own * shares),
            ],
            axis=1,
        )
        alone = np.einsum("gij,gj->gi", curved.inverse, left)
        common = (by_common + float(alone[:, 1].sum()) / SLOPES_SD**2) / curved.common
        both = alone + curved.inverse[:, :, 1] * common / SLOPES_SD**2
        own = (by_own - curved.level_own * both[group, 0] - curved.slope_own * both[group, 1]) / curved.own
        gain = by_level @ both[:, 0] + by_slope @ both[:, 1] + by_common * common + by_own @ own
        return _Values(both[:, 0], both[:, 1], own, common), float(gain)

    def _curvature(self, values: _Values, terms: Terms, coupon_sd: float) -> _Curvature:
        weight = terms.curvature
        level_own, slope_own = self._by_coupon(weight), self._by_coupon(weight * self._place)
        own = level_own + 1 / coupon_sd**2
        # A coupon's share of its group's level, written so that nothing large is taken from something as large.
        level = self._coupons_by_group(level_own / own / coupon_sd**2)
        cross = self._coupons_by_group(slope_own / own / coupon_sd**2)
        slope = self._by_group(weight * self._place**2) - self._coupons_by_group(slope_own**2 / own)
        slope += 1 / SLOPES_SD**2 + _KEEP_POSITIVE / values.slope**2
        level = np.maximum(level, 1e-9)
        determinant = level * slope - cross**2
        rows = [np.stack([slope, -cross], axis=1), np.stack([-cross, level], axis=1)]
        inverse = np.stack(rows, axis=1) / determinant[:, None, None]
        common = self._groups / SLOPES_SD**2 + 1 / SLOPE_GUESS_SD**2
        common -= float(inverse[:, 1, 1].sum()) / SLOPES_SD**4
        whole = float(np.log(own).sum() + np.log(determinant).sum() + log(common))
        return _Curvature(own, level_own, slope_own, inverse, common, whole)

    def _by_group(self, values: Numbers) -> Numbers:
        return _summed(self._group, values, self._groups)

    def _by_coupon(self, values: Numbers) -> Numbers:
        return _summed(self._looks.coupon, values, len(self._looks.group_of))

    def _coupons_by_group(self, values: Numbers) -> Numbers:
        return _summed(self._looks.group_of, values, self._groups)


def _summed(where: Counts, values: Numbers, size: int) -> Numbers:
    return np.bincount(where, values, size).astype(np.float64)


def _clipped(log_sd: float) -> float:
    return float(np.clip(np.exp(log_sd), _LEAST_SD, _MOST_SD))
