"""How rust grew on a board, and what more exposure could still settle."""

from __future__ import annotations

from math import isfinite
from typing import Final

from rustboard.board.exposure_clock import BEST_GRADE
from rustboard.findings.compare.results import Comparing
from rustboard.findings.coupons.subject import Subject
from rustboard.findings.growth.advice import Situation, advice
from rustboard.findings.growth.board_growth import board_growth
from rustboard.findings.growth.curves import growth_curves, straying
from rustboard.findings.growth.expected import expected_of
from rustboard.findings.growth.planned_end import planned_end
from rustboard.findings.growth.results import GrowthFindings
from rustboard.findings.power import Progress
from rustboard.support.problems import InputError

USUAL_MORE: Final = 0.5
"""Of the exposure so far: a forecast that looks further rests on little (a choice of our own)."""


def growth_findings(
    subject: Subject, comparing: Comparing, more: float | None = None, progress: Progress | None = None
) -> GrowthFindings | None:
    """Return how rust grew and what more exposure may settle; None where no coupon was graded.

    Args:
        subject: the board.
        comparing: its comparisons with what is known of them.
        more: how much further on the clock to look; None = half of the exposure so far.
        progress: told how far the work is; may end it by raising.

    Raises:
        InputError: ``more`` is not above 0.
    """
    if more is not None and not (isfinite(more) and more > 0):
        raise InputError("The forecast has nowhere to look; give how much more exposure it is about, above 0.")
    if not subject.measures:
        return None
    seen = max(each.last_place for each in subject.measures.values())
    further = _further(subject, seen, more)
    until = seen + further
    growth = board_growth(subject, progress)
    stray = straying(subject, growth)
    doubtful = frozenset(key for each in stray for key in each.coupons)
    expected = expected_of(subject, growth, comparing, until, doubtful)
    about = Situation(
        subject.request.clock.kind,
        further or None,
        expected,
        all(each.failure.before is not None for each in subject.measures.values()),
        subject.question.measure == "last grade",
        subject.question.worthwhile,
        planned_end(subject.record),
        stray,
        growth.fit is not None,
    )
    return GrowthFindings(further, growth_curves(subject, growth, until), expected, advice(about))


def _further(subject: Subject, seen: float, more: float | None) -> float:
    wanted = USUAL_MORE * seen if more is None else more
    if subject.request.clock.kind == "controls":
        # Controls have ten grades to lose, and then their clock stands.
        return max(0.0, min(wanted, BEST_GRADE - seen))
    return wanted
