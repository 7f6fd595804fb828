"""Questions about a board's photos and what was measured in them."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from rustboard.board.measured import Measurement
from rustboard.board.model import Photo
from rustboard.board.photo_times import time_of as time_of
from rustboard.board.record import BoardRecord


def photos_in_order(record: BoardRecord) -> list[Photo]:
    """Return the photos by time; those without any time last, as they were added."""
    return sorted(record.photos.values(), key=lambda each: (time_of(record, each) or datetime.max, each.key))


def unmeasured(record: BoardRecord) -> list[Photo]:
    """Return the photos, by time, in which no coupon was measured yet."""
    return [each for each in photos_in_order(record) if each.key not in record.measured]


def hidden_until_graded(record: BoardRecord, photo: Photo | None) -> frozenset[int]:
    """Return the coupons that nobody has graded yet at a photo's inspection.

    Who grades blind must not see what the photo says of them. A photo of no inspection sways nobody.
    """
    if photo is None or photo.inspection is None:
        return frozenset()
    return frozenset(key for key in record.coupons if record.grading(key, photo.inspection) is None)


def kept_by_grades(record: BoardRecord, photos: Iterable[int]) -> list[Photo]:
    """Return those of some photos, by key, that belong to an inspection of another day than theirs."""
    found = []
    for photo in (record.photos[key] for key in photos if key in record.photos):
        inspection = record.inspections.get(photo.inspection or 0)
        if inspection is not None and photo.taken is not None and photo.taken.date() != inspection.at.date():
            found.append(photo)
    return found


def measured_at(record: BoardRecord, coupon: int, inspection: int) -> Measurement | None:
    """Return what the newest measured photo of an inspection says of a coupon, or None."""
    there = [
        record.photos[key]
        for key, coupons in record.measured.items()
        if coupon in coupons and key in record.photos and record.photos[key].inspection == inspection
    ]
    newest = max(there, key=lambda each: (time_of(record, each) or datetime.max, each.key), default=None)
    return None if newest is None else record.measured[newest.key][coupon]
