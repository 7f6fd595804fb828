"""A plotting view that tells what the user does with mouse, touch and keys, and shows where the keyboard is.

The mouse is read here and not by the plotting library's scene, which drops moves that follow each other quickly and
decides by itself what is a drag. A touch screen's taps and drags arrive as those of a mouse.
"""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QEvent, QPointF, QRect, QRectF, Qt, Signal
from PySide6.QtGui import QColor, QEnterEvent, QFocusEvent, QKeyEvent, QMouseEvent, QPainter, QPen, QWheelEvent
from PySide6.QtWidgets import QApplication, QWidget

from rustboard.ui.timeline.plot_parts import PlotView

WHEEL_NOTCH: Final = 120
"""What a wheel reports for one notch (Qt's documentation of QWheelEvent)."""

TILT_PART: Final = 0.1
"""Part of the days in view that one notch of a tilting wheel moves."""

ZOOM_KEYS: Final = {Qt.Key.Key_Plus: 1, Qt.Key.Key_Equal: 1, Qt.Key.Key_Minus: -1}
STEP_KEYS: Final = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1}
WHOLE_KEYS: Final = (Qt.Key.Key_0, Qt.Key.Key_Home)


class GestureView(PlotView):
    """Turns events into what they mean.

    Signals:
        tapped(QPointF): a click without a drag, px of the view.
        pointed(): the pointer moved without a button, or is gone.
        drag_begun(): a drag begins.
        dragged(float): px to the right since the drag began.
        tilted(float): the wheel asks to move by this part of the days in view.
        turned(float, float): the wheel asks to zoom in by so many steps around px from the left.
        zoom_asked(int): a key asks to zoom in (1) or out (-1).
        whole_asked(): a double click or a key asks for all days.
        stepped(int): an arrow key asks for the inspection before (-1) or after (1).

    Attributes:
        pointer: where the pointer is, px of the view, or None.
        focus_ink: of the frame that shows where the keyboard is.
    """

    tapped = Signal(QPointF)
    pointed = Signal()
    drag_begun = Signal()
    dragged = Signal(float)
    tilted = Signal(float)
    turned = Signal(float, float)
    zoom_asked = Signal(int)
    whole_asked = Signal()
    stepped = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        """Build a view that takes the keyboard."""
        super().__init__(parent)
        self.focus_ink = QColor()
        self.pointer: QPointF | None = None
        self._pressed: QPointF | None = None
        self._dragging = False
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def drawForeground(self, painter: QPainter, rect: QRectF | QRect) -> None:
        """Draw the frame that shows where the keyboard is; Qt calls this."""
        if self.hasFocus():
            painter.setPen(QPen(self.focus_ink, 2))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(QRectF(self.viewport().rect()).adjusted(1, 1, -1, -1))

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Begin a click or a drag; Qt calls this."""
        if event.button() == Qt.MouseButton.LeftButton:
            self._pressed = event.position()
        event.accept()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Drag, else point; Qt calls this."""
        event.accept()
        if self._pressed is None:
            self.pointer = event.position()
            self.pointed.emit()
            return
        moved = event.position() - self._pressed
        if not self._dragging:
            if moved.manhattanLength() < QApplication.startDragDistance():
                return
            self._dragging = True
            self.viewport().setCursor(Qt.CursorShape.ClosedHandCursor)
            self.drag_begun.emit()
        self.dragged.emit(moved.x())

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """End a drag, or take it as a click; Qt calls this."""
        event.accept()
        if event.button() != Qt.MouseButton.LeftButton or self._pressed is None:
            return
        was_click = not self._dragging
        self._pressed, self._dragging = None, False
        self.viewport().unsetCursor()
        if was_click:
            self.tapped.emit(event.position())

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Ask for all days; Qt calls this."""
        event.accept()
        if event.button() == Qt.MouseButton.LeftButton:
            self.whole_asked.emit()

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Ask to zoom around the pointer, or to move when the wheel tilts; Qt calls this."""
        event.accept()
        turned = event.angleDelta()
        if abs(turned.x()) > abs(turned.y()):
            self.tilted.emit(-turned.x() / WHEEL_NOTCH * TILT_PART)
        else:
            self.turned.emit(turned.y() / WHEEL_NOTCH, event.position().x())

    def enterEvent(self, event: QEnterEvent) -> None:
        """Take no notice; Qt calls this."""

    def leaveEvent(self, event: QEvent) -> None:
        """Point at nothing; Qt calls this."""
        self.pointer = None
        self.pointed.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Go along the inspections, zoom, or show all days; Qt calls this."""
        key = event.key()
        event.accept()
        if key in STEP_KEYS:
            self.stepped.emit(STEP_KEYS[Qt.Key(key)])
        elif key in ZOOM_KEYS:
            self.zoom_asked.emit(ZOOM_KEYS[Qt.Key(key)])
        elif key in WHOLE_KEYS:
            self.whole_asked.emit()
        else:
            event.ignore()

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Show the focus; Qt calls this."""
        super().focusInEvent(event)
        self.viewport().update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Stop showing the focus; Qt calls this."""
        super().focusOutEvent(event)
        self.viewport().update()
