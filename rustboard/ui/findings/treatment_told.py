"""What there is to say of one treatment: when it failed, the curve through that, and what it costs."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from rustboard.findings.conclude.findings import Findings
from rustboard.findings.coupons.groups import GroupResult
from rustboard.findings.survival.results import SurvivalCurve, WeibullFit
from rustboard.findings.survival.words import survival_words
from rustboard.findings.value.results import ValuePoint
from rustboard.findings.value.words import value_words
from rustboard.ui.clock_words import axis_title
from rustboard.ui.findings.figure_words import DASH, group_name, shown, unit_text
from rustboard.ui.findings.words import say, sentence_text

_MOST_VALUES: Final = 12


def treatment_told(found: Findings, each: GroupResult, value: ValuePoint | None) -> Iterator[str]:
    """Yield what is told of a group, line by line."""
    if not each.counted:
        yield say("No coupon of it that counts was graded.")
        return
    values = ", ".join(shown(one) for one in sorted(each.values, reverse=True)[:_MOST_VALUES])
    more = "…" if len(each.values) > _MOST_VALUES else ""
    text = (
        say("{0}: 1 coupon counts, {2} {3}.") if len(each.counted) == 1 else say("{0}: {1} coupons count, {2} {3}.")
    )
    yield text.format(group_name(each.group.name), len(each.counted), values + more, unit_text(found.subject))
    curve = curve_of(found, each.group.id)
    if curve is not None:
        clock = found.subject.request.clock
        yield sentence_text(survival_words(curve, group_name(each.group.name), clock.kind))
        if curve.weibull is not None and curve.weibull.fits:
            yield _weibull_told(curve.weibull, axis_title(clock))
    yield from _value_told(found, value)


def curve_of(found: Findings, group: str) -> SurvivalCurve | None:
    """Return the survival curve of a group, or None."""
    curves = () if found.survival is None else found.survival.curves
    return next((each for each in curves if each.group == group), None)


def _weibull_told(fit: WeibullFit, axis: str) -> str:
    if fit.high is None:
        text = say("A Weibull curve through the same intervals puts the middle at {0} {3}: {1} or more (95 %)")
    else:
        text = say("A Weibull curve through the same intervals puts the middle at {0} {3}: {1} to {2} (95 %)")
    ageing = (
        say("; by its shape, {4}, the longer a coupon has held the likelier it fails next.")
        if fit.shape > 1
        else say("; by its shape, {4}, a coupon that has held is no likelier to fail next than a new one.")
    )
    high = DASH if fit.high is None else shown(fit.high)
    return (text + ageing).format(shown(fit.median), shown(fit.low), high, axis, shown(fit.shape, 2))


def _value_told(found: Findings, value: ValuePoint | None) -> Iterator[str]:
    if found.value is None or value is None:
        yield say("Neither cost nor minutes are written down with it.")
        return
    # Names can be shared, and a sentence about another treatment may begin with this one's name.
    told = [each for each in value_words(found.value) if each.parts[:1] == (value.name,)]
    for sentence in told:
        parts = tuple(group_name(each) if isinstance(each, str) else each for each in sentence.parts)
        yield sentence_text(replace(sentence, parts=parts))
    if told:
        yield say("Price and work go by the means as they were seen, whether they are more than luck or not.")


def best_for(value: ValuePoint | None) -> str:
    """Return what a treatment gives the most protection for, in a word or two."""
    if value is None:
        return DASH
    marks = [
        word
        for word, holds in (
            (say("money"), value.best_for_money and value.cost_per_m2 is not None),
            (say("time"), value.best_for_time and value.minutes_per_m2 is not None),
        )
        if holds
    ]
    return say(" and ").join(marks) or DASH
