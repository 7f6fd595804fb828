"""Coupons cut from the board's photos, kept for the screens that show them."""

from __future__ import annotations

from collections import OrderedDict
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QImage

from rustboard.board.model import Outline, Photo
from rustboard.session.pictures import CutRequest, cut_pictures, outline_on_board
from rustboard.session.session import Session
from rustboard.support.problems import InputError
from rustboard.ui.bridge import JobBridge

if TYPE_CHECKING:
    from rustboard.photo.crops import CouponPicture
    from rustboard.session.pictures import Mask, Rgb

_PHOTOS_KEPT = 5


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


class CouponPictures(QObject):
    """Cuts coupons from photos beside the window, a photo at a time.

    Signals:
        arrived(int): the coupons of a photo, by its key, are ready.
    """

    arrived = Signal(int)

    def __init__(self, session: Session, bridge: JobBridge, parent: QObject | None = None) -> None:
        """Start with nothing cut."""
        super().__init__(parent)
        self._session = session
        self._bridge = bridge
        self._cut: OrderedDict[int, dict[int, CouponPicture]] = OrderedDict()
        self._images: dict[tuple[int, int], QImage] = {}
        self._wanted: dict[int, int] = {}
        self._outlines: dict[int, Outline] = {}
        self._version = 0

    def want(self, photo: Photo | None) -> bool:
        """See to it that a photo's coupons are cut; return whether they are there already."""
        if photo is None or photo.mm_to_px is None:
            return False
        if photo.key in self._cut:
            self._cut.move_to_end(photo.key)
            return True
        file = self._session.photo_file(photo.key)
        if photo.key in self._wanted or file is None:
            return False
        self._outlines = self._outlines_now()
        request = CutRequest(photo.key, file, photo.name, photo.mm_to_px, self._outlines)
        self._wanted[photo.key] = self._version
        arrival = _Arrival(self, photo.key, self._version)
        self._bridge.start(("cut", photo.key), cut_pictures, request, done=arrival.come, failed=arrival.fail)
        return photo.key in self._cut

    def image(self, photo: Photo | None, coupon: int) -> QImage | None:
        """Return a coupon's picture from a photo, or None when it is not cut (yet) or not on it."""
        if photo is None or coupon not in self._cut.get(photo.key, {}):
            return None
        key = (photo.key, coupon)
        if key not in self._images:
            cut = self._cut[photo.key][coupon]
            self._images[key] = image_of(cut.rgb, cut.mask)
        return self._images[key]

    def images(self, photo: Photo | None) -> dict[int, QImage]:
        """Return all pictures cut from a photo, by coupon key."""
        if photo is None:
            return {}
        found = {key: self.image(photo, key) for key in self._cut.get(photo.key, {})}
        return {key: image for key, image in found.items() if image is not None}

    def cut(self, photo: Photo | None, coupon: int) -> CouponPicture | None:
        """Return a coupon's pixels from a photo, or None."""
        return None if photo is None else self._cut.get(photo.key, {}).get(coupon)

    def _outlines_now(self) -> dict[int, Outline]:
        record = self._session.record
        outlines = {each.key: outline_on_board(record, each) for each in record.coupons.values()}
        return {key: outline for key, outline in outlines.items() if len(outline) >= 3}

    def follow_outlines(self) -> None:
        """Cut everything anew if any outline changed; a coupon that only changed places keeps its pictures."""
        if self._outlines_now() == self._outlines:
            return
        self._version += 1
        self._cut.clear()
        self._images.clear()
        self._wanted.clear()

    def take(self, photo: int, version: int, cut: dict[int, CouponPicture]) -> None:
        """Keep a photo's coupons; those cut by older outlines are dropped."""
        if version != self._version:
            return
        self._wanted.pop(photo, None)
        self._cut[photo] = cut
        while len(self._cut) > _PHOTOS_KEPT:
            old, _ = self._cut.popitem(last=False)
            self._images = {key: image for key, image in self._images.items() if key[0] != old}
        self.arrived.emit(photo)


class _Arrival:
    """What happens when one photo's job comes back."""

    def __init__(self, pictures: CouponPictures, photo: int, version: int) -> None:
        self._pictures = pictures
        self._photo = photo
        self._version = version

    def come(self, cut: dict[int, CouponPicture]) -> None:
        self._pictures.take(self._photo, self._version, cut)

    def fail(self, error: InputError) -> None:
        # A photo that cannot be read is shown as missing: the tiles keep their outlines.
        self._pictures.take(self._photo, self._version, {})
