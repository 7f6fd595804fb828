"""A Weibull distribution fitted to intervals, by maximum likelihood."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import exp, inf, log
from typing import Final

import numpy as np

from rustboard.findings.design_model import Numbers
from rustboard.findings.survival.results import WeibullFit
from rustboard.findings.survival.turnbull import Span, Turnbull, turnbull

_LEAST_FAILED: Final = 2
_SMALLEST_PLACE: Final = 1e-6
_SHAPES: Final = (0.05, 40.0)
_MOST_LOG: Final = 700.0
_IMPOSSIBLE: Final = -1e12
_REACH: Final = 12.0
"""How far from the places themselves the logarithm of the scale is looked for."""
_FARTHEST: Final = 50.0
"""An upper end of the median beyond so many times the last place is no end."""


def weibull_fit(spans: Sequence[Span], shape: float | None = None) -> WeibullFit | None:
    """Return the fit to one group; None where there is too little to fit a shape and a scale.

    At least two coupons must have failed, and not all within the same interval; with a given shape one is enough.

    Args:
        spans: of the coupons.
        shape: shared with other groups, or None to fit one.
    """
    data = _Data(spans)
    failed = {each for each in spans if each.before < inf}
    count = sum(each.before < inf for each in spans)
    if shape is None and (count < _LEAST_FAILED or len(failed) < 2):
        return None
    if count < 1:
        return None
    found = data.best(None if shape is None else log(shape))
    if found is None:
        return None
    log_shape, log_scale, likelihood = found
    median = exp(log_scale + log(log(2)) / exp(log_shape))
    low, high = _median_interval(data, likelihood, median, None if shape is None else log(shape))
    fitted = WeibullFit(exp(log_shape), exp(log_scale), likelihood, median, low, high, fits=True)
    return _with_fit(fitted, spans)


def common_shape(groups: Sequence[Sequence[Span]]) -> float | None:
    """Return the shape that fits all groups best when each has a scale of its own (accelerated failure time)."""
    from scipy.optimize import minimize_scalar

    data = [_Data(each) for each in groups if any(span.before < inf for span in each)]
    if not data or sum(len({s for s in each.spans if s.before < inf}) for each in data) < len(data) + 1:
        return None

    def less(log_shape: float) -> float:
        found = [each.best(log_shape) for each in data]
        return -sum(each[2] if each is not None else -1e9 for each in found)

    best = minimize_scalar(less, bounds=(log(_SHAPES[0]), log(_SHAPES[1])), method="bounded", options={"xatol": 1e-8})
    at_an_end = min(abs(best.x - log(each)) for each in _SHAPES) < 1e-3
    return None if at_an_end else exp(float(best.x))


class _Data:
    """The intervals of a group, ready for the likelihood."""

    def __init__(self, spans: Sequence[Span]) -> None:
        self.spans = tuple(spans)
        # A place of 0 has no logarithm; what failed at once failed very early.
        after = np.array([each.after for each in spans], dtype=np.float64)
        before = np.array([each.before for each in spans], dtype=np.float64)
        exact = (after == before) & (before < inf)
        self.exact = np.log(np.maximum(before[exact], _SMALLEST_PLACE))
        open_ended = ~exact & (before == inf)
        self.whole = np.log(np.maximum(after[open_ended], 1e-300))
        between = ~exact & (before < inf)
        self.after = np.log(np.maximum(after[between], 1e-300))
        self.before = np.log(np.maximum(before[between], _SMALLEST_PLACE))

    def likelihood(self, log_shape: float, log_scale: float) -> float:
        """Return the log-likelihood; of shapes far beyond what a fit may have, as good as none."""
        if not log(_SHAPES[0]) - 1 < log_shape < log(_SHAPES[1]) + 1 or abs(log_scale) > _MOST_LOG:
            return _IMPOSSIBLE
        shape = exp(log_shape)
        with np.errstate(over="ignore", divide="ignore", invalid="ignore"):
            of_exact = shape * (self.exact - log_scale)
            found = float(np.sum(log_shape - self.exact + of_exact - np.exp(of_exact)))
            found -= float(np.sum(np.exp(shape * (self.whole - log_scale))))
            early, late = np.exp(shape * (self.after - log_scale)), np.exp(shape * (self.before - log_scale))
            found += float(np.sum(-early + np.log(-np.expm1(early - late))))
        return found if np.isfinite(found) else _IMPOSSIBLE

    def best(self, log_shape: float | None) -> tuple[float, float, float] | None:
        """Return log shape, log scale and log-likelihood at the maximum; None where there is none inside."""
        places = np.concatenate([self.exact, self.before, self.whole[self.whole > -600]])
        start = float(places.mean()) if len(places) else 0.0
        if log_shape is not None:
            return (log_shape, *self._best_scale(log_shape, start))
        found = [self._climbed(begin, start) for begin in (0.0, 1.0)]
        best = max(found, key=lambda each: each[2])
        return best if log(_SHAPES[0]) < best[0] < log(_SHAPES[1]) else None

    def _best_scale(self, log_shape: float, start: float) -> tuple[float, float]:
        from scipy.optimize import minimize_scalar

        def less(log_scale: float) -> float:
            return -self.likelihood(log_shape, log_scale)

        ends = (start - _REACH, start + _REACH)
        one = minimize_scalar(less, bounds=ends, method="bounded", options={"xatol": 1e-10})
        return float(one.x), -float(one.fun)

    def _climbed(self, log_shape: float, log_scale: float) -> tuple[float, float, float]:
        from scipy.optimize import minimize

        def less(at: Numbers) -> float:
            return -self.likelihood(float(at[0]), float(at[1]))

        options = {"xatol": 1e-9, "fatol": 1e-11, "maxiter": 4_000}
        one = minimize(less, [log_shape, log_scale], method="Nelder-Mead", options=options)  # type: ignore[call-overload]
        return float(one.x[0]), float(one.x[1]), -float(one.fun)

    def best_with_median(self, log_median: float, log_shape: float | None) -> float:
        """Return the largest log-likelihood of all distributions with this median."""
        from scipy.optimize import minimize_scalar

        def less(shape: float) -> float:
            return -self.likelihood(shape, log_median - log(log(2)) / exp(shape))

        if log_shape is not None:
            return -less(log_shape)
        ends = (log(_SHAPES[0]), log(_SHAPES[1]))
        return -float(minimize_scalar(less, bounds=ends, method="bounded", options={"xatol": 1e-4}).fun)


def _median_interval(
    data: _Data, likelihood: float, median: float, log_shape: float | None
) -> tuple[float, float | None]:
    """Return the 95 % interval of the median by the likelihood ratio (chi-square with one degree of freedom)."""
    from scipy.optimize import brentq
    from scipy.special import chdtri

    drop = float(chdtri(1, 0.05)) / 2
    middle = log(median)

    def over(place: float) -> float:
        return data.best_with_median(place, log_shape) - likelihood + drop

    ends: list[float | None] = []
    for direction in (-1, 1):
        reach = 0.1
        while over(middle + direction * reach) > 0 and reach < log(_FARTHEST):
            reach *= 1.6
        if over(middle + direction * reach) > 0:
            ends.append(None)
        else:
            ends.append(exp(float(brentq(over, middle, middle + direction * reach, xtol=1e-6))))
    return ends[0] or 0.0, ends[1]


def _with_fit(fitted: WeibullFit, spans: Sequence[Span]) -> WeibullFit:
    failed = sum(each.before < inf for each in spans)
    return replace(fitted, fits=distance(fitted, spans, turnbull(spans)) <= allowed_distance(failed))


def distance(fitted: WeibullFit, spans: Sequence[Span], estimate: Turnbull) -> float:
    """Return the largest gap between the fitted curve and the estimate, at the ends of its masses.

    Ends to which no coupon was followed are left out: there the estimate falls because nobody looked any longer.
    """
    followed = max((each.before if each.after == each.before else each.after for each in spans), default=0.0)
    gone, largest = 0.0, 0.0
    for span, share in zip(estimate.spans, estimate.shares, strict=True):
        for place, level in ((span.after, gone), (span.before, gone + share)):
            if 0 < place <= followed:
                largest = max(largest, abs(1 - exp(-((place / fitted.scale) ** fitted.shape)) - level))
        gone += share
    return largest


def allowed_distance(failed: int) -> float:
    """Return how far the curve may lie from the coupons: Kolmogorov's limit, 1.36 / sqrt(n), 5 % (common practice).

    ``n`` are the coupons that have failed. The limit is for a curve known beforehand and large n: a rough guide. With
    three it is 0.79, so that almost nothing is refused.
    """
    return float(1.36 / np.sqrt(max(failed, 1)))
