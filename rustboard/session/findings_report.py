"""What the workbook says of the findings."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import datetime
from typing import TYPE_CHECKING, Final

from rustboard.board.record import BoardRecord, left_out_by_coupon
from rustboard.session.findings_report_parts import (
    doubt_lines,
    failing_lines,
    finite,
    grid_content,
    value_lines,
    value_sentences,
)
from rustboard.session.report_writing import all_said, say_in

if TYPE_CHECKING:
    from rustboard.board.exposure_clock import ClockKind
    from rustboard.board.question import Question
    from rustboard.findings.compare.results import Compared, Standing
    from rustboard.findings.conclude.findings import Findings
    from rustboard.findings.coupons.groups import GroupResult
    from rustboard.report.choice import Writing
    from rustboard.report.findings_content import ComparedLine, FindingsContent, LeftOutLine, RankedLine

_STANDING: Final[dict[Standing, str]] = {
    "better": "the first is better",
    "worse": "the second is better",
    "leans better": "leans to the first, not shown",
    "leans worse": "leans to the second, not shown",
    "open": "cannot be told apart",
}
_NOTHING: Final = "nothing can be said"
"""Where neither the model nor the exact test has an answer."""
_UNITS: Final[dict[ClockKind, str]] = {
    "days": "days",
    "wet hours": "wet hours",
    "rain": "mm of rain",
    "controls": "grades lost by the controls",
}
_OVER: Final[dict[ClockKind, str]] = {
    "days": "the days of exposure",
    "wet hours": "the wet hours",
    "rain": "the mm of rain",
    "controls": "the grades that the controls lost",
}


def findings_content(findings: Findings, writing: Writing | None = None) -> FindingsContent:
    """Return what to write of findings; a figure that cannot be had, or is no finite number, is left empty.

    ``writing``: how numbers in sentences are written; None = plain, with a point.
    """
    from rustboard.report.findings_content import FindingsContent

    subject, say = findings.subject, say_in(writing)
    kind = subject.request.clock.kind
    ids = {key: each.id for key, each in subject.record.coupons.items()}
    return FindingsContent(
        measure=_measure(subject.question, kind),
        failing_grade=subject.question.failing_grade,
        verdict=all_said(say, findings.verdict),
        ranked=tuple(_ranked(each, ids) for each in findings.groups),
        compared=tuple(_compared(each) for each in findings.comparing.compared),
        cautions=all_said(say, findings.cautions),
        left_out=tuple(_left_out(subject.record)),
        complete=findings.complete,
        unit=_UNITS[kind],
        in_grades=subject.in_grades,
        failing=tuple(failing_lines(findings, say)),
        value=tuple(value_lines(findings)),
        value_words=value_sentences(findings, say),
        unpriced=() if findings.value is None else findings.value.unknown,
        doubts=tuple(doubt_lines(findings, say)),
        more_days=() if findings.growth is None else all_said(say, findings.growth.advice),
        grid=grid_content(findings, say),
    )


def _measure(question: Question, clock: ClockKind) -> str:
    if question.measure == "last grade":
        return "grades: the last grade of each coupon"
    if question.measure == "mean grade":
        return f"grades: the mean grade of each coupon over {_OVER[clock]}"
    return f"{_UNITS[clock]}: how long each coupon stayed above the failing grade, so far"


def _ranked(result: GroupResult, ids: Mapping[int, str]) -> RankedLine:
    from rustboard.report.findings_content import RankedLine

    return RankedLine(
        result.group.name,
        len(result.counted),
        finite(result.mean),
        finite(result.sd),
        result.rank_group,
        result.failed,
        finite(result.days_to_failure),
        result.group.id,
        result.group.role == "control",
        result.values,
        tuple(ids[key] for key in result.counted),
        finite(result.mean_low),
        finite(result.mean_high),
    )


def _compared(each: Compared) -> ComparedLine:
    from rustboard.report.findings_content import ComparedLine

    model, exact = each.model, each.exact
    of_model = (None,) * 4 if model is None else (model.difference, model.low, model.high, model.p)
    of_exact = (None,) * 3 if exact is None else (exact.p, exact.smallest, exact.p_family)
    difference, low, high, p_model, p_exact, smallest, family = map(finite, (*of_model, *of_exact))
    at_least = exact is not None and exact.at_least
    nothing = model is None and exact is None
    return ComparedLine(
        each.comparison.a,
        each.comparison.b,
        difference,
        low,
        high,
        p_model,
        p_exact,
        smallest,
        family,
        at_least,
        _NOTHING if nothing and each.standing == "open" else _STANDING[each.standing],
    )


def _left_out(record: BoardRecord) -> Iterator[LeftOutLine]:
    from rustboard.report.findings_content import LeftOutLine

    left_out = left_out_by_coupon(record)
    for coupon in record.coupons_in_order():
        if coupon.key in left_out:
            each = left_out[coupon.key]
            where = "" if coupon.position is None else coupon.position.label
            yield LeftOutLine(coupon.id, where, each.reason, each.who, _moment(each.recorded))


def _moment(recorded: str) -> datetime | str:
    try:
        return datetime.fromisoformat(recorded).replace(tzinfo=None)
    except ValueError:  # a stranger's file holds any text here
        return recorded
