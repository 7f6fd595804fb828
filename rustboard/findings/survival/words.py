"""What is known of the time to the failing grade, in plain words."""

from __future__ import annotations

from rustboard.board.exposure_clock import ClockKind
from rustboard.findings.sentence import Sentence
from rustboard.findings.survival.results import SurvivalCurve

_AT = {
    "days": "day {0}",
    "wet hours": "{0} wet hours",
    "rain": "{0} mm of rain",
    "controls": "{0} grades lost by the controls",
}


def survival_words(curve: SurvivalCurve, name: str, clock: ClockKind) -> Sentence:
    """Return when the coupons of a group failed, and how surely that is known.

    Args:
        curve: of the group.
        name: what people call it.
        clock: that exposure is told by.
    """
    at = _AT[clock]
    if not curve.failed:
        return _none_failed(curve, name, at)
    median = curve.median
    if median.value is None:
        return Sentence(
            "Fewer than half of the coupons of {0} are known to have failed: {1} of {2}.",
            (name, curve.failed, curve.count),
        )
    parts = (
        round(median.value, 1),
        name,
        curve.failed,
        curve.count,
        round(100 * median.confidence),
        round(median.low, 1),
    )
    if curve.count == 1:
        return Sentence(f"The one coupon of {{1}} was first seen failed at {at}.", parts)
    half = f"Half of the coupons of {{1}} had failed by {at} ({{2}} of {{3}} so far)"
    if median.high is None:
        return Sentence(f"{half}; the true middle lies after {at.replace('0', '5')} ({{4}} % sure).", parts)
    upper = (*parts, round(median.high, 1))
    between = f"between {at.replace('0', '5')} and {at.replace('0', '6')}"
    return Sentence(f"{half}; the true middle lies {between} ({{4}} % sure).", upper)


def _none_failed(curve: SurvivalCurve, name: str, at: str) -> Sentence:
    last, first = round(curve.followed, 1), round(curve.followed_all, 1)
    if curve.count == 1:
        return Sentence(f"The one coupon of {{1}} had not failed at {at}.", (last, name))
    if first == last:
        return Sentence(f"None of the {{2}} coupons of {{1}} had failed at {at}.", (last, name, curve.count))
    return Sentence(
        f"None of the {{2}} coupons of {{1}} had failed when last graded, from {at.replace('0', '3')} to {at}.",
        (last, name, curve.count, first),
    )


def interval_words(after: float, before: float | None, clock: ClockKind) -> Sentence:
    """Return between which inspections one coupon failed."""
    at = _AT[clock]
    if before is None:
        return Sentence(f"not failed at {at}", (round(after, 1),))
    if after == before:
        return Sentence(f"failed at {at}", (round(after, 1),))
    return Sentence(f"failed between {at} and {at.replace('0', '1')}", (round(after, 1), round(before, 1)))
