"""The pictures of the photo screen, made beside the window and kept within a bound."""

from __future__ import annotations

from collections.abc import Hashable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QImage

from rustboard.board.model import Photo
from rustboard.session.board_views import BoardViewRequest, board_view, board_view_request
from rustboard.session.jobs import Progress
from rustboard.session.mask_views import MaskRequest, mask_request, mask_view
from rustboard.session.session import Session
from rustboard.support.problems import InputError
from rustboard.ui.bridge import JobBridge
from rustboard.ui.coupon_pictures import image_of
from rustboard.ui.photos.kept import Kept

if TYPE_CHECKING:
    from rustboard.session.mask_views import MaskView

BOARD_PX = 1_800
_MOST_BOARD_BYTES = 40 << 20
_MOST_COUPON_BYTES = 60 << 20
_WITH_MASKS = 11  # bytes a pixel: the picture twice, once as an array, and four masks


@dataclass(frozen=True, slots=True, eq=False)
class BoardImage:
    """The board straightened, as an image."""

    image: QImage
    pixels_per_mm: float


@dataclass(frozen=True, slots=True, eq=False)
class CouponImage:
    """One coupon in one photo: its picture, and its masks to lay over it."""

    image: QImage
    view: MaskView


def board_image(request: BoardViewRequest, progress: Progress) -> BoardImage:
    """Straighten the board, as an image; a job."""
    view = board_view(request, progress)
    return BoardImage(image_of(view.rgb), view.pixels_per_mm)


def coupon_image(request: MaskRequest, progress: Progress) -> CouponImage:
    """Cut a coupon with its masks, as an image; a job."""
    view = mask_view(request, progress)
    return CouponImage(image_of(view.rgb), view)


