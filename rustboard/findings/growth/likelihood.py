"""How well a normal distribution agrees with values that are known only to lie within an interval."""

from __future__ import annotations

from math import log, pi
from typing import Final, NamedTuple

import numpy as np

from rustboard.findings.design_model import Numbers

_HALF_LOG_2_PI: Final = 0.5 * log(2 * pi)


class Terms(NamedTuple):
    """What each value says of the centre it is drawn from.

    Attributes:
        log_likelihood: log of the probability of its interval, or of the density where it is known to the point.
        slope: derivative by the centre.
        curvature: second derivative by the centre with its sign turned, never below 0: the function is concave.
    """

    log_likelihood: Numbers
    slope: Numbers
    curvature: Numbers


def interval_terms(low: Numbers, high: Numbers, centre: Numbers, sd: float) -> Terms:
    """Return the terms of a normal likelihood with censoring (textbook formulas, from memory).

    An interval has the probability ``Phi((high - centre) / sd) - Phi((low - centre) / sd)``. Both tails are worked
    with in logarithms, so that a value far from its centre gives a large term and never an infinite one.

    Args:
        low: of each value; ``-inf`` where it has no lower end.
        high: ``inf`` where it has no upper end; equal to ``low`` where the value is known to the point.
        centre: of each value's distribution.
        sd: standard deviation, above 0.
    """
    exact = low == high
    found = _interval_terms(np.where(exact, -np.inf, low), np.where(exact, 0.0, high), centre, sd)
    if not exact.any():
        return found
    scaled = (np.where(exact, low, 0.0) - centre) / sd
    return Terms(
        np.where(exact, -0.5 * scaled**2 - _HALF_LOG_2_PI - log(sd), found.log_likelihood),
        np.where(exact, scaled / sd, found.slope),
        np.where(exact, 1 / sd**2, found.curvature),
    )


def _interval_terms(low: Numbers, high: Numbers, centre: Numbers, sd: float) -> Terms:
    from scipy.special import log_ndtr

    # A trial far from all looks passes what floating point can hold; its log likelihood is minus infinity then.
    with np.errstate(over="ignore", divide="ignore", invalid="ignore"):
        z_low, z_high = (low - centre) / sd, (high - centre) / sd
        # The right tail is turned over to the left, where logarithms of the distribution function lose nothing.
        turned = z_low + z_high > 0
        lower = np.where(turned, -z_high, z_low)
        upper = np.where(turned, -z_low, z_high)
        log_upper = log_ndtr(upper)
        log_probability = log_upper + np.log(-np.expm1(log_ndtr(lower) - log_upper))
        bounded = np.isfinite(lower)
        kept = np.where(bounded, lower, 0.0)
        at_lower = np.where(bounded, np.exp(-0.5 * kept**2 - _HALF_LOG_2_PI - log_probability), 0.0)
        at_upper = np.exp(-0.5 * upper**2 - _HALF_LOG_2_PI - log_probability)
        slope = np.where(turned, at_upper - at_lower, at_lower - at_upper) / sd
        second = (kept * at_lower - upper * at_upper) / sd**2
        curvature = np.maximum(slope**2 - second, 0.0)
    return Terms(np.nan_to_num(log_probability, nan=-np.inf, neginf=-np.inf), slope, curvature)
