"""A picture of one day, or of two that are compared: zoom and pan by wheel, fingers, drag and keys."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, QSizeF, Qt, Signal, Slot
from PySide6.QtGui import (
    QColor,
    QHideEvent,
    QImage,
    QKeyEvent,
    QMouseEvent,
    QNativeGestureEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QShowEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QApplication, QGestureEvent, QPinchGesture, QSizePolicy, QWidget

from rustboard.ui.photos.comparison import Comparison
from rustboard.ui.photos.side_painter import paint_caption, paint_divider
from rustboard.ui.photos.viewport import Viewport
from rustboard.ui.theme import Scheme, px_of_mm

ZOOM_STEP = 1.25
_PAN_PX = 48.0
_GAP = 4.0
_GRIP_MM = 3.5
_ARROWS = {
    Qt.Key.Key_Left: QPointF(1, 0),
    Qt.Key.Key_Right: QPointF(-1, 0),
    Qt.Key.Key_Up: QPointF(0, 1),
    Qt.Key.Key_Down: QPointF(0, -1),
}
_SIDEWAYS = (Qt.Key.Key_Left, Qt.Key.Key_Right)
_ZOOM_IN = (Qt.Key.Key_Plus, Qt.Key.Key_Equal)


@dataclass(frozen=True, slots=True, eq=False)
class Side:
    """One day's picture.

    Attributes:
        image: the picture, or None while it is not there. overlay: as large, painted over it.
        caption: which day it is. missing: why there is no picture.
    """

    image: QImage | None
    caption: str = ""
    overlay: QImage | None = None
    missing: str = ""


class PictureView(QWidget):
    """Shows one or two sides through one viewport, so that zoom and place are linked.

    Signals:
        tapped(QPointF): a place of the picture was tapped.
    """

    tapped = Signal(QPointF)

    def __init__(self, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Start without a picture."""
        super().__init__(parent)
        self._scheme = scheme
        self.viewport = Viewport()
        self.comparison = Comparison(self)
        self.this = Side(None)
        self.other: Side | None = None
        self._press: QPointF | None = None
        self._last: QPointF | None = None
        self._dragging = self._sliding = False
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setMouseTracking(True)
        self.grabGesture(Qt.GestureType.PinchGesture)
        self.comparison.changed.connect(self.update)

    def sizeHint(self) -> QSize:
        """Return a comfortable size."""
        return QSize(420, 420)

    def minimumSizeHint(self) -> QSize:
        """Return the least size."""
        return QSize(150, 80)

    # ---- what is shown

    def show_sides(self, this: Side, other: Side | None, size: QSizeF) -> None:
        """Show a day, and another where two are compared; ``size`` is that of the picture in its own units."""
        self.this, self.other = this, other
        self.viewport.show(size)
        self.update()

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self._scheme = scheme
        self.update()

    def panes(self) -> list[tuple[QRectF, Side]]:
        """Return where each side is seen whole: one, or two beside each other."""
        whole = QRectF(self.rect())
        if self.other is None:
            return [(whole, self.this)]
        if self.comparison.way == "side":
            width = (whole.width() - _GAP) / 2
            return [
                (QRectF(0, 0, width, whole.height()), self.other),
                (QRectF(width + _GAP, 0, width, whole.height()), self.this),
            ]
        return [(whole, self.other if self.comparison.shows_other() else self.this)]

    def pane_at(self, point: QPointF) -> QRectF:
        """Return the pane under a point of the window."""
        panes = self.panes()
        return next((pane for pane, _ in panes if pane.contains(point)), panes[-1][0])

    def place_at(self, point: QPointF) -> QPointF:
        """Return the place of the picture under a point of the window."""
        return self.viewport.at(self.pane_at(point), point)

    # ---- painting

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the sides."""
        painter = QPainter(self)
        painter.setRenderHints(QPainter.RenderHint.Antialiasing | QPainter.RenderHint.SmoothPixmapTransform)
        painter.fillRect(self.rect(), QColor(self._scheme.tile))
        for pane, side in self.panes():
            self._paint_side(painter, pane, side)
        if self.comparison.way == "slide" and self.other is not None and not self.comparison.shows_other():
            self._paint_slide(painter, self.other)
        if self.hasFocus():
            painter.setPen(QPen(QColor(self._scheme.accent), 2))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(QRectF(self.rect()).adjusted(1, 1, -1, -1))
        painter.end()

    def _paint_side(self, painter: QPainter, pane: QRectF, side: Side) -> None:
        painter.save()
        painter.setClipRect(pane, Qt.ClipOperation.IntersectClip)
        if side.image is None:
            painter.setPen(QColor(self._scheme.muted))
            flags = Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap
            painter.drawText(pane.adjusted(10, 10, -10, -10), flags, side.missing)
        else:
            painter.setTransform(self.viewport.transform(pane))
            target = QRectF(QPointF(), self.viewport.size)
            painter.drawImage(target, side.image)
            if side.overlay is not None:
                painter.drawImage(target, side.overlay)
            painter.resetTransform()
            self.paint_over(painter, pane, side)
        paint_caption(painter, pane, side.caption, self._scheme, right=False)
        painter.restore()

    def paint_over(self, painter: QPainter, pane: QRectF, side: Side) -> None:
        """Paint marks over a side, in px of the window; for whoever inherits."""

    def _paint_slide(self, painter: QPainter, other: Side) -> None:
        """Paint the other day left of the divider, over this one."""
        x, whole = self.width() * self.comparison.divider, QRectF(self.rect())
        painter.save()
        painter.setClipRect(QRectF(0, 0, x, self.height()))
        painter.fillRect(whole, QColor(self._scheme.tile))
        self._paint_side(painter, whole, other)
        painter.restore()
        paint_caption(painter, whole, self.this.caption, self._scheme, right=True)
        paint_divider(painter, x, self.height(), px_of_mm(self, _GRIP_MM), self._scheme)

    # ---- zoom and place

    @Slot()
    def zoom_in(self) -> None:
        """Zoom in on the middle."""
        self.zoom_at(None, ZOOM_STEP)

    @Slot()
    def zoom_out(self) -> None:
        """Zoom out."""
        self.zoom_at(None, 1 / ZOOM_STEP)

    @Slot()
    def fit(self) -> None:
        """See the whole picture."""
        self.viewport.fit()
        self.update()

    def zoom_at(self, point: QPointF | None, factor: float) -> None:
        """Zoom at a point of the window, by default the middle."""
        pane = self.panes()[0][0] if point is None else self.pane_at(point)
        self.viewport.zoom_at(pane, pane.center() if point is None else point, factor)
        self.update()

    def pan(self, by: QPointF) -> None:
        """Move the picture by px of the window."""
        self.viewport.pan(self.panes()[0][0], by)
        self.update()

    # ---- events

    def event(self, event: QEvent) -> bool:
        """Take two fingers on a screen, or on a touch pad, for zooming."""
        if isinstance(event, QGestureEvent):
            pinch = event.gesture(Qt.GestureType.PinchGesture)
            if isinstance(pinch, QPinchGesture):
                self._dragging, self._press = True, None
                middle = QPointF(self.mapFromGlobal(pinch.centerPoint().toPoint()))
                self.zoom_at(middle, pinch.scaleFactor())
                self.pan(pinch.centerPoint() - pinch.lastCenterPoint())
                event.accept(pinch)
                return True
        if isinstance(event, QNativeGestureEvent) and event.gestureType() == Qt.NativeGestureType.ZoomNativeGesture:
            self.zoom_at(event.position(), 1 + event.value())
            return True
        return super().event(event)

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Zoom where the pointer is."""
        turned = event.angleDelta().y() / 120
        if turned:
            self.zoom_at(event.position(), ZOOM_STEP**turned)
        event.accept()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """A tap or a drag begins: of the divider, or of the picture."""
        if event.button() not in (Qt.MouseButton.LeftButton, Qt.MouseButton.MiddleButton):
            super().mousePressEvent(event)
            return
        self._press = self._last = event.position()
        self._dragging = event.button() == Qt.MouseButton.MiddleButton
        near = abs(event.position().x() - self.width() * self.comparison.divider) <= px_of_mm(self, _GRIP_MM) + 2
        self._sliding = self.comparison.way == "slide" and self.other is not None and near and not self._dragging

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Drag the divider or the picture."""
        if self._press is None or self._last is None:
            return
        if self._sliding:
            self.comparison.move_divider(event.position().x() / max(self.width(), 1))
            return
        if not self._dragging:
            far = (event.position() - self._press).manhattanLength() >= QApplication.startDragDistance()
            self._dragging = far
        if self._dragging:
            self.pan(event.position() - self._last)
            self._last = event.position()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """End a drag, or take it for a tap."""
        press, was_tap = self._press, not (self._dragging or self._sliding)
        self._press = self._last = None
        self._dragging = self._sliding = False
        if press is not None and was_tap and event.button() == Qt.MouseButton.LeftButton:
            self.tapped.emit(self.place_at(press))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Zoom by + - 0, move the picture by Ctrl with the arrows, the divider by Shift with Left and Right."""
        key, modifiers = Qt.Key(event.key()), event.modifiers()
        if key in _ZOOM_IN:
            self.zoom_in()
        elif key == Qt.Key.Key_Minus:
            self.zoom_out()
        elif key == Qt.Key.Key_0:
            self.fit()
        elif key in _ARROWS and modifiers & Qt.KeyboardModifier.ControlModifier:
            self.pan(_ARROWS[key] * _PAN_PX)
        elif key in _SIDEWAYS and self.comparison.way == "slide" and modifiers & Qt.KeyboardModifier.ShiftModifier:
            self.comparison.step_divider(1 if key == Qt.Key.Key_Right else -1)
        else:
            super().keyPressEvent(event)

    def hideEvent(self, event: QHideEvent) -> None:
        """Do not blink for nobody."""
        super().hideEvent(event)
        self.comparison.pause()

    def showEvent(self, event: QShowEvent) -> None:
        """Go on blinking."""
        super().showEvent(event)
        self.comparison.go_on()
