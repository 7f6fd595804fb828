"""Which of two coupons is more rusted: one choice of one grader."""

from __future__ import annotations

from typing import Final, Literal, NamedTuple

Rustier = Literal["left", "right", "neither"]
RUSTIER: Final[tuple[Rustier, ...]] = ("left", "right", "neither")

MOST_PAIR_CHOICES: Final = 500_000


class PairChoice(NamedTuple):
    """One choice between two coupons shown side by side.

    Attributes:
        inspection: key.
        left, right: keys of the coupons, by the side on which they were shown.
        rustier: the side that is more rusted, or ``neither`` where the grader cannot tell.
        recorded: when it was written down, ISO date and time.
        state: ``current``, ``superseded`` or ``withdrawn``.
        replaces: key of the choice that this one corrects, or None.
    """

    key: int
    inspection: int
    grader: str
    left: int
    right: int
    rustier: str
    recorded: str
    state: str = "current"
    replaces: int | None = None
