"""What a report says of time to failure, of value, of doubts and of finish by protectant."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

from rustboard.session.report_writing import Say, all_said

if TYPE_CHECKING:
    from rustboard.findings.conclude.findings import Findings
    from rustboard.findings.factors.results import Effect
    from rustboard.findings.survival.results import SurvivalCurve
    from rustboard.findings.value.results import ValuePoint
    from rustboard.report.findings_content import (
        DoubtLine,
        EffectLine,
        FailingLine,
        FailingStep,
        GridContent,
        ValueLine,
    )


def failing_lines(findings: Findings, say: Say) -> Iterator[FailingLine]:
    """Yield time to the failing grade, in the order of the groups."""
    from rustboard.findings.survival.words import survival_words
    from rustboard.report.findings_content import FailingLine

    if findings.survival is None:
        return
    groups = {each.id: each for each in findings.subject.groups}
    for curve in findings.survival.curves:
        group = groups[curve.group]
        words = say(survival_words(curve, group.name, findings.subject.request.clock.kind))
        known = curve.median.value is not None
        yield FailingLine(
            curve.group,
            group.name,
            group.role == "control",
            curve.count,
            curve.failed,
            finite(curve.median.value),
            finite(curve.median.low) if known else None,
            finite(curve.median.high) if known else None,
            curve.median.confidence,
            tuple(_steps(curve)),
            curve.followed,
            words,
        )


def _steps(curve: SurvivalCurve) -> Iterator[FailingStep]:
    from rustboard.report.findings_content import FailingStep

    above = 1.0
    for mass in curve.masses:
        if math.isfinite(mass.before):
            above = max(0.0, above - mass.share)
            # The shares add up to 1 but for the noise of sums, and what is left of it is nobody.
            yield FailingStep(mass.after, mass.before, 0.0 if above < 1e-9 else above)


def value_lines(findings: Findings) -> Iterator[ValueLine]:
    """Yield cost against protection, best protection first."""
    for each in () if findings.value is None else findings.value.points:
        yield _value_line(each)


def _value_line(each: ValuePoint) -> ValueLine:
    from rustboard.report.findings_content import ValueLine

    return ValueLine(
        each.group,
        each.name,
        each.control,
        finite(each.cost_per_m2),
        finite(each.minutes_per_m2),
        each.protection,
        each.low,
        each.high,
        each.best_for_money,
        each.best_for_time,
        finite(each.days_above),
        each.at_least,
        finite(each.cost_per_month),
    )


def value_sentences(findings: Findings, say: Say) -> tuple[str, ...]:
    """Return what cost against protection says."""
    from rustboard.findings.value.words import value_words

    return () if findings.value is None else all_said(say, value_words(findings.value))


def doubt_lines(findings: Findings, say: Say) -> Iterator[DoubtLine]:
    """Yield the doubts, the weightiest first."""
    from rustboard.report.findings_content import DoubtLine

    ids = {each.key: each.id for each in findings.subject.record.coupons_in_order()}
    for each in findings.doubts.doubts:
        coupons = tuple(name for key, name in ids.items() if key in each.coupons)
        yield DoubtLine(each.weight, say(each.sentence), "" if each.why is None else say(each.why), coupons)


def grid_content(findings: Findings, say: Say) -> GridContent | None:
    """Return finish by protectant; None where treatments form no grid."""
    from rustboard.findings.factors.words import factor_words
    from rustboard.report.findings_content import GridCellLine, GridContent

    factors = findings.factors
    if factors is None:
        return None
    return GridContent(
        factors.finishes,
        factors.protectants,
        tuple(GridCellLine(each.finish, each.protectant, len(each.values), each.mean) for each in factors.cells),
        (
            *(_effect(each.effect, together=False) for each in factors.main),
            *(_effect(each.effect, together=True) for each in factors.interactions),
        ),
        all_said(say, factor_words(factors, findings.subject)),
    )


def _effect(effect: Effect, *, together: bool) -> EffectLine:
    from rustboard.report.findings_content import EffectLine

    return EffectLine(effect.name, together, effect.difference, effect.low, effect.high, effect.p)


def finite(value: float | None) -> float | None:
    """Return a number that can be written, or None."""
    return value if value is not None and math.isfinite(value) else None
