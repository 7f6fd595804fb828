"""The eleven keys with their reference pictures, drawn beside the window."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from PySide6.QtCore import QRect, QSize, Signal, Slot
from PySide6.QtGui import QImage, QResizeEvent, QShowEvent
from PySide6.QtWidgets import QSizePolicy, QStyle, QWidget

from rustboard.scales.rust_grade import limits_percent
from rustboard.session.jobs import Progress
from rustboard.session.pictures import GuideRequest, guide_pictures, same_guide
from rustboard.support.problems import InputError
from rustboard.ui.ahead import Ahead
from rustboard.ui.bridge import JobBridge
from rustboard.ui.coupon_pictures import image_of
from rustboard.ui.guide.grade_key import GradeKey
from rustboard.ui.single_presses import SinglePresses
from rustboard.ui.theme import Scheme
from rustboard.ui.wording import number

_GAP = 2
_STEP = 40
_TALLEST = 480
_TALL = 6  # heights of a key without its picture: two rows of pictures have room in them


def limits_text(grade: int) -> str:
    """Return a grade's percent as it fits under a key: ``0.1–0.3 %``."""
    low, high = limits_percent(grade)
    if low <= 0:
        return f"≤ {number(high, 2)} %"
    if high >= 100:
        return f"> {number(low, 2)} %"
    return f"{number(low, 2)}–{number(high, 2)} %"


def guide_images(request: GuideRequest, progress: Progress) -> list[QImage]:
    """Draw the reference pictures of grades 0 to 10, as images; a job."""
    return [image_of(each.rgb, each.mask) for each in guide_pictures(request, progress)]


class GuideStrip(QWidget):
    """Eleven keys, 10 at the left as on a rule that counts down; in two rows where large keys would not fit in one.

    Signals:
        given(int): a key was pressed.
    """

    given = Signal(int)

    def __init__(
        self, bridge: JobBridge, scheme: Scheme, parent: QWidget | None = None, ahead: Ahead | None = None
    ) -> None:
        """Build the keys without pictures; ``ahead`` keeps them together with others of the screen."""
        super().__init__(parent)
        self._ahead = ahead or Ahead(bridge, self)
        self._request: GuideRequest | None = None
        self._drawn: GuideRequest | None = None
        self._next: GuideRequest | None = None
        self._height_drawn = 0
        self._two_rows = False
        self._large = False
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.keys = {grade: GradeKey(grade, limits_text(grade), scheme, self) for grade in range(10, -1, -1)}
        self._presses = SinglePresses(self)
        for key in self.keys.values():
            self._presses.watch(key)
        self._wire()

    def _wire(self) -> None:
        for key in self.keys.values():
            key.clicked.connect(self._give)

    def ask_for(self, request: GuideRequest) -> None:
        """Show these reference pictures, sized for the keys as they are."""
        if self._request is None or same_guide(self._request) != same_guide(request):
            self._request = request
        self._draw()

    def prepare(self, request: GuideRequest) -> None:
        """Draw what will be asked for next, so that it is there by then."""
        self._next = request
        self._prepare()

    def _prepare(self) -> None:
        if self._next is not None and self.isVisible():
            sized = replace(self._next, height_px=self.picture_height())
            self._ahead.prepare("guide", _same(sized), guide_images, sized)

    def mark_given(self, grade: int | None) -> None:
        """Mark the key of the grade that the coupon has."""
        for each, key in self.keys.items():
            key.set_given(each == grade)

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        for key in self.keys.values():
            key.set_scheme(scheme)

    # ---- where the keys are

    def set_large(self, large: bool) -> None:
        """Make the keys large enough for gloves, or as they are otherwise."""
        self._large = large
        for key in self.keys.values():
            key.set_large(large)
        self.updateGeometry()
        self._place_keys()
        self._draw()

    def set_two_rows(self) -> None:
        """Stand in two rows whenever the keys fit one above the other, for pictures twice as wide."""
        self._two_rows = True
        self._place_keys()

    def rows(self) -> int:
        """Return how many rows the keys stand in."""
        high = self.height() >= _TALL * next(iter(self.keys.values())).minimumSizeHint().height()
        narrow = self.width() < self.width_of_a_row()
        return 2 if (self._two_rows and (high or narrow)) or (self._large and narrow) else 1

    def width_of_a_row(self) -> int:
        """Return the least width at which all keys stand in one row."""
        return _across(len(self.keys), next(iter(self.keys.values())).minimumSizeHint().width())

    def sizeHint(self) -> QSize:
        """Return a comfortable size."""
        return self._size_of(next(iter(self.keys.values())).sizeHint())

    def minimumSizeHint(self) -> QSize:
        """Return the least size: large keys, and those asked to, may stand in two rows."""
        return self._size_of(next(iter(self.keys.values())).minimumSizeHint())

    def _size_of(self, key: QSize) -> QSize:
        rows = 2 if self._large or self._two_rows else 1
        return QSize(_across(_in_a_row(len(self.keys), rows), key.width()), _across(rows, key.height()))

    def _place_keys(self) -> None:
        rows = self.rows()
        columns = _in_a_row(len(self.keys), rows)
        for place, key in enumerate(self.keys.values()):
            row, column = divmod(place, columns)
            left, right = _edges(column, columns, self.width())
            top, bottom = _edges(row, rows, self.height())
            there = QRect(left, top, right - left, bottom - top)
            key.setGeometry(QStyle.visualRect(self.layoutDirection(), self.rect(), there))

    # ---- their pictures

    def picture_height(self) -> int:
        """Return the height to draw at, in steps, so that a drag of the window's edge does not draw at every px."""
        wanted = self.height() / self.rows() * self.devicePixelRatioF()
        return int(min(_TALLEST, max(_STEP, -(-wanted // _STEP) * _STEP)))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Draw anew when the pictures would be too small."""
        super().resizeEvent(event)
        self._place_keys()
        self._draw()
        self._prepare()

    def _draw(self) -> None:
        request = self._request
        if request is None or not self.isVisible():
            return
        if self._drawn is request and self._height_drawn >= self.picture_height():
            return
        self._drawn, self._height_drawn = request, self.picture_height()
        sized = replace(request, height_px=self._height_drawn)
        self._ahead.ask(
            "guide", _same(sized), guide_images, sized, done=self._put, failed=self._show_none, owner=self
        )

    def _show_none(self, error: InputError) -> None:
        self._put([QImage()] * 11)

    def _put(self, images: Sequence[QImage]) -> None:
        for grade, image in enumerate(images):
            self.keys[grade].set_picture(image if not image.isNull() else None)

    def showEvent(self, event: QShowEvent) -> None:
        """Draw what was asked for while hidden."""
        super().showEvent(event)
        self._draw()
        self._prepare()

    @Slot()
    def _give(self) -> None:
        key = self.sender()
        if isinstance(key, GradeKey):
            self.given.emit(key.grade)


def _same(sized: GuideRequest) -> tuple[object, ...]:
    return (*same_guide(sized), sized.height_px)


def _in_a_row(keys: int, rows: int) -> int:
    return -(-keys // rows)


def _across(count: int, each: int) -> int:
    """Return the length of so many keys with the gaps between them."""
    return count * each + (count - 1) * _GAP


def _edges(place: int, places: int, length: int) -> tuple[int, int]:
    """Return where one of several keys that share a length begins and ends."""
    room = length + _GAP
    return (place * room // places, (place + 1) * room // places - _GAP)
