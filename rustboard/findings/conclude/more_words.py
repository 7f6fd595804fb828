"""What the verdict says beside the comparisons: when coupons failed, finish and protectant, what protection costs."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from rustboard.findings.coupons.groups import GroupResult
from rustboard.findings.coupons.subject import Subject
from rustboard.findings.factors.results import FactorFindings
from rustboard.findings.factors.words import factor_words
from rustboard.findings.sentence import Sentence
from rustboard.findings.survival.results import SurvivalFindings
from rustboard.findings.survival.words import survival_words
from rustboard.findings.value.results import ValueFindings
from rustboard.findings.value.words import value_words

_MOST_OF_EACH: Final = 2


def more_words(
    subject: Subject,
    groups: Sequence[GroupResult],
    survival: SurvivalFindings | None,
    factors: FactorFindings | None,
    value: ValueFindings | None,
) -> tuple[Sentence, ...]:
    """Return a few sentences of each part; their pages have the rest.

    Args:
        subject: the board.
        groups: the best first.
        survival: of the groups.
        factors: where treatments form a grid.
        value: where costs are known.
    """
    found: list[Sentence] = []
    if survival is not None:
        found += _failing(subject, groups, survival)
    if factors is not None:
        found += factor_words(factors, subject)[:_MOST_OF_EACH]
    if value is not None and len(groups) > 1:
        found += value_words(value)[:_MOST_OF_EACH]
    return tuple(found)


def _failing(subject: Subject, groups: Sequence[GroupResult], survival: SurvivalFindings) -> list[Sentence]:
    """Return when coupons of the best group and of the controls failed."""
    graded = [each.group for each in groups if each.counted]
    wanted = dict.fromkeys([*graded[:1], *(each for each in graded if each.role == "control")])
    curves = {each.group: each for each in survival.curves}
    clock = subject.request.clock.kind
    return [survival_words(curves[each.id], each.name, clock) for each in wanted if each.id in curves]
