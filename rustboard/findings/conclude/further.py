"""What the verdict says beyond the comparisons: how long coupons lasted, at what cost, and what each factor does."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from rustboard.findings.compare.coats import coats_trends, coats_words
from rustboard.findings.coupons.groups import GroupResult
from rustboard.findings.coupons.subject import Subject
from rustboard.findings.factors.results import FactorFindings
from rustboard.findings.factors.words import factor_words
from rustboard.findings.sentence import Sentence
from rustboard.findings.survival.results import SurvivalFindings
from rustboard.findings.survival.words import survival_words
from rustboard.findings.value.results import ValueFindings
from rustboard.findings.value.words import AS_SEEN, value_words

MOST_OF_A_KIND: Final = 2


def further_words(
    subject: Subject,
    groups: Sequence[GroupResult],
    survival: SurvivalFindings | None,
    factors: FactorFindings | None,
    value: ValueFindings | None,
) -> tuple[Sentence, ...]:
    """Return the sentences that follow the comparisons in a verdict, the weightiest of each kind.

    Args:
        subject: the board.
        groups: the best first.
        survival: None where nothing was graded.
        factors: None without a grid of finishes and protectants.
        value: None where no cost is known.
    """
    found = [] if survival is None else _lasting(subject, groups, survival)
    if value is not None:
        prices = value_words(value)[:MOST_OF_A_KIND]
        found += [*prices, AS_SEEN] if prices and AS_SEEN not in prices else prices
    found += [coats_words(each) for each in coats_trends(subject, subject.values)][:MOST_OF_A_KIND]
    if factors is not None:
        found += factor_words(factors, subject)[:MOST_OF_A_KIND]
    return tuple(found)


def _lasting(subject: Subject, groups: Sequence[GroupResult], survival: SurvivalFindings) -> list[Sentence]:
    """Return how long the best treatment lasted, and the controls."""
    curves = {each.group: each for each in survival.curves}
    known = [each.group for each in groups if each.group.id in curves]
    best = [each for each in known if each.role != "control"][:1]
    controls = [each for each in known if each.role == "control"][:1]
    clock = subject.request.clock.kind
    return [survival_words(curves[each.id], each.name, clock) for each in (*best, *controls)]
