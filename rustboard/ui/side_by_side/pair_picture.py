"""One of the two pictures: a tap chooses it, wheel, two fingers and dragging look nearer."""

from __future__ import annotations

from PySide6.QtCore import QElapsedTimer, QEvent, QPointF, QSizeF, Qt, Signal
from PySide6.QtGui import QImage, QMouseEvent
from PySide6.QtWidgets import QApplication, QGestureEvent, QWidget

from rustboard.board.blind import Turn
from rustboard.ui.nameless_images import turned
from rustboard.ui.theme import Scheme
from rustboard.ui.zooming.view import ZoomView


class PairPicture(ZoomView):
    """A coupon's picture, turned; it says no more than on which side it is.

    Signals:
        tapped(): pressed and let go in the same place.
    """

    tapped = Signal()

    def __init__(self, scheme: Scheme, name: str, parent: QWidget | None = None) -> None:
        """Show nothing yet; ``name`` says which side it is."""
        super().__init__(scheme, parent)
        self.setAccessibleName(name)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)  # the keyboard stays with the choice
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self._start, self._last = QPointF(), QPointF()
        self._moved = False
        self._since_tap = QElapsedTimer()

    def show_picture(self, image: QImage | None, turn: Turn) -> None:
        """Show a picture turned, whole; an empty ground while there is none."""
        shown = QImage() if image is None else turned(image, turn)
        self.show_image(shown, QSizeF(100, 100) if image is None else QSizeF(shown.size()))
        self.fit()

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self.scheme = scheme
        self.fit()

    def press(self, point: QPointF, event: QMouseEvent) -> bool:
        """Begin what becomes a tap, or moves the picture."""
        self._start = self._last = point
        self._moved = False
        return True

    def drag(self, point: QPointF, event: QMouseEvent) -> None:
        """Move the picture, once the pointer has gone a little way."""
        far = (point - self._start).manhattanLength() > QApplication.startDragDistance()
        if far or self._moved:
            moved = self.to_picture(self._last) - self.to_picture(point)
            self._moved, self._last = True, point
            self._look_at(self._middle + moved)

    def release(self, point: QPointF, event: QMouseEvent) -> None:
        """Choose, if nothing was moved."""
        if not self._moved and self.rect().contains(point.toPoint()):
            self._since_tap.start()
            self.tapped.emit()

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Take the second click for none: it would choose of a pair that nobody has looked at.

        Fingers that tap one picture and then the other are told of as a double click too; that is a choice.
        """
        soon = QApplication.doubleClickInterval()
        if not self._since_tap.isValid() or self._since_tap.hasExpired(soon):
            self.mousePressEvent(event)

    def event(self, event: QEvent) -> bool:
        """Let two fingers look nearer, and choose nothing when they lift."""
        if isinstance(event, QGestureEvent):
            self._moved = True
        return super().event(event)
