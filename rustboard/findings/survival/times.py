"""When half of a group had failed, with an interval that so few coupons can give."""

from __future__ import annotations

from collections.abc import Sequence
from math import comb, inf
from typing import Final

from rustboard.findings.survival.results import MedianTime
from rustboard.findings.survival.turnbull import Span, Turnbull

CONFIDENCE: Final = 0.95
_HALF: Final = 0.5
_SLACK: Final = 1e-9


def median_time(estimate: Turnbull, spans: Sequence[Span]) -> MedianTime:
    """Return when half had failed.

    The value is the end of the mass within which survival falls to one half: by then half had failed for certain; it
    is None where that mass has no end. The interval takes the order statistics of the coupons, whose coverage is
    binomial (common practice): the lower end from the places at which coupons were last seen whole, the upper end
    from those at which they were first seen failed: not knowing the time within an interval only widens it.

    Args:
        estimate: of the group.
        spans: of its coupons.
    """
    low, high, confidence = _order_interval(spans)
    return MedianTime(_value(estimate), low, None if high == inf else high, confidence)


def _value(estimate: Turnbull) -> float | None:
    gone = 0.0
    for span, share in zip(estimate.spans, estimate.shares, strict=True):
        gone += share
        if gone >= _HALF - _SLACK:
            return None if span.before == inf else span.before
    return None


def _order_interval(spans: Sequence[Span]) -> tuple[float, float, float]:
    """Return the narrowest interval from one coupon to its mirror image that holds 95 %, or the widest there is."""
    count = len(spans)
    lows, highs = sorted(each.after for each in spans), sorted(each.before for each in spans)
    rank, confidence = 1, coverage(count, 1)
    for each in range(2, count // 2 + 1):
        if coverage(count, each) < CONFIDENCE:
            break
        rank, confidence = each, coverage(count, each)
    return lows[rank - 1], highs[count - rank], confidence


def coverage(count: int, rank: int) -> float:
    """Return how surely the median lies between the coupon of this rank from below and that from above.

    1 - 2 P(B < rank) with B binomial of ``count`` and one half; of a single coupon it is 0.
    """
    return float(max(0.0, 1 - 2 * sum(comb(count, each) for each in range(rank)) / 2**count))
