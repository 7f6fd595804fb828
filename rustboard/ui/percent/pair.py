"""The coupon as it is, and beside it, at the same size, the coupon with the chosen percent rusted."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, QSize, QSizeF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QImage, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from rustboard.ui.theme import Scheme, px_of_mm

if TYPE_CHECKING:
    from rustboard.scales.rust_paint import GrowingRust

_GAP = 10.0
_LEAST_MM = 20.0


class PicturePair(QWidget):
    """Two pictures of one coupon. Where they are goes by the coupon's shape alone: nothing moves when they come."""

    def __init__(self, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Start without pictures."""
        super().__init__(parent)
        self._scheme = scheme
        self._own: QImage | None = None
        self._own_caption = ""
        self._shape = QSizeF(1, 2)
        self._growing: GrowingRust | None = None
        self._percent, self._caption, self._waiting = 0.0, "", ""
        self._painted: QImage | None = None
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)

    def sizeHint(self) -> QSize:
        """Return a comfortable size."""
        return QSize(420, 340)

    def minimumSizeHint(self) -> QSize:
        """Return the least size."""
        least = px_of_mm(self, _LEAST_MM)
        return QSize(2 * least, round(1.3 * least))

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self._scheme = scheme
        self.update()

    def show_own(self, image: QImage | None, caption: str) -> None:
        """Show the coupon as it is; an empty caption keeps no place for it."""
        self._own, self._own_caption = image, caption
        self._name()

    def show_growing(self, growing: GrowingRust | None, waiting: str) -> None:
        """Paint on this from now on; while there is None, ``waiting`` says why."""
        self._growing, self._waiting = growing, waiting
        self._painted = None
        self.update()

    def set_shape(self, width: float, height: float) -> None:
        """Keep a place of this shape for the pictures."""
        self._shape = QSizeF(width, height)
        self.update()

    def show_percent(self, percent: float, caption: str) -> None:
        """Paint this percent; ``caption`` says it in words."""
        if percent != self._percent:
            self._painted = None  # painted when the window next shows, once for all moves of a drag until then
        self._percent, self._caption = percent, caption
        self._name()

    def image(self) -> QImage | None:
        """Return the coupon with its percent rusted as it is on the screen, or None while it is not ready."""
        if self._painted is None and self._growing is not None:
            size = (self.places()[-1].size() * self.devicePixelRatioF()).toSize()
            self._painted = shrunk(self._growing, self._percent, size.expandedTo(QSize(1, 1)))
        return self._painted

    def places(self) -> list[QRectF]:
        """Return where the pictures are: the coupon's own, if it has a place, then the painted one."""
        count = 2 if self._own_caption else 1
        line = self._line()
        best, best_scale = QSizeF(), 0.0
        beside = True
        for across in {1, count}:
            down = count // across
            room = QSizeF(
                (self.width() - (across - 1) * _GAP) / across, (self.height() - (down - 1) * _GAP) / down - line
            )
            scale = min(room.width() / self._shape.width(), room.height() / self._shape.height())
            # Side by side is easier to compare; one above the other must be worth it.
            if scale * (1.0 if across == count else 0.85) > best_scale:
                best_scale = scale * (1.0 if across == count else 0.85)
                best, beside = self._shape * scale, across == count
        return self._set_out(best, count if beside else 1, count)

    def _set_out(self, size: QSizeF, across: int, count: int) -> list[QRectF]:
        down = count // across
        whole = QSizeF(
            across * size.width() + (across - 1) * _GAP, down * (size.height() + self._line()) + (down - 1) * _GAP
        )
        left, top = (self.width() - whole.width()) / 2, (self.height() - whole.height()) / 2
        found = []
        for number in range(count):
            row, column = divmod(number, across)
            at = QPointF(left + column * (size.width() + _GAP), top + row * (size.height() + self._line() + _GAP))
            found.append(QRectF(at, size))
        return found

    def _line(self) -> float:
        return QFontMetricsF(self.font()).height() * 1.3

    def _name(self) -> None:
        painted = self.tr("painted with {0} rusted").format(self._caption)
        self.setAccessibleName(", ".join(each for each in (self._own_caption, painted) if each))
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint both pictures with their captions."""
        painter = QPainter(self)
        painter.setRenderHints(QPainter.RenderHint.Antialiasing | QPainter.RenderHint.SmoothPixmapTransform)
        *own, painted = self.places()
        if self._painted is not None and not self._fits(painted):
            self._painted = None
        for place in own:
            self._paint(painter, place, self._own, self._own_caption, self.tr("no picture"))
        self._paint(painter, painted, self.image(), self._caption, self._waiting)
        painter.end()

    def _fits(self, place: QRectF) -> bool:
        wanted = (place.size() * self.devicePixelRatioF()).toSize()
        return self._painted is not None and self._painted.size() == wanted

    def _paint(self, painter: QPainter, place: QRectF, image: QImage | None, caption: str, instead: str) -> None:
        if image is not None:
            painter.drawImage(place, image)
        elif place.height() > 10:
            painter.setPen(QPen(QColor(self._scheme.muted), 1, Qt.PenStyle.DashLine))
            painter.drawRect(place.adjusted(1, 1, -1, -1))
            wrapped = Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap
            painter.drawText(place.adjusted(4, 4, -4, -4), wrapped, instead)
        painter.setPen(QColor(self._scheme.muted))
        room = place.width() + _GAP
        text = QFontMetricsF(self.font()).elidedText(caption, Qt.TextElideMode.ElideRight, room)
        under = QRectF(place.left() - _GAP / 2, place.bottom(), room, self._line())
        painter.drawText(under, Qt.AlignmentFlag.AlignCenter, text)


def shrunk(growing: GrowingRust, percent: float, size: QSize) -> QImage:
    """Return a surface with this percent rusted, in the size of the screen: each px the mean of what it covers."""
    pixels = growing.painted(percent)
    height, width = pixels.shape
    # Opaque or nothing: either is the same with and without its alpha multiplied in.
    whole = QImage(pixels.data, width, height, width * 4, QImage.Format.Format_ARGB32_Premultiplied)
    ignore, smooth = Qt.AspectRatioMode.IgnoreAspectRatio, Qt.TransformationMode.SmoothTransformation
    found = whole.scaled(size, ignore, smooth)
    return found if found.size() != whole.size() else whole.copy()  # it must not lean on memory that goes
