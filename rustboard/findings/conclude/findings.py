"""The findings of one board, as values."""

from __future__ import annotations

from dataclasses import dataclass

from rustboard.findings.compare.results import Comparing
from rustboard.findings.coupons.groups import GroupResult
from rustboard.findings.coupons.subject import Subject
from rustboard.findings.doubts.results import Doubts
from rustboard.findings.factors.results import FactorFindings
from rustboard.findings.growth.results import GrowthFindings
from rustboard.findings.sentence import Sentence
from rustboard.findings.survival.results import SurvivalFindings
from rustboard.findings.value.results import ValueFindings


@dataclass(frozen=True)
class Findings:
    """All that a board shows.

    Attributes:
        subject: the board as the findings see it, with the measures of every coupon.
        groups: what each group came to, the best first; those without a graded coupon last.
        comparing: all comparisons of the question.
        survival: time to the failing grade. factors: finish and protectant, where treatments form a grid.
        value: cost against protection. doubts: what speaks against it. growth: is it time to stop.
        verdict: sentences for a customer. cautions: what to know before trusting them.
        complete: whether the exact tests and what else takes long are in it; a first answer is without.
    """

    subject: Subject
    groups: tuple[GroupResult, ...]
    comparing: Comparing
    survival: SurvivalFindings | None
    factors: FactorFindings | None
    value: ValueFindings | None
    doubts: Doubts
    growth: GrowthFindings | None
    verdict: tuple[Sentence, ...]
    cautions: tuple[Sentence, ...]
    complete: bool
