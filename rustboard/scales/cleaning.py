"""What a coupon lost, from its masses after repeated equal cleaning (in the manner of ASTM G1 and ISO 8407).

The loss against the number of cleanings rises steeply while rust leaves and then along a flatter straight line while
the cleaning takes metal. Where the two meet, the loss is about the corrosion loss; the later line followed back to no
cleaning is the other estimate. An unexposed blank cleaned alongside tells what cleaning alone takes.

How to clean is not told here: see ASTM G1 or ISO 8407 and the safety data sheet of every chemical.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from statistics import fmean
from typing import Final, Literal, NamedTuple

from rustboard.support.problems import InputError

POINTS_AFTER_BREAK: Final = 2
"""Fewest weighings after the one at the break: three points show whether a line is straight."""

STEEPER: Final = 2.0
"""How many times as steep the loss must be before the break as after it (own choice, no source)."""

BETTER: Final = 4.0
"""How many times smaller the squares about two lines must be than about one (own choice, no source)."""

WHERE_TO_READ: Final = (
    "How to clean coupons is told by ASTM G1 and ISO 8407, and how to stay safe by the safety data sheet of each "
    "chemical. This program gives no recipes."
)

LossFrom = Literal["break", "last", "only"]
"""Where a loss was read: at the break; after the last cleaning, for want of a break; after the only cleaning."""


class Line(NamedTuple):
    """Loss in g = ``at_zero`` + ``slope`` times the number of cleanings, from cleaning ``first`` to ``last``."""

    at_zero: float
    slope: float
    first: int
    last: int

    def at(self, cycle: float) -> float:
        """Return the loss, g, after a number of cleanings."""
        return self.at_zero + self.slope * cycle


@dataclass(frozen=True, slots=True)
class Cleaning:
    """What repeated cleaning says of the corrosion loss.

    Attributes:
        raw_g: what the coupon had lost after the first, second ... cleaning.
        losses_g: the same, less what the blank had lost; as ``raw_g`` without a blank.
        break_at: number of the cleaning at the break, or None. before, after: lines before and after it; ``before``
            is None also where only one weighing lies before.
        at_break_g: the later line at the break. at_zero_g: the later line followed back to no cleaning.
        loss_g: what counts as the corrosion loss. loss_from: where it was read.
        blank: whether a blank's losses were taken off.
        doubts: one plain sentence each.
    """

    raw_g: tuple[float, ...]
    losses_g: tuple[float, ...]
    break_at: int | None
    before: Line | None
    after: Line | None
    at_break_g: float | None
    at_zero_g: float | None
    loss_g: float
    loss_from: LossFrom
    blank: bool
    doubts: tuple[str, ...]


def corrosion_loss(
    before_g: float,
    after_g: Sequence[float],
    blank_before_g: float | None = None,
    blank_after_g: Sequence[float] = (),
) -> Cleaning:
    """Return the corrosion loss from a coupon's mass before exposure and after each of several equal cleanings.

    A blank weighed less often than the coupon stands for the missing weighings by its mean loss per cleaning, and the
    doubts say so.

    Raises:
        InputError: no mass after cleaning, one not above 0, or blank masses that do not go with the coupon's.
    """
    _check(before_g, after_g, blank_before_g, blank_after_g)
    raw = tuple(before_g - each for each in after_g)
    blank = _blank_losses(len(raw), blank_before_g, blank_after_g)
    losses = tuple(lost - taken for lost, taken in zip(raw, blank or (0.0,) * len(raw), strict=True))
    doubts = _doubts(raw, blank, blank_after_g)
    found = _find_break(losses)
    if found is None:
        return Cleaning(
            raw,
            losses,
            None,
            None,
            None,
            None,
            None,
            losses[-1],
            "last" if len(losses) > 1 else "only",
            blank is not None,
            (*doubts, _no_break(len(losses)), *_below_zero(losses[-1])),
        )
    before, after = found
    loss = after.at(after.first)
    return Cleaning(
        raw,
        losses,
        after.first,
        before,
        after,
        loss,
        after.at_zero,
        loss,
        "break",
        blank is not None,
        (*doubts, *_below_zero(loss)),
    )


def _check(
    before_g: float, after_g: Sequence[float], blank_before_g: float | None, blank_after_g: Sequence[float]
) -> None:
    if not after_g:
        raise InputError("Give at least one mass after cleaning, in grams.")
    masses = [before_g, *after_g, *blank_after_g, *([] if blank_before_g is None else [blank_before_g])]
    if any(not (math.isfinite(each) and each > 0) for each in masses):
        raise InputError("A mass is a number of grams above 0.")
    if blank_after_g and blank_before_g is None:
        raise InputError("Give the blank's mass before cleaning too, or none of its masses.")
    if len(blank_after_g) > len(after_g):
        raise InputError("The blank has more masses after cleaning than the coupon; give as many at most.")


def _blank_losses(
    cycles: int, blank_before_g: float | None, blank_after_g: Sequence[float]
) -> tuple[float, ...] | None:
    if blank_before_g is None or not blank_after_g:
        return None
    known = [blank_before_g - each for each in blank_after_g]
    each_cycle = known[-1] / len(known)
    return (*known, *(each_cycle * number for number in range(len(known) + 1, cycles + 1)))


def _doubts(
    raw: tuple[float, ...], blank: tuple[float, ...] | None, blank_after_g: Sequence[float]
) -> tuple[str, ...]:
    doubts = [
        f"After cleaning {number} the coupon weighed more than after cleaning {number - 1}; was it clean and dry?"
        for number in range(2, len(raw) + 1)
        if raw[number - 1] < raw[number - 2]
    ]
    if blank is None:
        doubts.append("No blank was cleaned alongside, so what cleaning took from the metal is not known.")
        return tuple(doubts)
    known = (0.0, *blank[: len(blank_after_g)])
    if any(later < earlier for earlier, later in pairwise(known)):
        doubts.append("The blank gained mass during cleaning; check its masses.")
    if len(blank_after_g) < len(raw):
        doubts.append(
            f"The blank was weighed after {len(blank_after_g)} of {len(raw)} cleanings; the others are estimated "
            "from its mean loss per cleaning."
        )
    return tuple(doubts)


def _no_break(count: int) -> str:
    if count == 1:
        return "The coupon was weighed after one cleaning only, so it is not known whether all rust was gone."
    if count < POINTS_AFTER_BREAK + 2:
        return (
            f"The break in the losses cannot be looked for in {count} weighings; it takes at least "
            f"{POINTS_AFTER_BREAK + 2}. The loss after the last cleaning is taken."
        )
    return (
        "No break was found in the losses: either the first cleaning took all the rust, or rust was still leaving at "
        "the last. The loss after the last cleaning is taken."
    )


def _below_zero(loss_g: float) -> tuple[str, ...]:
    return ("The loss comes out below zero; check the masses.",) if loss_g < 0 else ()


def _find_break(losses: tuple[float, ...]) -> tuple[Line | None, Line] | None:
    """Return the lines before and after the break, by least squares over every place it may be; None = no break.

    Each weighing belongs to one of the two lines. Of equally good places the first is taken: it has the longest later
    line. One weighing alone before the break is as steep as its rise to the later line.
    """
    count = len(losses)
    best: tuple[float, Line | None, Line] | None = None
    slack = 1e-18 + 1e-12 * max(abs(each) for each in losses) ** 2
    for first_later in range(2, count - POINTS_AFTER_BREAK + 1):
        before = _fit(losses, 1, first_later - 1) if first_later > 2 else None
        after = _fit(losses, first_later, count)
        squares = _squares(losses, after) + (0.0 if before is None else _squares(losses, before))
        if best is None or squares < best[0] - slack:
            best = (squares, before, after)
    if best is None:
        return None
    squares, before, after = best
    one_line = _squares(losses, _fit(losses, 1, count))
    steep = before.slope if before is not None else after.at(2) - losses[0]
    if one_line <= slack or squares * BETTER > one_line or steep <= max(STEEPER * after.slope, 0.0):
        return None
    return before, after


def _fit(losses: tuple[float, ...], first: int, last: int) -> Line:
    """Return the straight line of least squares of the losses after cleaning ``first`` to ``last``, two or more."""
    cycles = range(first, last + 1)
    part = losses[first - 1 : last]
    mean_cycle, mean_loss = fmean(cycles), fmean(part)
    spread = math.fsum((cycle - mean_cycle) ** 2 for cycle in cycles)
    slope = math.fsum((c - mean_cycle) * (loss - mean_loss) for c, loss in zip(cycles, part, strict=True)) / spread
    return Line(mean_loss - slope * mean_cycle, slope, first, last)


def _squares(losses: tuple[float, ...], line: Line) -> float:
    return math.fsum((losses[cycle - 1] - line.at(cycle)) ** 2 for cycle in range(line.first, line.last + 1))
