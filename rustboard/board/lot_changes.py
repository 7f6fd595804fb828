"""What was hung elsewhere than the lots had it: a plan keeps both, the drawn lots and the changes."""

from __future__ import annotations

from rustboard.board.position import Position
from rustboard.board.record import BoardRecord


def drawn_positions(record: BoardRecord) -> dict[int, Position]:
    """Return where the lots put each coupon, by key; those that had no lots are not among them."""
    return {each.coupon: each.position for each in record.lots.values()}


def has_grid_of_lots(record: BoardRecord) -> bool:
    """Return whether the board has as many rows and columns as its lots were drawn for, or nobody knows better."""
    return record.layout.drawn_grid in (None, (record.board.rows, record.board.columns))


def moved_since_drawn(record: BoardRecord) -> list[tuple[int, Position, Position | None]]:
    """Return the coupons that hang elsewhere than drawn, in the order of the drawn positions.

    Each with its key, where the lots put it, and where it hangs now (None = off the board). Coupons for which no lots
    were drawn are not among them.
    """
    in_order = sorted(record.lots.values(), key=lambda each: (each.position, each.coupon))
    now = {key: each.position for key, each in record.coupons.items()}
    return [(each.coupon, each.position, now[each.coupon]) for each in in_order if now[each.coupon] != each.position]
