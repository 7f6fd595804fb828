"""What the workbook says of how graders agree."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from rustboard.board.record import BoardRecord
from rustboard.session.agreement import (
    ALL_BLIND,
    AgreementRequest,
    Differing,
    StudiedAgreement,
    anything_to_compare,
    how_it_counts,
    study_grades,
)
from rustboard.session.agreement_figures import Compared, compared
from rustboard.session.jobs import Progress

if TYPE_CHECKING:
    from rustboard.findings.agreement.kappa import Interval
    from rustboard.report.agreement_sheet import AgreementContent, DifferingLine, FigureLine

_HOW = {"rule": "by the rule", "agreed": "agreed afterwards", "other": "graded openly later", "none": "withdrawn"}


def agreement_content(record: BoardRecord) -> AgreementContent | None:
    """Return what to write of all revealed blind inspections; None where none has two graders or repeats."""
    from rustboard.report.agreement_sheet import AgreementContent

    if not anything_to_compare(record):
        return None
    studied = study_grades(AgreementRequest(record, ALL_BLIND), Progress())
    words = studied.words
    parts = (
        ("One grader twice", words.repeats),
        ("Graders with one another", words.graders),
        ("Coupons told apart", words.coupons),
        ("Eye and photo", words.photo),
        ("Look again", words.look_again),
        ("What this leans on", words.cautions),
    )
    return AgreementContent(
        [(heading, [each.text() for each in sentences]) for heading, sentences in parts if sentences],
        [_line(each, studied) for each in compared(studied.study)],
        list(_differing(record, studied)),
    )


def _line(each: Compared, studied: StudiedAgreement) -> FigureLine:
    from rustboard.report.agreement_sheet import FigureLine

    found, icc = each.agreement, each.reliability
    linear, squared = (None, None) if found is None else (found.linear, found.quadratic)
    figures = (
        *_three(None if linear is None else linear.value, None if linear is None else linear.interval),
        *_three(None if squared is None else squared.value, None if squared is None else squared.interval),
        *_three(None if icc is None else icc.absolute, None if icc is None else icc.interval),
        *_three(
            None if each.offset is None else each.offset.mean, None if each.offset is None else each.offset.interval
        ),
    )
    exact, within_one = (None, None) if found is None else (found.exact, found.within_one)
    return FigureLine(_name(each, studied), each.coupons, exact, within_one, figures)


def _three(value: float | None, interval: Interval | None) -> tuple[float | None, float | None, float | None]:
    low, high = (None, None) if interval is None else interval
    return value, low, high


def _name(each: Compared, studied: StudiedAgreement) -> str:
    if each.kind == "together":
        together = studied.study.together
        return f"All {0 if together is None else len(together.graders)} graders"
    other = {"repeat": "second look", "others": "mean of the others", "photo": "the photo"}.get(each.kind, each.b)
    return f"{each.a} and {other}"


def _differing(record: BoardRecord, studied: StudiedAgreement) -> Iterator[DifferingLine]:
    from rustboard.report.agreement_sheet import DifferingLine

    for each in studied.differing:
        coupon, counts = record.coupons[each.coupon], record.grading(each.coupon, each.inspection)
        yield DifferingLine(
            coupon.id,
            "" if coupon.position is None else coupon.position.label,
            record.inspections[each.inspection].at,
            _given(each),
            each.photo,
            None if each.by_rule is None else each.by_rule.grade,
            None if counts is None else counts.grade,
            _HOW[how_it_counts(each.by_rule, counts)],
        )


def _given(differing: Differing) -> str:
    return ", ".join(
        f"{each.grader} {each.grade}" if each.again is None else f"{each.grader} {each.grade}, then {each.again}"
        for each in differing.given
    )
