"""The order in which coupons are graded at one inspection."""

from __future__ import annotations

from rustboard.board.record import BoardRecord


def next_ungraded(record: BoardRecord, inspection: int, after: int | None) -> int | None:
    """Return the next coupon to grade: in reading order after ``after``, then from the start; None when all are.

    Coupons off the board are not part of the round.
    """
    waiting = {each.key for each in record.ungraded(inspection)}
    return _following(record, after, waiting)


def neighbour(record: BoardRecord, coupon: int, by: int) -> int | None:
    """Return the coupon ``by`` steps further on the board in reading order, round the end; None on an empty board."""
    keys = [each.key for each in record.coupons_in_order() if each.position is not None]
    if coupon not in keys:
        return keys[0] if keys else None
    return keys[(keys.index(coupon) + by) % len(keys)]


def _following(record: BoardRecord, after: int | None, wanted: set[int]) -> int | None:
    keys = [each.key for each in record.coupons_in_order()]
    start = keys.index(after) + 1 if after in keys else 0
    return next((key for key in keys[start:] + keys[:start] if key in wanted), None)
