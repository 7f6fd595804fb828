"""Findings as scripts get them: the JSON of ``rustboard findings``."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Final

from rustboard.findings.compare.results import Compared
from rustboard.findings.coupons.groups import GroupResult
from rustboard.findings.doubts.results import Doubts
from rustboard.findings.sentence import Sentence

if TYPE_CHECKING:
    from rustboard.findings.conclude.findings import Findings
    from rustboard.findings.coupons.subject import Subject
    from rustboard.findings.factors.results import Effect, FactorFindings
    from rustboard.findings.growth.results import GrowthFindings
    from rustboard.findings.survival.results import SurvivalFindings
    from rustboard.findings.value.results import ValueFindings

_DECIMALS: Final = 6


def findings_data(findings: Findings) -> dict[str, object]:
    """Return the findings of one board as values that JSON has; what is not known is None."""
    subject = findings.subject
    return {
        "boards": [subject.record.board.name],
        "failing_grade": subject.question.failing_grade,
        "clock": subject.request.clock.kind,
        "measure": subject.question.measure,
        "compared": subject.question.compared,
        "coupons": coupon_rows(subject),
        "treatments": [_group(each) for each in findings.groups],
        "comparisons": [_comparison(each) for each in findings.comparing.compared],
        "overall": _overall(findings),
        "survival": None if findings.survival is None else _survival(findings.survival),
        "factors": None if findings.factors is None else _factors(findings.factors),
        "value": None if findings.value is None else _value(findings.value),
        "doubts": _doubts(subject, findings.doubts),
        "growth": None if findings.growth is None else _growth(findings.growth),
        "verdict": texts(findings.verdict),
        "cautions": texts(findings.cautions),
    }


def texts(sentences: Iterable[Sentence]) -> list[str]:
    """Return sentences as plain text."""
    return [each.text() for each in sentences]


def rounded(value: float | None) -> float | None:
    """Return a number for scripts, short of the noise of sums."""
    return None if value is None else round(value, _DECIMALS) + 0.0


def p_value(value: float | None) -> float | None:
    """Return a p value for scripts: four digits that count, however small it is."""
    return None if value is None else float(f"{value:.4g}")


def coupon_rows(subject: Subject) -> list[dict[str, object]]:
    """Return a row for each graded coupon, in reading order."""
    coupons = subject.record.coupons
    treatment_ids = {key: each.id for key, each in subject.record.treatments.items()}
    rows = []
    for coupon in subject.record.coupons_in_order():
        measures = subject.all_measures.get(coupon.key)
        if measures is None:
            continue
        failure = measures.failure
        rows.append(
            {
                "coupon": coupon.id,
                "position": "" if coupon.position is None else coupon.position.label,
                "treatment": treatment_ids.get(coupons[coupon.key].treatment or 0, ""),
                "role": coupon.role,
                "last_grade": measures.last_grade,
                "weighted_mean_grade": rounded(measures.mean_grade),
                "failed_after": rounded(failure.after),
                "failed_before": rounded(failure.before),
                "recovered": failure.recovered,
                "left_out": subject.left_out.get(coupon.key),
            }
        )
    return rows


def _group(each: GroupResult) -> dict[str, object]:
    return {
        "treatment": each.group.id,
        "name": each.group.name,
        "role": each.group.role,
        "n": len(each.counted),
        "mean": rounded(each.mean),
        "median": rounded(each.median),
        "sd": rounded(each.sd),
        "rank_group": each.rank_group or None,
        "failed": each.failed,
        "median_days_to_failure": rounded(each.days_to_failure),
        "median_to_failure": rounded(each.median_to_failure),
        "median_low": rounded(each.median_low),
        "median_high": rounded(each.median_high),
    }


def _comparison(each: Compared) -> dict[str, object]:
    model, exact, shift = each.model, each.exact, each.shift
    return {
        "kind": each.comparison.kind,
        "a": each.id_a,
        "b": each.id_b,
        "name_a": each.comparison.a,
        "name_b": each.comparison.b,
        "n_a": len(each.values_a),
        "n_b": len(each.values_b),
        "difference": rounded(None if model is None else model.difference),
        "low": rounded(None if model is None else model.low),
        "high": rounded(None if model is None else model.high),
        "standard_error": rounded(None if model is None else model.standard_error),
        "degrees_of_freedom": None if model is None else model.degrees_of_freedom,
        "interval_by": None if model is None else model.method,
        "borrowed_spread": each.borrowed,
        "p_model": p_value(None if model is None else model.p),
        "p_exact": p_value(None if exact is None else exact.p),
        "p_exact_smallest": p_value(None if exact is None else exact.smallest),
        "p_exact_family": p_value(None if exact is None else exact.p_family),
        "p_exact_family_at_least": exact is not None and exact.at_least,
        "arrangements": None if exact is None else exact.arrangements,
        "sampled": None if exact is None else exact.sampled,
        "median_difference": rounded(None if shift is None else shift.estimate),
        "median_low": rounded(None if shift is None else shift.low),
        "median_high": rounded(None if shift is None else shift.high),
        "standing": each.standing,
        "doubts": texts(each.doubts),
        "notes": texts(each.notes),
    }


def _overall(findings: Findings) -> dict[str, object] | None:
    overall = findings.comparing.overall
    if overall is None:
        return None
    return {
        "test": overall.test,
        "statistic": rounded(overall.statistic),
        "p": p_value(overall.p),
        "sampled": overall.sampled,
        "groups": overall.groups,
    }


def _survival(survival: SurvivalFindings) -> list[dict[str, object]]:
    return [
        {
            "treatment": each.group,
            "n": each.count,
            "failed": each.failed,
            "followed": rounded(each.followed),
            "masses": [
                {
                    "after": rounded(mass.after),
                    "before": rounded(mass.before) if mass.before < float("inf") else None,
                    "share": rounded(mass.share),
                }
                for mass in each.masses
            ],
            "median": rounded(each.median.value),
            "median_low": rounded(each.median.low),
            "median_high": rounded(each.median.high),
            "median_confidence": rounded(each.median.confidence),
            "weibull": None
            if each.weibull is None
            else {
                "shape": rounded(each.weibull.shape),
                "scale": rounded(each.weibull.scale),
                "median": rounded(each.weibull.median),
                "low": rounded(each.weibull.low),
                "high": rounded(each.weibull.high),
                "fits": each.weibull.fits,
            },
        }
        for each in survival.curves
    ]


def _effect(each: Effect) -> Mapping[str, object]:
    return {
        "difference": rounded(each.difference),
        "low": rounded(each.low),
        "high": rounded(each.high),
        "p": p_value(each.p),
    }


def _factors(factors: FactorFindings) -> dict[str, object]:
    return {
        "finishes": list(factors.finishes),
        "protectants": list(factors.protectants),
        "cells": [
            {
                "finish": each.finish,
                "protectant": each.protectant,
                "treatments": list(each.groups),
                "n": len(each.values),
                "mean": rounded(each.mean),
            }
            for each in factors.cells
        ],
        "main": [
            {"factor": each.factor, "a": each.a, "b": each.b, "over": list(each.over), **_effect(each.effect)}
            for each in factors.main
        ],
        "interactions": [
            {"finishes": list(each.finishes), "protectants": list(each.protectants), **_effect(each.effect)}
            for each in factors.interactions
        ],
        "interaction_p": p_value(factors.interaction_p),
        "complete": factors.complete,
    }


def _value(value: ValueFindings) -> dict[str, object]:
    return {
        "treatments": [
            {
                "treatment": each.group,
                "cost_per_m2": rounded(each.cost_per_m2),
                "minutes_per_m2": rounded(each.minutes_per_m2),
                "protection": rounded(each.protection),
                "best_for_money": each.best_for_money,
                "best_for_time": each.best_for_time,
                "days_above": rounded(each.days_above),
                "at_least": each.at_least,
                "cost_per_month": rounded(each.cost_per_month),
            }
            for each in value.points
        ],
        "unknown": list(value.unknown),
    }


def _doubts(subject: Subject, doubts: Doubts) -> list[dict[str, object]]:
    ids = {key: each.id for key, each in subject.record.coupons.items()}
    return [
        {
            "kind": each.kind,
            "weight": each.weight,
            "doubt": each.sentence.text(),
            "why": None if each.why is None else each.why.text(),
            "coupons": sorted(ids[key] for key in each.coupons if key in ids),
        }
        for each in doubts.doubts
    ]


def _growth(growth: GrowthFindings) -> dict[str, object]:
    return {
        "more": rounded(growth.more),
        "expected": [
            {
                "a": each.id_a,
                "b": each.id_b,
                "now": rounded(each.now),
                "then": rounded(each.then),
                "low": rounded(each.low),
                "high": rounded(each.high),
                "needed": rounded(each.needed),
                "chance": rounded(each.chance),
                "outlook": each.outlook,
            }
            for each in growth.expected
        ],
        "advice": texts(growth.advice),
    }
