"""The whole of the findings of one board: a first answer at once, and all of it with the exact tests."""

from __future__ import annotations

from dataclasses import replace

from rustboard.board.exposure_clock import day_clock
from rustboard.board.series import inspection_days
from rustboard.findings.amounts import begun
from rustboard.findings.compare.closed_tests import with_family
from rustboard.findings.compare.comparing import compare
from rustboard.findings.compare.exact_pairs import exact_result
from rustboard.findings.compare.median_difference import median_difference
from rustboard.findings.compare.model import BoardModel
from rustboard.findings.compare.ranks import overall_test
from rustboard.findings.compare.results import Comparing
from rustboard.findings.compare.standing import judged
from rustboard.findings.conclude.cautions import caution_words
from rustboard.findings.conclude.findings import Findings
from rustboard.findings.conclude.further import further_words
from rustboard.findings.conclude.parts import Part
from rustboard.findings.conclude.ranking import ranked_groups
from rustboard.findings.coupons.subject import FindingsRequest, Subject, subject_of
from rustboard.findings.doubts.doubts import doubts_of
from rustboard.findings.factors.factors import factor_findings
from rustboard.findings.growth.findings import growth_findings
from rustboard.findings.power import Progress
from rustboard.findings.survival.curves import survival_findings
from rustboard.findings.survival.results import SurvivalFindings
from rustboard.findings.value.points import value_findings
from rustboard.findings.verdict.verdict import verdict_words


def needs_earlier_spread(request: FindingsRequest) -> bool:
    """Return whether a board says nothing of the spread within groups, so that earlier boards should be asked."""
    if request.question.assumed_sd is not None:
        return False
    subject = subject_of(request)
    return bool(subject.comparisons) and subject.in_grades and BoardModel(subject).error is None


def first_findings(request: FindingsRequest) -> Findings:
    """Return what can be said at once: all but the exact tests and the forecast."""
    subject = subject_of(request)
    return _put_together(subject, compare(subject), survival_findings(subject), complete=False)


def whole_findings(request: FindingsRequest, progress: Progress | None = None) -> Findings:
    """Return all that a board shows.

    Args:
        request: what is asked.
        progress: told how far the work is; may end it by raising.
    """
    subject = subject_of(request)
    survival = survival_findings(subject)
    comparing = with_exact_tests(subject, compare(subject), survival, Part(progress, 0.0, 0.8))
    found = _put_together(subject, comparing, survival, complete=True)
    growth = growth_findings(subject, comparing, progress=Part(progress, 0.8, 1.0))
    if growth is not None:
        growth = replace(growth, advice=tuple(map(begun, growth.advice)))
    return replace(found, growth=growth)


def with_exact_tests(
    subject: Subject, comparing: Comparing, survival: SurvivalFindings | None = None, progress: Progress | None = None
) -> Comparing:
    """Return the comparisons with their exact tests, and what these change in how they stand.

    Args:
        subject: the board.
        comparing: what the model says.
        survival: has the scores of the coupons, by which times to the failing grade are compared.
        progress: told how far the work is; may end it by raising.
    """
    values = subject.values if subject.in_grades or survival is None else survival.scores
    singly, family = Part(progress, 0.0, 0.3), Part(progress, 0.3, 0.9)
    found = []
    for number, each in enumerate(comparing.compared):
        singly.step(number, len(comparing.compared))
        found.append((each.comparison, exact_result(subject, each.comparison, values, singly)))
    together = with_family(subject, found, values, family)
    compared = tuple(
        judged(replace(each, exact=exact, shift=median_difference(subject, each.comparison)))
        for each, exact in zip(comparing.compared, together, strict=True)
    )
    return replace(comparing, compared=compared, overall=overall_test(subject, values, Part(progress, 0.9, 1.0)))


def _put_together(
    subject: Subject, comparing: Comparing, survival: SurvivalFindings | None, *, complete: bool
) -> Findings:
    groups = ranked_groups(
        subject.group_results,
        comparing.letters,
        survival,
        _by_days(subject, survival),
        BoardModel(subject).error,
        _units_each(subject),
    )
    doubts, factors, value = doubts_of(subject, groups), factor_findings(subject), value_findings(subject, groups)
    told = verdict_words(subject, groups, comparing)
    return Findings(
        subject=subject,
        groups=groups,
        comparing=comparing,
        survival=survival,
        factors=factors,
        value=value,
        doubts=doubts,
        growth=None,
        verdict=tuple(begun(each) for each in (*told, *further_words(subject, groups, survival, factors, value))),
        cautions=tuple(map(begun, caution_words(comparing, doubts))),
        complete=complete,
    )


def _units_each(subject: Subject) -> dict[str, int]:
    return {
        group.id: sum(not unit.coupons.isdisjoint(group.coupons) for unit in subject.units)
        for group in subject.groups
    }


def _by_days(subject: Subject, survival: SurvivalFindings | None) -> SurvivalFindings | None:
    if subject.request.clock.kind == "days":
        return survival
    clock = day_clock(inspection_days(subject.record))
    return survival_findings(subject_of(replace(subject.request, clock=clock)))
