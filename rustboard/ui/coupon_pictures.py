"""Coupons cut from the board's photos, kept for the screens that show them."""

from __future__ import annotations

from collections import OrderedDict
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QImage

from rustboard.board.model import Outline, Photo
from rustboard.session.jobs import Progress
from rustboard.session.pictures import LARGE_PX, CutRequest, cut_pictures, outline_on_board, tile_px
from rustboard.session.session import Session
from rustboard.support.problems import InputError
from rustboard.ui.bridge import JobBridge

if TYPE_CHECKING:
    from rustboard.session.pictures import Mask, Rgb

_PHOTOS_KEPT = 3  # now, the visit before, day zero


def image_of(rgb: Rgb, mask: Mask | None = None) -> QImage:
    """Return an array as an image of its own; what is outside ``mask`` is transparent."""
    import numpy as np

    height, width = rgb.shape[:2]
    pixels = np.full((height, width, 4), 255, np.uint8)
    pixels[..., :3] = rgb
    if mask is not None:
        pixels[..., 3] = np.where(mask, 255, 0)
    # The image does not own the array's memory: copy before the array goes.
    return QImage(pixels.tobytes(), width, height, width * 4, QImage.Format.Format_RGBA8888).copy()


def cut_images(request: CutRequest, progress: Progress) -> dict[int, QImage]:
    """Cut coupons from a photo, as images; a job."""
    return {key: image_of(each.rgb, each.mask) for key, each in cut_pictures(request, progress).items()}


class CouponPictures(QObject):
    """Cuts coupons from photos beside the window, a photo at a time, and keeps those of the last few.

    Signals:
        arrived(int): the coupons of a photo, by its key, are ready.
    """

    arrived = Signal(int)

    def __init__(self, session: Session, bridge: JobBridge, parent: QObject | None = None) -> None:
        """Start with nothing cut."""
        super().__init__(parent)
        self._session = session
        self._bridge = bridge
        self._images: OrderedDict[int, dict[int, QImage]] = OrderedDict()
        self._wanted: set[int] = set()
        self._outlines: dict[int, Outline] = {}
        self._version = 0

    def want(self, photo: Photo | None) -> bool:
        """See to it that a photo's coupons are cut; return whether they are there already."""
        if photo is None:
            return False
        if photo.key in self._images:
            self._images.move_to_end(photo.key)
            return True
        self._outlines = self._outlines_now()
        request = self._request(photo, self._outlines, tile_px(self._outlines.values()))
        if photo.key in self._wanted or request is None:
            return False
        self._wanted.add(photo.key)
        arrival = _Arrival(self, photo.key, self._version)
        key = ("cut", id(self), photo.key)
        self._bridge.start(key, cut_images, request, done=arrival.come, failed=arrival.fail, owner=self)
        return photo.key in self._images

    def _request(self, photo: Photo, outlines: dict[int, Outline], longest_px: int) -> CutRequest | None:
        file = self._session.photo_file(photo.key)
        if photo.mm_to_px is None or file is None:
            return None
        return CutRequest(photo.key, file, photo.name, photo.mm_to_px, outlines, photo.sha256, longest_px)

    def request_for(self, photo: Photo | None, coupon: int, longest_px: int = LARGE_PX) -> CutRequest | None:
        """Return how to cut one coupon large, for a job of its own; None when the photo does not have it."""
        outline = self._outlines_now().get(coupon)
        if photo is None or outline is None:
            return None
        return self._request(photo, {coupon: outline}, longest_px)

    def image(self, photo: Photo | None, coupon: int) -> QImage | None:
        """Return a coupon's picture from a photo, or None when it is not cut (yet) or not on it."""
        return self.images(photo).get(coupon)

    def images(self, photo: Photo | None) -> dict[int, QImage]:
        """Return all pictures cut from a photo, by coupon key."""
        return {} if photo is None else self._images.get(photo.key, {})

    def _outlines_now(self) -> dict[int, Outline]:
        record = self._session.record
        outlines = {each.key: outline_on_board(record, each) for each in record.coupons.values()}
        return {key: outline for key, outline in outlines.items() if len(outline) >= 3}

    def follow_outlines(self) -> None:
        """Cut everything anew if any outline changed."""
        if self._outlines_now() == self._outlines:
            return
        self._version += 1
        self._images.clear()
        self._wanted.clear()

    def take(self, photo: int, version: int, images: dict[int, QImage]) -> None:
        """Keep a photo's coupons; those cut by older outlines are dropped."""
        if version != self._version:
            return
        self._wanted.discard(photo)
        self._images[photo] = images
        while len(self._images) > _PHOTOS_KEPT:
            self._images.popitem(last=False)
        self.arrived.emit(photo)


class _Arrival:
    """What happens when one photo's job comes back."""

    def __init__(self, pictures: CouponPictures, photo: int, version: int) -> None:
        self._pictures = pictures
        self._photo = photo
        self._version = version

    def come(self, images: dict[int, QImage]) -> None:
        self._pictures.take(self._photo, self._version, images)

    def fail(self, error: InputError) -> None:
        # A photo that cannot be read is shown as missing: the tiles keep their outlines.
        self._pictures.take(self._photo, self._version, {})
