"""What is known of the time to the failing grade."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Mass:
    """A part of the coupons that failed somewhere between two places on the clock, nobody knows where.

    Attributes:
        after, before: the places; equal where it is known to the point. ``before`` infinite: had not failed yet.
        share: of the coupons, 0 to 1.
    """

    after: float
    before: float
    share: float


@dataclass(frozen=True, slots=True)
class MedianTime:
    """When half of a group had failed.

    Attributes:
        value: on the clock; None = half has not failed yet.
        low, high: interval; ``high`` None = no upper end is known.
        confidence: of the interval, 0 to 1: what so few coupons can give, 0.95 where they can.
    """

    value: float | None
    low: float
    high: float | None
    confidence: float


@dataclass(frozen=True, slots=True)
class WeibullFit:
    """A Weibull distribution fitted to intervals by maximum likelihood.

    Attributes:
        shape, scale: S(t) = exp(-(t / scale) ** shape).
        log_likelihood: at the maximum.
        median, low, high: with a 95 % interval by the likelihood ratio; ``high`` None = no upper end.
        fits: whether the coupons themselves agree with the curve well enough to show it.
    """

    shape: float
    scale: float
    log_likelihood: float
    median: float
    low: float
    high: float | None
    fits: bool


@dataclass(frozen=True, slots=True)
class SurvivalCurve:
    """How long the coupons of a group stayed above the failing grade.

    Attributes:
        group: id.
        count, failed: coupons that count, and those that have failed.
        masses: where they failed (Turnbull's estimate), by place; the last may be without an end.
        followed: the furthest place to which one that has not failed was followed.
        median: when half had failed.
        weibull: fit, or None where there is too little to fit one.
        followed_all: how far every one that has not failed was followed; less than ``followed`` where some were
            last graded earlier than others.
    """

    group: str
    count: int
    failed: int
    masses: tuple[Mass, ...]
    followed: float
    median: MedianTime
    weibull: WeibullFit | None
    followed_all: float = 0.0


@dataclass(frozen=True, slots=True)
class SurvivalFindings:
    """Time to the failing grade, by group.

    Attributes:
        curves: in the order of the groups; those without a graded coupon are not among them.
        scores: of every coupon, for the permutation test: high = it failed late.
    """

    curves: tuple[SurvivalCurve, ...]
    scores: Mapping[int, float]
