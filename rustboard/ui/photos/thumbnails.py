"""Small pictures of the board's photos for the strip of days: made when first seen, one after the other."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QImage

from rustboard.session.board_views import WholeViewRequest, whole_view, whole_view_request
from rustboard.session.jobs import Progress
from rustboard.session.session import Session
from rustboard.support.problems import InputError
from rustboard.ui.bridge import JobBridge
from rustboard.ui.coupon_pictures import image_of
from rustboard.ui.photos.kept import Kept

LONGEST_PX = 220
_MOST_BYTES = 24 << 20


def thumbnail(request: WholeViewRequest, progress: Progress) -> QImage:
    """Return a photo, small; a job."""
    return image_of(whole_view(request, progress).rgb)


class Thumbnails(QObject):
    """Keeps the small pictures that were seen last.

    Signals:
        arrived(int): the picture of a photo is there.
    """

    arrived = Signal(int)

    def __init__(self, session: Session, bridge: JobBridge, parent: QObject | None = None) -> None:
        """Start without pictures."""
        super().__init__(parent)
        self._session, self._bridge = session, bridge
        self._images: Kept[int, QImage] = Kept(_MOST_BYTES)
        self._broken: set[int] = set()
        self._queue: list[int] = []
        self._working: int | None = None

    def image(self, photo: int) -> QImage | None:
        """Return a photo's picture, or None while it is not there."""
        return self._images.get(photo)

    def is_broken(self, photo: int) -> bool:
        """Return whether a photo is missing or cannot be read."""
        return photo in self._broken

    def kept_bytes(self) -> int:
        """Return how much memory the pictures take."""
        return self._images.size

    def want(self, photos: Iterable[int]) -> None:
        """See to it that these are made, in this order; what was wanted before and is no longer seen is left."""
        self._queue = [each for each in photos if each not in self._images and each not in self._broken]
        self._next()

    def forget(self, photos: Iterable[int]) -> None:
        """Forget pictures of photos that are gone, and what was wrong with them."""
        for each in photos:
            self._images.drop(each)
            self._broken.discard(each)

    def _next(self) -> None:
        # One at a time: the photo that somebody looks at must not wait behind a row of small ones.
        while self._working is None and self._queue:
            key = self._queue.pop(0)
            photo = self._session.record.photos.get(key)
            request = None if photo is None else whole_view_request(self._session, photo, LONGEST_PX)
            if request is None:
                self._broken.add(key)
                continue
            self._working = key
            arrival = _Arrival(self, key)
            job = ("thumbnail", id(self))
            self._bridge.start(job, thumbnail, request, done=arrival.come, failed=arrival.fail, owner=self)

    def take(self, photo: int, image: QImage | None) -> None:
        """Keep a picture; None when the photo cannot be read."""
        self._working = None
        if image is None:
            self._broken.add(photo)
        else:
            self._images.put(photo, image, image.sizeInBytes())
        self.arrived.emit(photo)
        self._next()


class _Arrival:
    """What happens when one picture comes back."""

    def __init__(self, thumbnails: Thumbnails, photo: int) -> None:
        self._thumbnails, self._photo = thumbnails, photo

    def come(self, image: QImage) -> None:
        self._thumbnails.take(self._photo, image)

    def fail(self, error: InputError) -> None:
        self._thumbnails.take(self._photo, None)
