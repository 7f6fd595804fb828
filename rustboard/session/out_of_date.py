"""Which figures no longer fit the board: what they were measured by is otherwise now."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import TYPE_CHECKING, Final

from rustboard.board.measured import SETTINGS_DIGITS, Measurement, SettingsPart, Stroke, changed_parts
from rustboard.board.model import Photo
from rustboard.board.record import BoardRecord
from rustboard.session.coupon_frames import first_placed, frames_of
from rustboard.session.measuring_plan import (
    Neighbours,
    coupon_settings,
    disturbances_of,
    neighbours_of,
    photos_showing,
    settings_of,
    strokes_by_place,
)
from rustboard.session.photo_days import photos_in_order

if TYPE_CHECKING:
    from rustboard.photo.looks import CouponFrame

Parts = frozenset[SettingsPart]
_NONE: Final[Parts] = frozenset()


class OutOfDate:
    """Compares figures with a board as it is now; good until the board changes."""

    def __init__(self, record: BoardRecord) -> None:
        """Look at a board; nothing is measured, and no file read."""
        self._record = record
        first = first_placed(record) if record.measured else None
        self._frames: Mapping[int, CouponFrame] = {} if first is None else frames_of(record, first)
        self._strokes: Mapping[tuple[int, int], tuple[Stroke, ...]] = strokes_by_place(record)
        self._shown = photos_showing(record, {})
        self._whole: dict[tuple[int, int], str] = {}  # by coupon and method
        self._beside: dict[int, Mapping[int, Neighbours]] = {}  # by coupon
        self._of_log: dict[tuple[tuple[datetime, str], ...], Mapping[int, Neighbours]] = {}

    def parts(self, found: Measurement) -> Parts:
        """Return what of how a figure was measured is otherwise now; empty when it still fits.

        A figure of a coupon that hangs nowhere stands as it is.
        """
        coupon = self._record.coupons.get(found.coupon)
        if coupon is None or coupon.position is None:
            return _NONE
        frame, its = self._frames.get(found.coupon), self._neighbours(found.coupon).get(found.photo)
        if frame is None:
            return frozenset({"shape"}) if not coupon.outline_mm else _NONE
        if its is None:  # the board is not found in this photo any more
            return frozenset({"order"})
        settings = self.settings(found.photo, frame, found.algorithm)
        changed = changed_parts(found.inputs[:SETTINGS_DIGITS], settings)
        # What once had a later photo to judge it by, and has none now, was surer than it is.
        unproved = its.last and not found.newest and found.percent is not None
        return changed | {"order"} if unproved else changed

    def settings(self, photo: int, frame: CouponFrame, algorithm: int) -> str:
        """Return by what a coupon would be measured in a photo now."""
        key = frame.coupon
        if (key, algorithm) not in self._whole:
            happened = disturbances_of(self._record, key)
            self._whole[key, algorithm] = coupon_settings(algorithm, frame, happened, self._shown[1])
        its = self._neighbours(key).get(photo)
        return settings_of(self._whole[key, algorithm], frame.pixels_per_mm, its, self._strokes.get((photo, key), ()))

    def in_photo(self, photo: int) -> dict[int, Parts]:
        """Return what is otherwise, by coupon, of the figures of a photo that no longer fit."""
        found = {key: self.parts(each) for key, each in self._record.measured.get(photo, {}).items()}
        return {key: parts for key, parts in found.items() if parts}

    def confident(self, photo: Photo) -> list[int]:
        """Return the coupons whose measurement may be taken over without a closer look and that have no grade yet.

        In reading order; none when the photo belongs to no inspection, and none that is to be measured again.
        """
        if photo.inspection is None:
            return []
        measured, again = self._record.measured.get(photo.key, {}), self.in_photo(photo.key)
        return [
            each.key
            for each in self._record.coupons_in_order()
            if each.key in measured
            and measured[each.key].confident
            and measured[each.key].percent is not None
            and each.key not in again
            and self._record.grading(each.key, photo.inspection) is None
        ]

    def to_measure(self) -> list[Photo]:
        """Return the photos, by time, in which something is to be measured, or to be measured again."""
        shown = {photo.key for photo in self._shown[0]}
        return [each for each in photos_in_order(self._record) if self._waits(each, shown=each.key in shown)]

    def _waits(self, photo: Photo, *, shown: bool) -> bool:
        measured = self._record.measured.get(photo.key)
        if measured is None:
            return True
        if not shown:
            return False
        if self._frames.keys() - measured.keys():
            return True  # a coupon has come since, or got an outline
        return any(self.parts(found) for key, found in measured.items() if key in self._frames)

    def _neighbours(self, coupon: int) -> Mapping[int, Neighbours]:
        if coupon not in self._beside:
            happened = disturbances_of(self._record, coupon)
            log = tuple((each.at, each.kind) for each in happened)
            if log not in self._of_log:
                self._of_log[log] = neighbours_of(happened, *self._shown)
            self._beside[coupon] = self._of_log[log]
        return self._beside[coupon]
