"""The eleven keys with their reference pictures, drawn beside the window."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal, Slot
from PySide6.QtGui import QImage, QResizeEvent, QShowEvent
from PySide6.QtWidgets import QHBoxLayout, QWidget

from rustboard.scales.rust_grade import limits_percent
from rustboard.session.jobs import Progress
from rustboard.session.pictures import GuidePicture, GuideRequest, guide_pictures
from rustboard.support.problems import InputError
from rustboard.ui.bridge import JobBridge
from rustboard.ui.coupon_pictures import image_of
from rustboard.ui.guide.grade_key import GradeKey
from rustboard.ui.theme import Scheme
from rustboard.ui.wording import number

_STEP = 40
_TALLEST = 480


def limits_text(grade: int) -> str:
    """Return a grade's percent as it fits under a key: ``0.1–0.3 %``."""
    low, high = limits_percent(grade)
    if low <= 0:
        return f"≤ {number(high, 2)} %"
    if high >= 100:
        return f"> {number(low, 2)} %"
    return f"{number(low, 2)}–{number(high, 2)} %"


class GuideStrip(QWidget):
    """Eleven keys, 10 at the left as on a rule that counts down.

    Signals:
        given(int): a key was pressed.
    """

    given = Signal(int)

    def __init__(self, bridge: JobBridge, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Build the keys without pictures."""
        super().__init__(parent)
        self._bridge = bridge
        self._request: GuideRequest | None = None
        self._drawn: GuideRequest | None = None
        self._height_drawn = 0
        self._job: Progress | None = None
        self._ready: dict[tuple[str, str, int], Sequence[QImage]] = {}
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(2)
        self.keys = {grade: GradeKey(grade, limits_text(grade), scheme) for grade in range(10, -1, -1)}
        for key in self.keys.values():
            row.addWidget(key)
        self._wire()

    def _wire(self) -> None:
        for key in self.keys.values():
            key.clicked.connect(self._give)

    def ask_for(self, request: GuideRequest) -> None:
        """Show these reference pictures, sized for the keys as they are."""
        if self._request is None or not _shows_the_same(self._request, request):
            self._request = request
        self._draw()

    def mark_given(self, grade: int | None) -> None:
        """Mark the key of the grade that the coupon has."""
        for each, key in self.keys.items():
            key.set_given(each == grade)

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        for key in self.keys.values():
            key.set_scheme(scheme)

    def picture_height(self) -> int:
        """Return the height to draw at, in steps, so that a drag of the window's edge does not draw at every px."""
        wanted = self.height() * self.devicePixelRatioF()
        return int(min(_TALLEST, max(_STEP, -(-wanted // _STEP) * _STEP)))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Draw anew when the pictures would be too small."""
        super().resizeEvent(event)
        self._draw()

    def _draw(self) -> None:
        request = self._request
        if request is None or not self.isVisible():
            return
        if self._drawn is request and self._height_drawn >= self.picture_height():
            return
        self._drawn, self._height_drawn = request, self.picture_height()
        if self._job is not None:
            self._job.cancel()
        plain = self._plain_key(request)
        if plain in self._ready:
            self._put(self._ready[plain])
            return
        sized = GuideRequest(
            request.pattern, request.at, self._height_drawn, request.coupon, request.outline, request.margin_mm
        )
        self._job = self._bridge.start("guide", guide_pictures, sized, done=self._come, failed=self._fail, owner=self)

    def _plain_key(self, request: GuideRequest) -> tuple[str, str, int] | None:
        return None if request.outline else (request.pattern, request.at, self._height_drawn)

    def _come(self, pictures: tuple[GuidePicture, ...]) -> None:
        images = [image_of(each.rgb, each.mask) for each in pictures]
        if self._drawn is not None:
            plain = self._plain_key(self._drawn)
            if plain is not None:
                self._ready[plain] = images
        self._put(images)

    def _fail(self, error: InputError) -> None:
        self._put([QImage()] * 11)

    def _put(self, images: Sequence[QImage]) -> None:
        for grade, image in enumerate(images):
            self.keys[grade].set_picture(image if not image.isNull() else None)

    def showEvent(self, event: QShowEvent) -> None:
        """Draw what was asked for while hidden."""
        super().showEvent(event)
        self._draw()

    @Slot()
    def _give(self) -> None:
        key = self.sender()
        if isinstance(key, GradeKey):
            self.given.emit(key.grade)


def _shows_the_same(one: GuideRequest, other: GuideRequest) -> bool:
    """Return whether two requests ask for the same pictures; the size is the strip's own matter."""
    names = ("pattern", "at", "outline", "margin_mm")
    return one.coupon is other.coupon and all(getattr(one, each) == getattr(other, each) for each in names)
