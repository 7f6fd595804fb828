"""Blind grading: who looked at which coupon in which order, and what he gave, without knowing which it was.

A blind inspection is one inspection graded blind. Every grader has a round of his own: all coupons in an order drawn
for him, some shown a second time. Until the inspection is revealed, nobody sees what is hidden.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Final, Literal, NamedTuple

Basis = Literal["photo", "bench"]
BASES: Final[tuple[Basis, ...]] = ("photo", "bench")

Turn = Literal["", "mirrored", "half turn", "mirrored half turn"]
TURNS: Final[tuple[Turn, ...]] = ("", "mirrored", "half turn", "mirrored half turn")
"""How a picture is shown: as taken, left and right exchanged, upside down, or both (top and bottom exchanged)."""

MOST_BLIND_INSPECTIONS: Final = 10_000
MOST_ROUNDS: Final = 20
"""Graders of one inspection."""
MOST_SHOWINGS: Final = 2_000
"""Of one round: every coupon of the largest board, twice."""
MOST_BLIND_GRADES: Final = 1_000_000


@dataclass(frozen=True, slots=True)
class BlindInspection:
    """An inspection that is graded blind.

    Attributes:
        inspection: its key.
        basis: graded from the photo, or at the bench with the coupons in the hand, by position alone.
        photo: key of the photo that is shown, or None at the bench.
        repeat_percent: how much of the coupons every grader sees twice.
        started: wall-clock time. revealed: when all was shown again, or None while it is hidden.
    """

    inspection: int
    basis: Basis
    photo: int | None
    repeat_percent: float
    started: datetime
    revealed: datetime | None = None
    key: int = 0


class Showing(NamedTuple):
    """One coupon shown once to one grader.

    Attributes:
        coupon: key.
        turn: how its picture is turned; never at the bench.
        again: whether the grader saw it before in this round.
    """

    coupon: int
    turn: Turn = ""
    again: bool = False


@dataclass(frozen=True, slots=True)
class BlindRound:
    """What one grader is shown, in this order.

    Attributes:
        blind: key of the blind inspection.
        grader: who.
        seed: the number the order was drawn with.
        showings: in order.
        started: wall-clock time. finished: when the grader was done, or None.
    """

    blind: int
    grader: str
    seed: int
    showings: tuple[Showing, ...]
    started: datetime
    finished: datetime | None = None
    key: int = 0


class BlindGrade(NamedTuple):
    """One grade given in a round. What is corrected is superseded and kept.

    Attributes:
        round: key. number: which showing, from 0. coupon: key of the coupon that was shown.
        percent: stated by eye, or None: the grade then stands for its whole interval.
        recorded: when it was written down, ISO date and time.
        state: ``current``, ``superseded`` or ``withdrawn``.
        replaces: key of the grade that this one corrects, or None.
    """

    key: int
    round: int
    number: int
    coupon: int
    grade: int
    distribution: str
    percent: float | None
    note: str
    recorded: str
    state: str = "current"
    replaces: int | None = None
