"""How long the coupons of each group stayed above the failing grade."""

from __future__ import annotations

from collections.abc import Sequence
from math import inf

from rustboard.findings.coupons.groups import Group
from rustboard.findings.coupons.subject import Subject
from rustboard.findings.survival.results import Mass, SurvivalCurve, SurvivalFindings
from rustboard.findings.survival.scores import interval_scores
from rustboard.findings.survival.times import median_time
from rustboard.findings.survival.turnbull import Span, turnbull
from rustboard.findings.survival.weibull import weibull_fit


def survival_findings(subject: Subject) -> SurvivalFindings | None:
    """Return the survival of every group; None where nothing was graded."""
    spans = spans_of(subject)
    if not spans:
        return None
    curves = [
        _curve(group, [spans[each] for each in group.coupons if each in spans])
        for group in subject.groups
        if any(each in spans for each in group.coupons)
    ]
    return SurvivalFindings(tuple(curves), interval_scores(spans))


def spans_of(subject: Subject) -> dict[int, Span]:
    """Return where each coupon that counts failed, by key."""
    return {
        key: Span(each.failure.after, inf if each.failure.before is None else each.failure.before)
        for key, each in subject.measures.items()
    }


def _curve(group: Group, spans: Sequence[Span]) -> SurvivalCurve:
    estimate = turnbull(spans)
    whole = [each.after for each in spans if each.before == inf] or [max(each.after for each in spans)]
    return SurvivalCurve(
        group.id,
        len(spans),
        sum(each.before < inf for each in spans),
        tuple(
            Mass(span.after, span.before, share) for span, share in zip(estimate.spans, estimate.shares, strict=True)
        ),
        max(whole),
        median_time(estimate, spans),
        weibull_fit(spans),
        min(whole),
    )
