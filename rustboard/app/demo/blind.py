"""The demo's blind inspections: what each invented grader gave, and how it is written down."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from math import log10
from typing import Final

from rustboard.board.chance import Chance
from rustboard.board.grade import GRADES, carries_letter
from rustboard.operations.blind import GivenBlind, give_blind
from rustboard.scales.rust_grade import grade_from_percent, limits_percent
from rustboard.store.transaction import Transaction
from rustboard.support.summary import Summary

REPEAT_PERCENT: Final = 25.0
A_LOOK_TAKES: Final = timedelta(seconds=5)

_SPREAD: Final = 0.55
"""Of one look, in grades, at most about twice that; made up, like everything here."""


@dataclass(frozen=True, slots=True)
class BlindGrader:
    """One invented grader.

    Attributes:
        milder: by how many grades he sees less rust than there is.
        seed: of his order and of his slips.
    """

    name: str
    milder: float
    seed: int


@dataclass(frozen=True, slots=True)
class Agreed:
    """A grade that the graders agreed on afterwards."""

    coupon: str
    grade: int
    note: str


@dataclass(frozen=True, slots=True)
class BlindVisit:
    """A visit that is graded blind from its photo, instead of openly.

    Attributes:
        day: of the visit.
        notes: a note by coupon id, which the first grader writes at his first look.
        agreed: what was settled after all was revealed.
    """

    day: int
    graders: tuple[BlindGrader, ...]
    notes: tuple[tuple[str, str], ...] = ()
    agreed: tuple[Agreed, ...] = ()


def looks(percents: Sequence[float], grader: BlindGrader) -> list[int]:
    """Return what a grader gives at each look, in his order; ``percents`` is the true rust of what he is shown.

    He sees the place of the true percent within its grade, on the logarithm of percent as the scale has it, moved by
    his own mildness and a slip of chance; never more than one grade off, and never rust where there is none.
    """
    chance = Chance(grader.seed + 1)
    return [_look(each, grader.milder + _SPREAD * _slip(chance)) for each in percents]


def _slip(chance: Chance) -> float:
    return sum(chance.share() for _ in range(4)) - 2


def _look(percent: float, moved: float) -> int:
    true = grade_from_percent(percent)
    if percent <= 0:
        return true
    seen = round(true + _within(percent, true) + moved)
    return min(GRADES[-1], max(GRADES[0], true - 1, min(true + 1, seen)))


def _within(percent: float, grade: int) -> float:
    """Return where in its grade a percent lies: -0.5 at the worse limit, 0.5 at the better one."""
    better, worse = limits_percent(grade)
    if better <= 0:
        return 0.0
    return 0.5 - log10(percent / better) / log10(worse / better)


def give_round(
    tx: Transaction, round_key: int, given: Sequence[int], letters: Sequence[str], notes: Sequence[str]
) -> Summary:
    """Record a whole round in one step, a few seconds a look, each as `give_blind` does.

    Raises:
        InputError: as `give_blind`; nothing is recorded.
    """
    for number, (grade, letter, note) in enumerate(zip(given, letters, notes, strict=True)):
        then = replace(tx, now=tx.now + number * A_LOOK_TAKES)
        kept = letter if carries_letter(grade) else ""
        give_blind(then, GivenBlind(round_key, number, grade, kept, note=note))
    return Summary("Give {0} blind grades", (str(len(given)),))


def round_ends(began: datetime, showings: int) -> datetime:
    """Return when a round is over."""
    return began + showings * A_LOOK_TAKES