class PhotoViews(QObject):
    """Fetches boards and coupons for the slots of the screen (``this`` and ``other`` day).

    A newer wish for a slot makes an older one stale. What was fetched before a change is shown until its successor
    is there.

    Signals:
        arrived(): something that was asked for is there, or cannot be.
    """

    arrived = Signal()

    def __init__(self, session: Session, bridge: JobBridge, parent: QObject | None = None) -> None:
        """Start with nothing fetched."""
        super().__init__(parent)
        self._session, self._bridge = session, bridge
        self._boards: Kept[int, BoardImage] = Kept(_MOST_BOARD_BYTES)
        self._coupons: Kept[tuple[int, int], CouponImage] = Kept(_MOST_COUPON_BYTES)
        self._problems: dict[Hashable, str] = {}
        self._asked: dict[Hashable, tuple[Hashable, object]] = {}  # by slot: what, and what brings it
        self._stale: set[Hashable] = set()

    # ---- boards

    def board(self, photo: int) -> BoardImage | None:
        """Return a photo's board, or None while it is not there."""
        return self._boards.get(photo)

    def want_board(self, slot: str, photo: Photo) -> None:
        """See to it that a photo's board is fetched."""
        key = ("board", photo.key)
        if self._is_there(photo.key in self._boards, key, (slot, "board")):
            return
        request = board_view_request(self._session, photo, BOARD_PX)
        if request is not None:
            arrival = _BoardArrival(self, (slot, "board"), photo.key)
            self._start((slot, "board"), key, board_image, request, arrival)

    def take_board(self, slot: Hashable, photo: int, image: BoardImage) -> None:
        """Keep a board that came."""
        self._done(slot, ("board", photo))
        self._boards.put(photo, image, image.image.sizeInBytes())
        self.arrived.emit()

    # ---- coupons

    def coupon(self, photo: int, coupon: int) -> CouponImage | None:
        """Return a coupon in a photo, or None while it is not there."""
        return self._coupons.get((photo, coupon))

    def want_coupon(self, slot: str, photo: Photo, coupon: int) -> None:
        """See to it that a coupon is fetched from a photo."""
        pair = (photo.key, coupon)
        key = ("coupon", *pair)
        if self._is_there(pair in self._coupons, key, (slot, "coupon")):
            return
        request = mask_request(self._session, photo, coupon)
        if request is None:
            self._problems[key] = self.tr("This photo cannot show this coupon: it has no outline, or hangs nowhere.")
            return
        arrival = _CouponArrival(self, (slot, "coupon"), pair)
        self._start((slot, "coupon"), key, coupon_image, request, arrival)

    def take_coupon(self, slot: Hashable, pair: tuple[int, int], image: CouponImage) -> None:
        """Keep a coupon that came."""
        self._done(slot, ("coupon", *pair))
        height, width = image.view.surface.shape
        self._coupons.put(pair, image, height * width * _WITH_MASKS)
        self.arrived.emit()

    def put_preview(self, photo: int, coupon: int, view: MaskView) -> None:
        """Show a coupon with a stroke that is not on the disk yet, or just is."""
        held = self._coupons.get((photo, coupon))
        # One that is being cut is without this stroke; it is asked for again.
        key = ("coupon", photo, coupon)
        self._asked = {slot: asked for slot, asked in self._asked.items() if asked[0] != key}
        if held is not None:
            height, width = view.surface.shape
            self._coupons.put((photo, coupon), CouponImage(held.image, view), height * width * _WITH_MASKS)

    # ---- what went wrong, and what is no longer so

    def problem(self, photo: int, coupon: int | None = None) -> str:
        """Return why a photo's board, or a coupon in it, cannot be shown, or an empty text."""
        return self._problems.get(("board", photo) if coupon is None else ("coupon", photo, coupon), "")

    def refuse(self, slot: Hashable, key: Hashable, error: InputError) -> None:
        """Keep the sentence about what cannot be shown; asking again would only repeat it."""
        self._done(slot, key)
        self._problems[key] = str(error)
        self.arrived.emit()

    def is_stale(self, photo: int, coupon: int) -> bool:
        """Return whether what is shown of a coupon is from before a change."""
        return ("coupon", photo, coupon) in self._stale

    def measured_anew(self) -> None:
        """Fetch coupons again: their masks may be others."""
        self._stale.update(("coupon", *pair) for pair in self._coupons.names())
        self._forget_problems()

    def placed_anew(self) -> None:
        """Fetch everything again: photos came, went, or are placed otherwise."""
        self._boards.clear()
        self._coupons.clear()
        self._stale.clear()
        self._forget_problems()

    def _forget_problems(self) -> None:
        self._problems.clear()
        self._asked.clear()

    # ---- jobs

    def _is_there(self, held: bool, key: Hashable, slot: Hashable) -> bool:
        fresh = held and key not in self._stale
        return fresh or key in self._problems or self._asked.get(slot, ("", None))[0] == key

    def _start(
        self, slot: Hashable, key: Hashable, job: object, request: object, arrival: _BoardArrival | _CouponArrival
    ) -> None:
        self._asked[slot] = (key, arrival)
        self._bridge.start(
            ("photo screen", id(self), slot),
            job,  # type: ignore[arg-type] # one of the two above
            request,
            done=arrival.come,
            failed=arrival.fail,
            owner=self,
        )

    def waits_for(self, slot: Hashable, arrival: object) -> bool:
        """Return whether what comes was asked for since the last change; older answers are of older days."""
        return self._asked.get(slot, ("", None))[1] is arrival

    def _done(self, slot: Hashable, key: Hashable) -> None:
        self._asked.pop(slot, None)
        self._stale.discard(key)


class _BoardArrival:
    """What happens when one board comes back."""

    def __init__(self, views: PhotoViews, slot: Hashable, photo: int) -> None:
        self._views, self._slot, self._photo = views, slot, photo

    def come(self, image: BoardImage) -> None:
        if self._views.waits_for(self._slot, self):
            self._views.take_board(self._slot, self._photo, image)

    def fail(self, error: InputError) -> None:
        if self._views.waits_for(self._slot, self):
            self._views.refuse(self._slot, ("board", self._photo), error)


class _CouponArrival:
    """What happens when one coupon comes back."""

    def __init__(self, views: PhotoViews, slot: Hashable, pair: tuple[int, int]) -> None:
        self._views, self._slot, self._pair = views, slot, pair

    def come(self, image: CouponImage) -> None:
        if self._views.waits_for(self._slot, self):
            self._views.take_coupon(self._slot, self._pair, image)

    def fail(self, error: InputError) -> None:
        if self._views.waits_for(self._slot, self):
            self._views.refuse(self._slot, ("coupon", *self._pair), error)
