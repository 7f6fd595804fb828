"""Coupons of several boards cut from their photos beside the window, those of the last few photos kept."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Mapping
from typing import Final

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QImage

from rustboard.session.pictures import CutRequest, same_cut
from rustboard.support.problems import InputError
from rustboard.ui.bridge import JobBridge
from rustboard.ui.coupon_pictures import cut_images

LONGEST_PX: Final = 160
"""Longer side of a coupon's picture: tiles are small here."""
_KEPT: Final = 36


class BesidePictures(QObject):
    """Asks for the coupons of photos, a photo of each board at a time.

    Signals:
        arrived(): more pictures are there.
    """

    arrived = Signal()

    def __init__(self, bridge: JobBridge, parent: QObject | None = None) -> None:
        """Start with nothing cut."""
        super().__init__(parent)
        self._bridge = bridge
        self._kept: OrderedDict[tuple[object, ...], dict[int, QImage]] = OrderedDict()

    def images(self, board: int, request: CutRequest | None) -> Mapping[int, QImage]:
        """Return the coupons of a photo by key; none while they are being cut, which is then begun."""
        if request is None:
            return {}
        key = same_cut(request)
        if key in self._kept:
            self._kept.move_to_end(key)
            return self._kept[key]
        arrival = _Arrival(self, key)
        self._bridge.start(
            ("beside", id(self), board), cut_images, request, done=arrival.come, failed=arrival.fail, owner=self
        )
        return self._kept.get(key, {})

    def take(self, key: tuple[object, ...], images: dict[int, QImage]) -> None:
        """Keep the coupons of a photo."""
        self._kept[key] = images
        while len(self._kept) > _KEPT:
            self._kept.popitem(last=False)
        self.arrived.emit()


class _Arrival:
    """What happens when one photo's job comes back."""

    def __init__(self, pictures: BesidePictures, key: tuple[object, ...]) -> None:
        self._pictures, self._key = pictures, key

    def come(self, images: dict[int, QImage]) -> None:
        self._pictures.take(self._key, images)

    def fail(self, error: InputError) -> None:
        self._pictures.take(self._key, {})  # a photo that cannot be read: the tiles keep their outlines
