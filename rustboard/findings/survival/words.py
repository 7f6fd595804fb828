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
    followed = round(curve.followed, 1)
    if not curve.failed:
        all_of_them = "The one coupon of {1}" if curve.count == 1 else "None of the {2} coupons of {1}"
        ending = "had not failed" if curve.count == 1 else "had failed"
        return Sentence(f"{all_of_them} {ending} at {at}.", (followed, name, curve.count))
    median = curve.median
    if median.value is None:
        return Sentence(
            f"Fewer than half of the coupons of {{1}} have failed: {{2}} of {{3}} at {at}.",
            (followed, name, curve.failed, curve.count),
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


def interval_words(after: float, before: float | None, clock: ClockKind) -> Sentence:
    """Return between which inspections one coupon failed."""
    at = _AT[clock]
    if before is None:
        return Sentence(f"not failed at {at}", (round(after, 1),))
    if after == before:
        return Sentence(f"failed at {at}", (round(after, 1),))
    return Sentence(f"failed between {at} and {at.replace('0', '1')}", (round(after, 1), round(before, 1)))
