"""Small pictures of coupons from the photos they were graded from, for rows of a list."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import QObject, Qt, Signal, Slot
from PySide6.QtGui import QImage

from rustboard.board.model import Photo
from rustboard.board.record import BoardRecord
from rustboard.session.blind_rounds import photos_to_grade_from
from rustboard.session.pictures import CutRequest
from rustboard.session.session import Session
from rustboard.ui.bridge import JobBridge
from rustboard.ui.coupon_pictures import CouponPictures

THUMB_PX = 160
_MOST_KEPT = 800


def photo_graded_from(record: BoardRecord, inspection: int) -> Photo | None:
    """Return the photo that an inspection was graded from blind, else the newest of it that is placed, or None."""
    for blind in record.blind_inspections.values():
        photo = record.photos.get(blind.photo or 0)
        if blind.inspection == inspection and photo is not None:
            return photo
    there = record.inspections.get(inspection)
    return None if there is None else next(iter(photos_to_grade_from(record, there)), None)


class CouponThumbs(QObject):
    """Cuts what is wanted beside the window and keeps it small, however many photos it comes from.

    Signals:
        arrived(): there are more pictures.
    """

    arrived = Signal()

    def __init__(self, session: Session, bridge: JobBridge, parent: QObject | None = None) -> None:
        """Start without pictures."""
        super().__init__(parent)
        self._session = session
        self._pictures = CouponPictures(session, bridge, self)
        self._wanted: dict[int, set[int]] = {}  # coupons by photo
        self._thumbs: dict[tuple[int, int], QImage] = {}
        self._wire()

    def _wire(self) -> None:
        self._pictures.arrived.connect(self._keep)

    def forget(self) -> None:
        """Cut everything anew when it is wanted next: an outline or a photo changed."""
        self._pictures.follow_outlines()
        self._thumbs.clear()

    def want(self, subjects: Iterable[tuple[int, int]]) -> None:
        """See to it that there are pictures of these coupons at these inspections."""
        record = self._session.record
        self._wanted = {}
        for coupon, inspection in subjects:
            photo = photo_graded_from(record, inspection)
            if photo is not None and (photo.key, coupon) not in self._thumbs and len(self._thumbs) < _MOST_KEPT:
                self._wanted.setdefault(photo.key, set()).add(coupon)
        for key in list(self._wanted):
            if self._pictures.want(record.photos.get(key)):
                self._keep(key)

    @Slot(int)
    def _keep(self, photo: int) -> None:
        wanted = self._wanted.pop(photo, set())
        images = self._pictures.images(self._session.record.photos.get(photo))
        for coupon in wanted & images.keys():
            self._thumbs[photo, coupon] = images[coupon].scaled(
                THUMB_PX, THUMB_PX, Qt.AspectRatioMode.KeepAspectRatio, Qt.TransformationMode.SmoothTransformation
            )
        if wanted:
            self.arrived.emit()

    def image(self, coupon: int, inspection: int) -> QImage | None:
        """Return a coupon's small picture, or None where there is none (yet)."""
        photo = photo_graded_from(self._session.record, inspection)
        return None if photo is None else self._thumbs.get((photo.key, coupon))

    def request_for(self, coupon: int, inspection: int) -> CutRequest | None:
        """Return how to cut a coupon large, or None when no photo has it."""
        return self._pictures.request_for(photo_graded_from(self._session.record, inspection), coupon)
