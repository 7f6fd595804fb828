"""Scores of intervals, by which groups are compared without knowing when within an interval a coupon failed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from rustboard.findings.design_model import Numbers
from rustboard.findings.survival.turnbull import Span, held_in, turnbull


def interval_scores(spans: Mapping[int, Span]) -> dict[int, float]:
    """Return a score for each coupon: high = it failed late.

    Log-rank scores for intervals (Sun 1996, after Peto and Peto): each coupon's expected loss of the estimate that
    pools all of them, less what it lost itself. They add up to nothing. For times known to the point, of which some
    have not failed, the sum over a group is its expected less its observed failures, as in the log-rank test.

    Args:
        spans: by key of coupon.
    """
    if not spans:
        return {}
    estimate = turnbull(list(spans.values()))
    hazards = _cumulative_hazards(estimate.shares)
    holds = held_in(list(spans.values()), estimate.spans)
    return {key: _score(inside, estimate.shares, hazards) for key, inside in zip(spans, holds, strict=True)}


def _cumulative_hazards(shares: Sequence[float]) -> Numbers:
    """Return the sum of share over what is still at risk, up to and with each mass."""
    there = np.asarray(shares)
    left = there[::-1].cumsum()[::-1]
    return np.asarray(np.cumsum(there / left), dtype=np.float64)


def _score(inside: np.ndarray, shares: Sequence[float], hazards: Numbers) -> float:
    """Return the mean cumulative hazard over the masses of an interval, less 1.

    Over all masses to come that mean is the cumulative hazard so far plus 1, so that one rule serves coupons that
    have failed and those that have not.
    """
    weights = np.where(inside, shares, 0.0)
    total = float(weights.sum())
    return float(weights @ hazards) / total - 1.0 if total > 0 else 0.0
