"""A photo on which the board's four corners are tapped, with everything that follows from them drawn over it."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPainterPath
from PySide6.QtWidgets import QWidget

from rustboard.board.model import Outline
from rustboard.ui.placing.overlay import Overlay
from rustboard.ui.theme import Scheme
from rustboard.ui.zooming.ink import GRAB_PX, closed_path, handle, stroke, tag
from rustboard.ui.zooming.magnifier import paint_magnifier
from rustboard.ui.zooming.view import ZoomView

CORNERS: Final = 4
_NUDGE_PX: Final = 1.0
_FAR_NUDGE_PX: Final = 10.0
_INSET: Final = 0.15
_ARROWS: Final = {
    Qt.Key.Key_Left: (-1, 0),
    Qt.Key.Key_Right: (1, 0),
    Qt.Key.Key_Up: (0, -1),
    Qt.Key.Key_Down: (0, 1),
}
_CORNER_INK: Final = "#ffd23f"
_COUPON_INK: Final = "#7fe3ff"
_GRID_INK: Final = "#ffffff"


class CornersView(ZoomView):
    """Takes four taps, lets them be dragged, nudged by arrows, and shows the overlay.

    Signals:
        corners_changed(): a corner was put or moved.

    Attributes:
        overlay: what to draw for the corners as they are.
        editable: whether corners may be put and moved.
    """

    corners_changed = Signal()

    def __init__(self, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Start without corners."""
        super().__init__(scheme, parent)
        self._corners: list[QPointF] = []
        self._chosen = -1
        self._hold = QPointF()
        self._magnified = False
        self.overlay = Overlay()
        self.editable = True

    # ---- the corners

    def corners(self) -> Outline:
        """Return the corners put so far, in the photo's pixels."""
        return tuple((each.x(), each.y()) for each in self._corners)

    def chosen(self) -> int:
        """Return which corner the keyboard is on, or -1."""
        return self._chosen

    def set_corners(self, corners: Outline) -> None:
        """Show other corners."""
        self._corners = [QPointF(x, y) for x, y in corners[:CORNERS]]
        self._chosen = 0 if len(self._corners) == CORNERS else len(self._corners) - 1
        self._magnified = False
        self._tell()

    def names(self) -> tuple[str, ...]:
        """Return what the corners are called."""
        return (self.tr("top left"), self.tr("top right"), self.tr("bottom right"), self.tr("bottom left"))

    def _tell(self) -> None:
        self.corners_changed.emit()
        self.update()

    # ---- mouse and touch

    def press(self, point: QPointF, event: QMouseEvent) -> bool:
        """Take hold of a corner, or put the next one."""
        if not self.editable or not self.has_image():
            return False
        near = self._near(point)
        if near >= 0:
            self._chosen = near
            corner = self._corners[near]
            self._hold = self.to_widget(corner.x(), corner.y()) - point
        elif len(self._corners) < CORNERS:
            place = self.to_picture(point)
            if not QRectF(QPointF(0, 0), self.extent()).adjusted(*self._beyond()).contains(place):
                return False
            self._corners.append(place)
            self._chosen, self._hold = len(self._corners) - 1, QPointF(0, 0)
        else:
            return False
        self._magnified = True
        self._tell()
        return True

    def drag(self, point: QPointF, event: QMouseEvent) -> None:
        """Move the corner that is held."""
        if self._chosen >= 0:
            self._corners[self._chosen] = self._bounded(self.to_picture(point + self._hold))
            self._tell()

    def release(self, point: QPointF, event: QMouseEvent) -> None:
        """Leave the corner where it is."""
        self._magnified = False
        self._tell()

    def _near(self, point: QPointF) -> int:
        places = [self.to_widget(each.x(), each.y()) - point for each in self._corners]
        apart = [QPointF.dotProduct(each, each) ** 0.5 for each in places]
        nearest = min(range(len(apart)), key=apart.__getitem__, default=-1)
        return nearest if nearest >= 0 and apart[nearest] <= GRAB_PX else -1

    def _beyond(self) -> tuple[float, float, float, float]:
        """Return how far corners may lie outside the photo: a board is sometimes cut off a little."""
        wide, high = self.extent().width() / 4, self.extent().height() / 4
        return -wide, -high, wide, high

    def _bounded(self, place: QPointF) -> QPointF:
        room = QRectF(QPointF(0, 0), self.extent()).adjusted(*self._beyond())
        return QPointF(min(max(place.x(), room.left()), room.right()), min(max(place.y(), room.top()), room.bottom()))

    # ---- keys

    def focusNextPrevChild(self, forward: bool) -> bool:
        """Walk from corner to corner by Tab, then out."""
        after = self._chosen + (1 if forward else -1)
        if self.editable and self._corners and 0 <= after < len(self._corners):
            self._choose(after)
            return True
        return super().focusNextPrevChild(forward)

    def _choose(self, number: int) -> None:
        self._chosen = number
        self._magnified = True
        corner = self._corners[number]
        self.see(corner.x(), corner.y())
        self._tell()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Nudge the chosen corner; 1 to 4 choose one; Enter puts four to begin with; Backspace takes the last."""
        key = Qt.Key(event.key())
        number = event.key() - Qt.Key.Key_1
        if not self.editable or not self.has_image():
            super().keyPressEvent(event)
        elif key in _ARROWS and self._chosen >= 0:
            far = event.modifiers() & Qt.KeyboardModifier.ShiftModifier
            self._nudge(*_ARROWS[key], _FAR_NUDGE_PX if far else _NUDGE_PX)
        elif 0 <= number < len(self._corners):
            self._choose(number)
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and len(self._corners) < CORNERS:
            self._put_all()
        elif key == Qt.Key.Key_Backspace and self._corners:
            self._corners.pop()
            self._chosen = len(self._corners) - 1
            self._tell()
        else:
            super().keyPressEvent(event)

    def _nudge(self, right: int, down: int, by: float) -> None:
        for _ in range(self.turned()):  # as seen, not as the photo lies
            right, down = down, -right
        corner = self._corners[self._chosen]
        self._corners[self._chosen] = self._bounded(corner + QPointF(right * by, down * by))
        self._magnified = True
        moved = self._corners[self._chosen]
        self.see(moved.x(), moved.y())
        self._tell()

    def _put_all(self) -> None:
        """Put what is missing as four corners to move from: for whoever has only keys."""
        wide, high = self.extent().width(), self.extent().height()
        left, top, right, bottom = wide * _INSET, high * _INSET, wide * (1 - _INSET), high * (1 - _INSET)
        usual = ((left, top), (right, top), (right, bottom), (left, bottom))
        # As the board is seen: turned about, its top left corner lies elsewhere in the photo.
        first = -self.turned() % CORNERS
        turned = usual[first:] + usual[:first]
        self._corners += [QPointF(*each) for each in turned[len(self._corners) :]]
        self._choose(0)

    # ---- painting

    def paint_over(self, painter: QPainter) -> None:
        """Paint grid, outlines, corners and the magnifier."""
        for line in self.overlay.grid:
            painter.setOpacity(0.55)
            stroke(painter, self._path(line, closed=False), _GRID_INK, 1.0)
            painter.setOpacity(1.0)
        for outline in self.overlay.coupons:
            stroke(painter, self._path(outline), _COUPON_INK, 1.8)
        if self.overlay.edge:
            stroke(painter, self._path(self.overlay.edge), _CORNER_INK, 2.0)
        elif len(self._corners) > 1:
            stroke(painter, self._path(self.corners(), closed=False), _CORNER_INK, 1.5, Qt.PenStyle.DashLine)
        self._paint_corners(painter)
        if self._magnified and self.hasFocus() and self._chosen >= 0:
            paint_magnifier(painter, self, self._corners[self._chosen])

    def _paint_corners(self, painter: QPainter) -> None:
        names, area = self.names(), QRectF(self.rect())
        for number, corner in enumerate(self._corners):
            at = self.to_widget(corner.x(), corner.y())
            chosen = number == self._chosen and self.editable
            handle(painter, at, _CORNER_INK, chosen=chosen)
            tag(painter, at, f"{number + 1} {names[number]}", area)

    def _path(self, points: Outline, *, closed: bool = True) -> QPainterPath:
        places = [self.to_widget(x, y) for x, y in points]
        if closed:
            return closed_path(places)
        path = QPainterPath(places[0])
        for each in places[1:]:
            path.lineTo(each)
        return path
