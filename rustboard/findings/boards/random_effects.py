"""Effects of several boards pooled: boards may truly differ, and there are few of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt
from typing import Final

LEVEL: Final = 0.95
_MOST_STEPS: Final = 200
_TINY: Final = 1e-12


@dataclass(frozen=True, slots=True)
class OneEffect:
    """A difference on one board.

    Attributes:
        difference: in the measure's unit.
        standard_error: above 0.
        degrees_of_freedom: that it rests on, at least 1.
    """

    difference: float
    standard_error: float
    degrees_of_freedom: int


@dataclass(frozen=True, slots=True)
class PooledEffect:
    """What several boards say together.

    Attributes:
        difference, low, high: pooled, with a 95 % interval.
        weights: shares of the boards, adding up to 1.
        tau: standard deviation of the true differences between boards.
        q, q_p: Cochran's statistic and the chance of one as large where all boards have one true difference.
        i_squared: share of the scatter between boards that is more than luck, 0 to 1.
    """

    difference: float
    low: float
    high: float
    weights: tuple[float, ...]
    tau: float
    q: float
    q_p: float
    i_squared: float


def pooled_effect(effects: Sequence[OneEffect]) -> PooledEffect | None:
    """Return the effects pooled by a random effects model; None with fewer than two.

    The variance between boards is Paule and Mandel's (1982): the one with which the weighted squares come to their
    expectation. The interval is Hartung and Knapp's (2001; Sidik and Jonkman 2002), with t of k - 1 degrees of
    freedom, and never narrower than that of one common difference, as it could become by luck with few boards
    (the bound as in Jackson and others 2017, from memory). That one is widened for standard errors that are known
    from few coupons only: degrees of freedom after Satterthwaite (1946). I squared is Higgins and Thompson's (2002).

    The p of Q is the usual one, by chi-square with k - 1 degrees of freedom; with few coupons on a board it finds
    disagreement a little too readily.
    """
    count = len(effects)
    if count < 2:
        return None
    from scipy.stats import chi2, t

    differences = [each.difference for each in effects]
    variances = [each.standard_error**2 for each in effects]
    q = _spread(differences, variances, 0.0)
    between = _between(differences, variances)
    total = [variance + between for variance in variances]
    mean, weights = _mean(differences, total)
    scatter = sum(share * (each - mean) ** 2 for each, share in zip(differences, weights, strict=True))
    half = float(t.ppf((1 + LEVEL) / 2, count - 1)) * sqrt(scatter / (count - 1))
    half = max(half, _half_of_one_difference(effects))
    return PooledEffect(
        mean, mean - half, mean + half, tuple(weights), sqrt(between), q, float(chi2.sf(q, count - 1)),
        max(0.0, 1 - (count - 1) / q) if q > 0 else 0.0,
    )  # fmt: skip


def t_interval(effect: OneEffect) -> tuple[float, float]:
    """Return the 95 % interval of one board by Student's t."""
    from scipy.stats import t

    half = float(t.ppf((1 + LEVEL) / 2, effect.degrees_of_freedom)) * effect.standard_error
    return effect.difference - half, effect.difference + half


def _mean(differences: Sequence[float], variances: Sequence[float]) -> tuple[float, list[float]]:
    """Return the mean weighted by one over the variance, and the shares."""
    # By the smallest of them, so that the weights of very small variances stay finite numbers.
    least = min(variances)
    raw = [least / each for each in variances]
    whole = sum(raw)
    weights = [each / whole for each in raw]
    return sum(each * share for each, share in zip(differences, weights, strict=True)), weights


def _spread(differences: Sequence[float], variances: Sequence[float], between: float) -> float:
    """Return the weighted sum of squares around the weighted mean: Q where nothing lies between boards."""
    total = [each + between for each in variances]
    mean, _ = _mean(differences, total)
    return sum((each - mean) ** 2 / variance for each, variance in zip(differences, total, strict=True))


def _between(differences: Sequence[float], variances: Sequence[float]) -> float:
    """Return Paule and Mandel's variance between boards, 0 where the scatter is no more than luck."""
    expected = len(differences) - 1
    if _spread(differences, variances, 0.0) <= expected:
        return 0.0
    low, high = 0.0, (max(differences) - min(differences)) ** 2
    while _spread(differences, variances, high) > expected:
        high *= 2
    for _ in range(_MOST_STEPS):  # the sum falls as the variance grows
        middle = (low + high) / 2
        if _spread(differences, variances, middle) > expected:
            low = middle
        else:
            high = middle
        if high - low <= _TINY * high:
            break
    return (low + high) / 2


def _half_of_one_difference(effects: Sequence[OneEffect]) -> float:
    """Return half the interval's width where all boards have one true difference."""
    from scipy.stats import t

    variances = [each.standard_error**2 for each in effects]
    _, weights = _mean([each.difference for each in effects], variances)
    parts = [share**2 * variance for share, variance in zip(weights, variances, strict=True)]
    whole = sum(parts)
    freedom = whole**2 / sum(part**2 / each.degrees_of_freedom for part, each in zip(parts, effects, strict=True))
    return float(t.ppf((1 + LEVEL) / 2, freedom)) * sqrt(whole)
