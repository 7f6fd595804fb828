"""Which coupon drips on which: what runs off an inclined board takes one treatment onto another.

A drip runs down its column until it meets the next coupon. So only the nearest coupon below is looked at: when two
coupons of one column with others between them differ, then some neighbours between them differ as well, and the rule
is broken there. Coupons without a treatment are untreated, which is one treatment of its own.

What the care of a layout changes: ``spacing`` lets a pair pass that has at least ``free_rows`` empty positions
between its coupons; ``drip edges`` lead every drip away. ``columns`` and ``none`` change nothing about where drips
run: ``columns`` keeps the rule by hanging one treatment in a column, ``none`` does nothing.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import groupby, pairwise
from typing import NamedTuple

from rustboard.board.layout import Layout
from rustboard.board.position import Position
from rustboard.board.record import BoardRecord


def untreated_first(treatment: int | None) -> tuple[bool, int]:
    """Return what sorts treatments by key, those of no treatment before them all."""
    return treatment is not None, treatment or 0


class Hung(NamedTuple):
    """A coupon that hangs on the board.

    Attributes:
        coupon: key.
        treatment: key, or None = untreated.
    """

    coupon: int
    treatment: int | None
    position: Position


class DrainBreak(NamedTuple):
    """Two coupons of different treatments, the upper of which drips on the lower (their keys)."""

    above: int
    below: int


def drains(incline_deg: float | None) -> bool:
    """Return whether anything runs down a board; one of unknown incline is taken to be inclined.

    Nothing runs along a board that lies flat, face up (0 degrees) or face down (180).
    """
    return incline_deg is None or 0 < incline_deg < 180


def hung_coupons(record: BoardRecord) -> list[Hung]:
    """Return the coupons that hang on a board now, by key."""
    return [
        Hung(key, each.treatment, each.position)
        for key, each in sorted(record.coupons.items())
        if each.position is not None
    ]


def drain_breaks(hung: Iterable[Hung], layout: Layout, incline_deg: float | None) -> list[DrainBreak]:
    """Return where coupons drip on coupons of another treatment, column by column from the top."""
    if not drains(incline_deg) or layout.drain == "drip edges":
        return []
    free = layout.free_rows if layout.drain == "spacing" else None
    return [
        DrainBreak(above.coupon, below.coupon)
        for above, below in neighbours_in_columns(hung)
        if above.treatment != below.treatment and not (free is not None and free_rows_between(above, below) >= free)
    ]


def neighbours_in_columns(hung: Iterable[Hung]) -> list[tuple[Hung, Hung]]:
    """Return every coupon with the nearest one below it, column by column from the top."""
    in_order = sorted(hung, key=lambda each: (each.position.column, each.position.row, each.coupon))
    columns = groupby(in_order, key=lambda each: each.position.column)
    return [pair for _, column in columns for pair in pairwise(column)]


def free_rows_between(above: Hung, below: Hung) -> int:
    """Return how many positions lie between two coupons of one column."""
    return below.position.row - above.position.row - 1
