"""Which inspection the last grades are of."""

from __future__ import annotations

from rustboard.board.model import Inspection
from rustboard.board.record import BoardRecord


def last_graded(record: BoardRecord) -> Inspection | None:
    """Return the last inspection at which any coupon was graded, or None."""
    graded_at = {key for grades in record.current.values() for key in grades}
    inspections = (record.inspections[key] for key in graded_at if key in record.inspections)
    return max(inspections, key=lambda each: (each.at, each.key), default=None)
