"""When photos were taken, and which of them may be looked at."""

from __future__ import annotations

from datetime import datetime

from rustboard.board.model import Photo
from rustboard.board.record import BoardRecord


def time_of(record: BoardRecord, photo: Photo) -> datetime | None:
    """Return when a photo was taken; that of its inspection where the photo has no time of its own."""
    if photo.taken is not None:
        return photo.taken
    inspection = record.inspections.get(photo.inspection or 0)
    return None if inspection is None else inspection.at


def may_be_shown(record: BoardRecord, photo: Photo) -> bool:
    """Return whether a photo says nothing of an inspection that is being graded blind.

    One taken on that inspection's day or later shows the same rust, and so may one of which nobody knows when it was
    taken.
    """
    blind = record.hidden_inspection
    if blind is None:
        return True
    when, hidden = time_of(record, photo), record.inspections.get(blind.inspection)
    if photo.inspection == blind.inspection or when is None or hidden is None:
        return False
    return when.date() < hidden.at.date()
