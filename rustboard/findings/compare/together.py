"""Several differences judged together: how likely luck alone makes the largest of them as large.

Every difference is measured in its own standard error, all of them with the same estimate of the error, so they are
Student's t values that are not independent. Their joint distribution is integrated where its shape allows that, and
simulated otherwise.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from math import inf, sqrt
from typing import Final

import numpy as np

from rustboard.findings.compare.results import Method
from rustboard.findings.design_model import Numbers
from rustboard.findings.smallest_p import LEVEL

MOST_TOGETHER: Final = 400
"""More differences than that are judged by Bonferroni's bound."""

_NODES: Final = 160
_FARTHEST: Final = 8.5
_RARE: Final = 1e-12
_DRAWS: Final = 200_000
_SEED: Final = 20_261_126
_ALIKE: Final = 1e-6
_LARGEST_T: Final = 1e4


@dataclass(frozen=True)
class Together:
    """Differences of one question with what they have in common.

    Attributes:
        weights: a row for each difference, a column for each unit: of the unit's value in the estimate.
        degrees_of_freedom: of the error; infinite where it is assumed.
        groups: number of groups where the differences are all pairs of so many, else 0.
    """

    weights: Numbers
    degrees_of_freedom: float
    groups: int = 0

    @cached_property
    def correlations(self) -> Numbers:
        """Of the estimates with each other."""
        scaled = self.weights / np.linalg.norm(self.weights, axis=1, keepdims=True)
        return np.asarray(scaled @ scaled.T, dtype=np.float64)

    @cached_property
    def method(self) -> Method:
        """How they are judged together, see `rustboard.findings.compare.results.Method`."""
        count = len(self.weights)
        if count == 1:
            return "one"
        if count > MOST_TOGETHER:
            return "bonferroni"
        if self.groups and self._is_balanced():
            return "studentized range"
        return "simulated" if self._loadings is None else "many to one"

    def _is_balanced(self) -> bool:
        """Return whether all pairs are as correlated as with equal numbers: by a half, or not at all."""
        sizes = np.abs(self.correlations - np.eye(len(self.weights)))
        near = np.minimum(sizes, np.abs(sizes - 0.5))
        return float(near.max()) < _ALIKE

    @cached_property
    def _loadings(self) -> Numbers | None:
        """One number for each difference whose products are the correlations, as with a common control; or None."""
        found = self.correlations - np.eye(len(self.weights))
        for _ in range(200):  # the one factor that explains what lies beside the diagonal
            sizes, directions = np.linalg.eigh(found)
            loadings = directions[:, -1] * sqrt(max(float(sizes[-1]), 0.0))
            found = self.correlations - np.eye(len(self.weights)) + np.diag(loadings**2)
        if loadings.sum() < 0:
            loadings = -loadings
        apart = np.abs(np.outer(loadings, loadings) - self.correlations)
        np.fill_diagonal(apart, 0.0)
        return loadings if float(apart.max()) < _ALIKE and float(np.abs(loadings).max()) < 1 - _ALIKE else None

    def p_of(self, sizes: Numbers) -> Numbers:
        """Return for each size of t how often luck alone makes the largest of all differences at least as large."""
        alone = np.asarray(two_sided_p(sizes, self.degrees_of_freedom), dtype=np.float64)
        bound = np.minimum(1.0, alone * len(self.weights))
        return np.asarray(np.clip(np.minimum(self._together(sizes, alone, bound), bound), 0.0, 1.0), dtype=np.float64)

    def _together(self, sizes: Numbers, alone: Numbers, bound: Numbers) -> Numbers:
        match self.method:
            case "one":
                return alone
            case "bonferroni":
                return bound
            case "studentized range":
                return self._beyond(sizes, self._within_range)
            case "many to one":
                return self._beyond(sizes, self._within_many)
            case "simulated":
                return np.maximum(self._simulated(sizes), alone)

    @cached_property
    def critical_t(self) -> float:
        """The size that the largest of all differences passes by luck 5 times in 100."""
        from scipy.optimize import brentq
        from scipy.special import ndtri, stdtrit

        low, high = (
            float(ndtri(1 - level / 2))
            if self.degrees_of_freedom == inf
            else float(stdtrit(self.degrees_of_freedom, 1 - level / 2))
            for level in (LEVEL, LEVEL / len(self.weights))
        )
        if self.method == "one":
            return low
        if self.method == "bonferroni":
            return high
        if self.method == "simulated":
            return min(max(float(np.quantile(self._largest, 1 - LEVEL)), low), high)

        def over(size: float) -> float:
            return float(self.p_of(np.array([size]))[0]) - LEVEL

        if over(high) > 0:
            return high
        return float(brentq(over, low * (1 - 1e-9), min(high, _LARGEST_T), xtol=1e-9))

    # ---- integrated

    @cached_property
    def _errors(self) -> tuple[Numbers, Numbers]:
        """Values of the error's estimate over its truth, and their weights: a chi variable over its degrees' root."""
        if self.degrees_of_freedom == inf:
            return np.ones(1), np.ones(1)
        from scipy.special import chdtri, gammaln

        freedom = self.degrees_of_freedom
        ends = np.log(np.sqrt(np.asarray(chdtri(freedom, np.array([1 - _RARE, _RARE]))) / freedom))
        logs = np.linspace(float(ends[0]), float(ends[1]), _NODES)
        sizes = np.exp(logs)
        # Density of log s, where freedom * s**2 is chi-square: smooth and dying out, so that equal steps are exact.
        log_density = freedom * logs - freedom * sizes**2 / 2
        log_density += (freedom / 2) * np.log(freedom / 2) - gammaln(freedom / 2) + np.log(2)
        weights = np.exp(log_density) * (logs[1] - logs[0])
        return sizes, weights / weights.sum()

    def _beyond(self, sizes: Numbers, within: Callable[[float], Numbers]) -> Numbers:
        _, weights = self._errors
        return np.array([1.0 - float(within(float(size)) @ weights) for size in sizes])

    @cached_property
    def _normal(self) -> tuple[Numbers, Numbers]:
        places = np.linspace(-_FARTHEST, _FARTHEST, _NODES)
        weights = np.exp(-(places**2) / 2)
        return places, weights / weights.sum()

    def _within_range(self, size: float) -> Numbers:
        """Return for each error how often the range of all groups stays below ``size * sqrt(2)`` errors."""
        from scipy.special import ndtr

        (errors, _), (places, weights) = self._errors, self._normal
        reach = ndtr(places)[None, :] - ndtr(places[None, :] - size * sqrt(2) * errors[:, None])
        return np.asarray(self.groups * (np.maximum(reach, 0.0) ** (self.groups - 1)) @ weights, dtype=np.float64)

    def _within_many(self, size: float) -> Numbers:
        """Return for each error how often no difference from a common control is beyond ``size`` errors."""
        from scipy.special import ndtr

        (errors, _), (places, weights) = self._errors, self._normal
        loadings = self._loadings
        assert loadings is not None
        inside = np.ones((len(errors), len(places)))
        limits = size * errors[:, None]
        for loading in loadings:
            own = sqrt(1 - float(loading) ** 2)
            shift = float(loading) * places[None, :]
            inside *= ndtr((limits - shift) / own) - ndtr((-limits - shift) / own)
        return np.asarray(inside @ weights, dtype=np.float64)

    # ---- simulated

    @cached_property
    def _largest(self) -> Numbers:
        """Largest t of all differences in so many draws under no difference, sorted."""
        sizes, directions = np.linalg.eigh(self.correlations)
        kept = sizes > 1e-9
        roots = directions[:, kept] * np.sqrt(sizes[kept])
        draw = np.random.default_rng(_SEED)
        largest = np.empty(_DRAWS)
        step = max(1, 2_000_000 // len(self.weights))
        for start in range(0, _DRAWS, step):
            several = draw.standard_normal((min(step, _DRAWS - start), roots.shape[1])) @ roots.T
            largest[start : start + len(several)] = np.abs(several, out=several).max(axis=1)
        if self.degrees_of_freedom != inf:
            largest /= np.sqrt(draw.chisquare(self.degrees_of_freedom, _DRAWS) / self.degrees_of_freedom)
        return np.sort(largest)

    def _simulated(self, sizes: Numbers) -> Numbers:
        beyond = len(self._largest) - np.searchsorted(self._largest, sizes, side="left")
        return np.asarray((beyond + 1) / (len(self._largest) + 1), dtype=np.float64)


def two_sided_p(sizes: Numbers, degrees_of_freedom: float) -> Numbers:
    """Return the two-sided p of sizes of t, each alone; of the normal distribution where the freedom is infinite."""
    from scipy.special import ndtr, stdtr

    if degrees_of_freedom == inf:
        return np.asarray(2 * ndtr(-np.abs(sizes)), dtype=np.float64)
    return np.asarray(2 * stdtr(degrees_of_freedom, -np.abs(sizes)), dtype=np.float64)
