"""A picture with zoom, moved by mouse, touch and keys; whoever inherits paints and drags on it."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QEvent, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFocusEvent, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen, QWheelEvent
from PySide6.QtWidgets import QGestureEvent, QPinchGesture, QWidget

from rustboard.ui.theme import Scheme
from rustboard.ui.zooming.frame import STEP, PictureFrame

_WHEEL_STEP: Final = 120


class ZoomView(PictureFrame):
    """The wheel, two fingers and + - 0 zoom; dragging beside what can be grabbed moves the picture."""

    def __init__(self, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Start without a picture."""
        super().__init__(scheme, parent)
        self._grabbed = False
        self._pan_from: QPointF | None = None
        self.grabGesture(Qt.GestureType.PinchGesture)

    # ---- what whoever inherits does

    def paint_over(self, painter: QPainter) -> None:
        """Paint over the picture, in this widget's px."""

    def press(self, point: QPointF, event: QMouseEvent) -> bool:
        """Begin a drag or tap at a point of the widget; False leaves it to moving the picture."""
        return False

    def drag(self, point: QPointF, event: QMouseEvent) -> None:
        """Go on with a drag that `press` took."""

    def release(self, point: QPointF, event: QMouseEvent) -> None:
        """End a drag that `press` took."""

    # ---- events

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the picture, then what lies over it."""
        if self._backdrop is None:
            self._backdrop = self._painted_backdrop()
        painter = QPainter(self)
        painter.drawPixmap(0, 0, self._backdrop)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self.paint_over(painter)
        if self.hasFocus():
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(QColor(self.scheme.accent), 2))
            painter.drawRect(QRectF(self.rect()).adjusted(1, 1, -1, -1))
        painter.end()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Grab something, or move the picture."""
        if event.button() == Qt.MouseButton.LeftButton and self.press(event.position(), event):
            self._grabbed = True
        elif event.button() in (Qt.MouseButton.LeftButton, Qt.MouseButton.MiddleButton):
            self._pan_from = event.position()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Drag what was grabbed."""
        if self._grabbed:
            self.drag(event.position(), event)
        elif self._pan_from is not None:
            moved = self.to_picture(self._pan_from) - self.to_picture(event.position())
            self._pan_from = event.position()
            self._look_at(self._middle + moved)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Let go."""
        if self._grabbed and event.button() == Qt.MouseButton.LeftButton:
            self._grabbed = False
            self.release(event.position(), event)
        self._pan_from = None

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Zoom about the pointer."""
        turned = event.angleDelta().y() / _WHEEL_STEP
        if turned:
            self.zoom_by(STEP**turned, event.position())
        event.accept()

    def event(self, event: QEvent) -> bool:
        """Zoom by two fingers."""
        if isinstance(event, QGestureEvent):
            pinch = event.gesture(Qt.GestureType.PinchGesture)
            if isinstance(pinch, QPinchGesture):
                self.zoom_by(pinch.scaleFactor(), QPointF(self.mapFromGlobal(pinch.centerPoint().toPoint())))
                self._pan_from = None
                return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Zoom by keys."""
        zooming = {
            Qt.Key.Key_Plus: self.zoom_in,
            Qt.Key.Key_Equal: self.zoom_in,
            Qt.Key.Key_Minus: self.zoom_out,
            Qt.Key.Key_0: self.fit,
        }.get(Qt.Key(event.key()))
        if zooming is None:
            super().keyPressEvent(event)
        else:
            zooming()

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Show that the keyboard is here."""
        super().focusInEvent(event)
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Show that the keyboard is elsewhere."""
        super().focusOutEvent(event)
        self.update()
