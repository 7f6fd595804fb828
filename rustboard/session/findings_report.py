"""What the workbook says of the findings."""

from __future__ import annotations

import math
from collections.abc import Iterator
from datetime import datetime
from typing import TYPE_CHECKING, Final

from rustboard.board.record import BoardRecord, left_out_by_coupon

if TYPE_CHECKING:
    from rustboard.board.exposure_clock import ClockKind
    from rustboard.board.question import Question
    from rustboard.findings.compare.results import Compared, Standing
    from rustboard.findings.conclude.findings import Findings
    from rustboard.findings.coupons.groups import GroupResult
    from rustboard.report.findings_sheet import ComparedLine, FindingsContent, LeftOutLine, RankedLine

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


def findings_content(findings: Findings) -> FindingsContent:
    """Return what to write of findings; a figure that cannot be had, or is no finite number, is left empty."""
    from rustboard.report.findings_sheet import FindingsContent

    subject = findings.subject
    return FindingsContent(
        _measure(subject.question, subject.request.clock.kind),
        subject.question.failing_grade,
        tuple(each.text() for each in findings.verdict),
        tuple(_ranked(each) for each in findings.groups),
        tuple(_compared(each) for each in findings.comparing.compared),
        tuple(each.text() for each in findings.cautions),
        tuple(_left_out(subject.record)),
        findings.complete,
    )


def _measure(question: Question, clock: ClockKind) -> str:
    if question.measure == "last grade":
        return "grades: the last grade of each coupon"
    if question.measure == "mean grade":
        return f"grades: the mean grade of each coupon over {_OVER[clock]}"
    return f"{_UNITS[clock]}: how long each coupon stayed above the failing grade, so far"


def _ranked(result: GroupResult) -> RankedLine:
    from rustboard.report.findings_sheet import RankedLine

    return RankedLine(
        result.group.name,
        len(result.counted),
        _finite(result.mean),
        _finite(result.sd),
        result.rank_group,
        result.failed,
        _finite(result.days_to_failure),
    )


def _compared(each: Compared) -> ComparedLine:
    from rustboard.report.findings_sheet import ComparedLine

    model, exact = each.model, each.exact
    of_model = (None,) * 4 if model is None else (model.difference, model.low, model.high, model.p)
    of_exact = (None,) * 3 if exact is None else (exact.p, exact.smallest, exact.p_family)
    difference, low, high, p_model, p_exact, smallest, family = map(_finite, (*of_model, *of_exact))
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
    from rustboard.report.findings_sheet import LeftOutLine

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


def _finite(value: float | None) -> float | None:
    return value if value is not None and math.isfinite(value) else None
