"""Survival from times that are known only as intervals: Turnbull's nonparametric maximum likelihood.

An interval reaches from an inspection at which a coupon was whole (exclusive) to one at which it had failed
(inclusive), or has no end where it has not failed. A time known to the point has both ends alike.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import inf
from typing import Final, NamedTuple

import numpy as np

from rustboard.findings.design_model import Numbers

_CLOSE_ENOUGH: Final = 1e-13
_MOST_STEPS: Final = 40_000
_NOTHING: Final = 1e-9


class Span(NamedTuple):
    """Where something failed: after one place, and by another; both alike = known to the point; inf = not yet."""

    after: float
    before: float


@dataclass(frozen=True, slots=True)
class Turnbull:
    """The estimate.

    Attributes:
        spans: where there is any mass, by place.
        shares: of each, together 1.
        log_likelihood: at the maximum.
    """

    spans: tuple[Span, ...]
    shares: tuple[float, ...]
    log_likelihood: float


def turnbull(spans: Sequence[Span]) -> Turnbull:
    """Return the nonparametric maximum likelihood estimate (Turnbull 1976), by expectation and maximisation.

    The steps are extrapolated (Varadhan and Roland 2008, squared extrapolation); masses below 1e-9 are left out.

    Args:
        spans: one for each coupon, at least one.
    """
    innermost = innermost_spans(spans)
    held = held_in(spans, innermost)
    # Coupons with the same interval count together, so that a thousand of them cost no more than a few.
    patterns, counts = np.unique(held, axis=0, return_counts=True)
    shares = _maximised(patterns.astype(np.float64), counts.astype(np.float64))
    kept = shares > _NOTHING
    shares = np.where(kept, shares, 0.0)
    shares /= shares.sum()
    likelihood = float(counts @ np.log(patterns @ shares))
    return Turnbull(
        tuple(span for span, keep in zip(innermost, kept, strict=True) if keep),
        tuple(float(each) for each in shares[kept]),
        likelihood,
    )


def innermost_spans(spans: Sequence[Span]) -> list[Span]:
    """Return the places that can carry mass: a left end followed at once by a right end, among all ends."""
    ends = set()
    for after, before in spans:
        exact = after == before
        ends.add((after, 0 if exact else 2, True))
        ends.add((before, 1, False))
    in_order = sorted(ends)
    return [Span(left[0], right[0]) for left, right in pairwise(in_order) if left[2] and not right[2]]


def held_in(spans: Sequence[Span], innermost: Sequence[Span]) -> np.ndarray:
    """Return which innermost spans lie within each span."""
    inner_after = np.array([each.after for each in innermost])
    inner_before = np.array([each.before for each in innermost])
    inner_exact = inner_after == inner_before
    found = np.zeros((len(spans), len(innermost)), dtype=bool)
    for number, (after, before) in enumerate(spans):
        # A point at the open left end of an interval is not in it.
        begins = inner_after >= after
        if after != before:
            begins &= ~(inner_exact & (inner_after == after))
        found[number] = begins & (inner_before <= before)
    return found


def _maximised(patterns: Numbers, counts: Numbers) -> Numbers:
    total = counts.sum()

    def step(shares: Numbers) -> Numbers:
        reached = patterns @ shares
        return np.asarray(shares * (patterns.T @ (counts / reached)) / total, dtype=np.float64)

    def value(shares: Numbers) -> float:
        reached = patterns @ shares
        return float(counts @ np.log(reached)) if reached.min() > 0 else -inf

    shares = np.full(patterns.shape[1], 1.0 / patterns.shape[1])
    for _ in range(_MOST_STEPS):
        one = step(shares)
        two = step(one)
        first, second = one - shares, two - 2 * one + shares
        curved = float(second @ second)
        if float(np.abs(first).max()) < _CLOSE_ENOUGH:
            break
        if curved > 0:
            length = max(1.0, float(np.sqrt((first @ first) / curved)))
            leap = np.maximum(shares + 2 * length * first + length**2 * second, 0.0)
            leap = step(leap / leap.sum()) if leap.sum() > 0 else two
            two = leap if value(leap) >= value(two) else two
        shares = two
    return shares


def survival_after(estimate: Turnbull, place: float) -> tuple[float, float]:
    """Return the least and the most that can have survived a place: they differ inside a mass."""
    surely_gone = sum(
        share for span, share in zip(estimate.spans, estimate.shares, strict=True) if span.before <= place
    )
    maybe_gone = sum(
        share
        for span, share in zip(estimate.spans, estimate.shares, strict=True)
        if span.before > place and span.after < place
    )
    return max(0.0, 1.0 - surely_gone - maybe_gone), 1.0 - surely_gone
