"""One coupon, large: its masks, the brush, and another day to compare it with."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QPointF, QRectF, QSizeF, Qt, Signal
from PySide6.QtGui import QColor, QImage, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget

from rustboard.ui.photos.brush import Brush, Place
from rustboard.ui.photos.mask_overlay import MaskLook, overlay_of
from rustboard.ui.photos.picture_view import PictureView, Side
from rustboard.ui.photos.views import CouponImage
from rustboard.ui.theme import Scheme

if TYPE_CHECKING:
    from rustboard.session.mask_views import MaskView

_ARROWS = {
    Qt.Key.Key_Left: QPointF(-1, 0),
    Qt.Key.Key_Right: QPointF(1, 0),
    Qt.Key.Key_Up: QPointF(0, -1),
    Qt.Key.Key_Down: QPointF(0, 1),
}
_LEAST_STEP_PX = 3.0
_STEP_SHARE = 0.5  # of the brush's radius, at each press of an arrow


class CouponPicture(PictureView):
    """Shows a coupon on one day or two, with what was found on it.

    Signals:
        stroke_drawn(object): a `Stroke` was finished.
        size_asked(int): the brush is to be so many sizes wider, or narrower.

    Attributes:
        brush: what a drag does while it is in use. mask_shown, look: whether and how the masks are laid over.
    """

    stroke_drawn = Signal(object)
    size_asked = Signal(int)

    def __init__(self, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Start without a coupon."""
        super().__init__(scheme, parent)
        self.brush = Brush()
        self.mask_shown = True
        self.look: MaskLook = "tint"
        self._subject = (0, 0)  # photo and coupon
        self._image: CouponImage | None = None
        self._other_image: CouponImage | None = None
        self._captions = ("", "")
        self._missing = ("", "")
        self._compares = False
        self._hover: QPointF | None = None
        self._drawn: MaskView | None = None  # the view with the stroke being drawn
        self._overlays: dict[int, tuple[object, QImage | None]] = {}
        self._is_stale = True

    # ---- what is shown

    def show_coupon(self, subject: tuple[int, int], image: CouponImage | None, caption: str, missing: str) -> None:
        """Show a coupon in a photo, both by key; ``missing`` says why there is no picture."""
        if subject != self._subject:
            self.brush.give_up()
            self.brush.at = None
        self._subject, self._image = subject, image
        self._captions, self._missing = (caption, self._captions[1]), (missing, self._missing[1])
        self._drawn = None
        self.refresh()

    def show_other(self, image: CouponImage | None, caption: str, missing: str, *, compares: bool) -> None:
        """Show the day to compare with, or none."""
        self._other_image, self._compares = image, compares
        self._captions, self._missing = (self._captions[0], caption), (self._missing[0], missing)
        self.refresh()

    def set_mask(self, shown: bool, look: MaskLook) -> None:
        """Lay the masks over, or not."""
        self.mask_shown, self.look = shown, look
        self.refresh()

    def view(self) -> MaskView | None:
        """Return the coupon with all strokes, the one being drawn too, or None."""
        if self._image is None:
            return None
        if self.brush.stroke is None:
            return self._image.view
        if self._drawn is None:
            from rustboard.session.mask_views import with_stroke

            self._drawn = with_stroke(self._image.view, self.brush.stroke)
        return self._drawn

    def refresh(self) -> None:
        """Build the sides anew at the next painting."""
        self._is_stale = True
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Bring the masks up to date, once for however many moves of the brush, and paint."""
        if self._is_stale:
            self._build()
        super().paintEvent(event)

    def _build(self) -> None:
        self._is_stale = False
        view = self.view()
        size = self.viewport.size
        shown = self._image or self._other_image
        if shown is not None:
            size = QSizeF(shown.image.size())
        this = Side(_picture(self._image), self._captions[0], self._overlay(0, view), self._missing[0])
        other = None
        if self._compares:
            image = self._other_image
            masks = None if image is None else image.view
            other = Side(_picture(image), self._captions[1], self._overlay(1, masks), self._missing[1])
        self.show_sides(this, other, size)

    def _overlay(self, place: int, view: MaskView | None) -> QImage | None:
        if view is None or not self.mask_shown:
            return None
        dot = round(1 / self.viewport.scale(self.panes()[0][0]))
        held = self._overlays.get(place)
        key = (view, self.look, min(max(dot, 1), 4))
        if held is None or held[0] != key:
            held = (key, overlay_of(view, self.look, dot))
            self._overlays[place] = held
        return held[1]

    def fit(self) -> None:
        """See the whole coupon."""
        super().fit()
        self.refresh()

    def zoom_at(self, point: QPointF | None, factor: float) -> None:
        """Zoom; lines of the masks stay as thin as they are to be seen."""
        super().zoom_at(point, factor)
        self.refresh()

    # ---- the brush

    def use_brush(self, on: bool, *, adds: bool, radius_mm: float) -> None:
        """Take the brush up or lay it aside."""
        if not on:
            self.brush.give_up()
        self.brush.on, self.brush.adds, self.brush.radius_mm = on, adds, radius_mm
        self.setCursor(Qt.CursorShape.BlankCursor if on else Qt.CursorShape.ArrowCursor)
        self._drawn = None
        self.refresh()

    def can_paint(self) -> bool:
        """Return whether the brush may touch what is shown."""
        return self.brush.on and self._image is not None and self._image.view.rust is not None and not self._compares

    def _mm_at(self, point: QPointF) -> Place:
        """Return the place on the coupon under a point of the window."""
        return _mm(self.view(), self.place_at(point))

    def _draw_to(self, place: Place) -> None:
        if self.brush.draw_to(place):
            self._drawn = None
            self.refresh()
        self.update()

    def _lift(self) -> None:
        stroke = self.brush.lift()
        if stroke is not None:
            self.stroke_drawn.emit(stroke)
        self._drawn = None
        self.refresh()

    def paint_over(self, painter: QPainter, pane: QRectF, side: Side) -> None:
        """Paint the brush where the pointer or the keyboard has it."""
        if not self.can_paint() or side is not self.this or self._image is None:
            return
        at = self._hover
        if at is None and self.brush.at is not None:
            at = self.viewport.transform(pane).map(_px(self._image.view, self.brush.at))
        if at is None:
            return
        radius = max(2.0, self.brush.radius_mm * self._image.view.pixels_per_mm * self.viewport.scale(pane))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for colour, width in (("#101820", 4.0), ("#ffffff", 2.0)):
            pen = QPen(QColor(colour), width)
            if self.brush.stroke is None:
                pen.setDashPattern([3, 2] if width == 2.0 else [1.5, 1])
            painter.setPen(pen)
            painter.drawEllipse(at, radius, radius)
            painter.setPen(QPen(QColor(colour), width))
            painter.drawLine(at - QPointF(4, 0), at + QPointF(4, 0))
            if self.brush.adds:
                painter.drawLine(at - QPointF(0, 4), at + QPointF(0, 4))

    # ---- events

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Put the brush down, or begin to drag the picture."""
        if event.button() == Qt.MouseButton.LeftButton and self.can_paint():
            self.brush.press(*self._subject, self._mm_at(event.position()))
            self._drawn = None
            self.refresh()
            return
        super().mousePressEvent(event)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Draw, or show where the brush would."""
        if self.can_paint():
            self._hover = event.position()
            if event.buttons() & Qt.MouseButton.LeftButton and self.brush.stroke is not None:
                self._draw_to(self._mm_at(event.position()))
            self.update()
            if self.brush.stroke is not None:
                return
        super().mouseMoveEvent(event)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Lift the brush."""
        if event.button() == Qt.MouseButton.LeftButton and self.brush.stroke is not None:
            self._lift()
            return
        super().mouseReleaseEvent(event)

    def leaveEvent(self, event: QEvent) -> None:
        """Show the brush no longer where the pointer was."""
        super().leaveEvent(event)
        self._hover = None
        self.update()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Move the brush by arrows, put it down and lift it by Space; without it arrows move the picture."""
        key = Qt.Key(event.key())
        plain = event.modifiers() in (Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.KeypadModifier)
        if plain and key in _ARROWS:
            if self.can_paint():
                self._step(_ARROWS[key])
            else:
                self.pan(-_ARROWS[key] * 48.0)
        elif plain and key == Qt.Key.Key_Space and self.can_paint() and not event.isAutoRepeat():
            self._hover = None
            self._press_or_lift()
        elif key in (Qt.Key.Key_BracketLeft, Qt.Key.Key_BracketRight) and self.brush.on:
            self.size_asked.emit(1 if key == Qt.Key.Key_BracketRight else -1)
        elif key == Qt.Key.Key_Escape and self.brush.give_up():
            self._drawn = None
            self.refresh()
        else:
            super().keyPressEvent(event)

    def _here(self) -> Place:
        return self.brush.at or _mm(self.view(), self.viewport.centre)

    def _press_or_lift(self) -> None:
        if self.brush.stroke is not None:
            self._lift()
            return
        self.brush.press(*self._subject, self._here())
        self._drawn = None
        self.refresh()

    def _step(self, way: QPointF) -> None:
        self._hover = None
        pane = self.panes()[-1][0]
        scale = self.viewport.scale(pane)
        view = self._image.view if self._image is not None else None
        if view is None:
            return
        step = max(self.brush.radius_mm * _STEP_SHARE, _LEAST_STEP_PX / (view.pixels_per_mm * scale))
        x, y = self._here()
        height, width = view.surface.shape
        left, top = view.origin_mm
        place = (
            min(max(x + way.x() * step, left), left + width / view.pixels_per_mm),
            min(max(y + way.y() * step, top), top + height / view.pixels_per_mm),
        )
        self.brush.at = place
        self._draw_to(place)
        seen = self.viewport.transform(pane).map(_px(view, place))
        if not pane.adjusted(12, 12, -12, -12).contains(seen):
            self.pan(pane.center() - seen)


def _picture(image: CouponImage | None) -> QImage | None:
    return None if image is None else image.image


def _mm(view: MaskView | None, point: QPointF) -> Place:
    """Return a place of the picture in mm from the corner of the outline's box."""
    if view is None:
        return (0.0, 0.0)
    left, top = view.origin_mm
    return (point.x() / view.pixels_per_mm + left, point.y() / view.pixels_per_mm + top)


def _px(view: MaskView, place: Place) -> QPointF:
    """Return a place in mm from the corner of the outline's box as a place of the picture."""
    left, top = view.origin_mm
    return QPointF((place[0] - left) * view.pixels_per_mm, (place[1] - top) * view.pixels_per_mm)
