"""What every picture of the board as a grid can do: fit the room, walk by keys, carry coupons, read itself aloud."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QEvent, QPointF, QRectF, QSizeF, Qt, Signal
from PySide6.QtGui import QAccessible, QAccessibleEvent, QFocusEvent, QHelpEvent, QKeyEvent, QMouseEvent
from PySide6.QtWidgets import QApplication, QStyle, QToolTip, QWidget

from rustboard.board.position import Position
from rustboard.session.session import Session
from rustboard.ui.grid.carry import Carry
from rustboard.ui.grid.geometry import BoardGeometry, Place
from rustboard.ui.wording import tool_tip

ARROWS: Final = {
    Qt.Key.Key_Left: (0, -1),
    Qt.Key.Key_Right: (0, 1),
    Qt.Key.Key_Up: (-1, 0),
    Qt.Key.Key_Down: (1, 0),
}
ENTER: Final = (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space)


class GridCanvas(QWidget):
    """A grid of coupons. It changes nothing itself. What stands where is told by whoever inherits from it.

    Signals:
        move_asked(int, object): hang the coupon with this key at this `Position`.
        off_asked(int): take the coupon with this key off the board.
        focus_moved(object): the rectangle (QRectF) to keep in view.

    Attributes:
        grid: where the places are. carry: a coupon on its way, or None.
    """

    move_asked = Signal(int, object)
    off_asked = Signal(int)
    focus_moved = Signal(object)

    grid: BoardGeometry

    def __init__(self, session: Session, space: QSizeF, parent: QWidget | None = None) -> None:
        """Start with the keyboard at the top left; whoever inherits lays out when it knows its content."""
        super().__init__(parent)
        self._session, self._space = session, space
        self._focus = Place(Position(0, 0))
        self._press: QPointF | None = None
        self.carry: Carry | None = None
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    # ---- what whoever inherits tells

    def coupon_of(self, place: Place | None) -> int | None:
        """Return the key of the coupon shown at a place, or None."""
        raise NotImplementedError

    def has(self, place: Place) -> bool:
        """Return whether there is such a place."""
        raise NotImplementedError

    def text_of(self, place: Place) -> str:
        """Return in words what stands at a place."""
        raise NotImplementedError

    def _headers_and_tray(self) -> tuple[float, float, int]:
        """Return the width of row headers, the height of column headers, and how many coupons are in the tray."""
        raise NotImplementedError

    # ---- where everything is

    def set_space(self, space: QSizeF) -> None:
        """Fit the tiles into the space there is to see."""
        self._space = space
        self._lay_out()

    def focus_place(self) -> Place:
        """Return where the keyboard is."""
        return self._focus

    def _lay_out(self) -> None:
        board = self._session.record.board
        row_header, column_header, tray = self._headers_and_tray()
        self.grid = BoardGeometry(
            board.rows,
            board.columns,
            self._space,
            row_header=row_header,
            column_header=column_header,
            tray=tray,
            scroll_bar=self.style().pixelMetric(QStyle.PixelMetric.PM_ScrollBarExtent) + 2,
        )
        self.setFixedSize(self.grid.size.toSize())

    def _announce(self) -> None:
        """Tell those who listen to the screen what is under the keyboard."""
        self.setAccessibleName(self.text_of(self._focus))
        if self.hasFocus():
            QAccessible.updateAccessibility(QAccessibleEvent(self, QAccessible.Event.NameChanged))

    def _step(self, down: int, right: int) -> Place | None:
        """Walk with the keyboard, a coupon that is carried along; return where to, or None at the edge."""
        place = self.grid.neighbour(self._focus, down, right)
        if place is None or not self.has(place):
            return None
        if self.carry is not None:
            self.carry.move(place)
        self._focus = place
        self._announce()
        self.focus_moved.emit(self.grid.rect(place))
        self.update()
        return place

    # ---- carrying

    def _pick_up(self, place: Place | None, hand: QPointF | None = None) -> None:
        key = self.coupon_of(place)
        if place is None or key is None or self._session.read_only_reason:
            return
        grip = None if hand is None else hand - self.grid.rect(place).topLeft()
        self.carry = Carry(key, place, hand, grip)
        self.update()

    def put_back(self) -> None:
        """Leave a coupon on its way where it was."""
        if self.carry is not None:
            self.update()
        self.carry, self._press = None, None

    def _let_down(self) -> None:
        carry, self.carry = self.carry, None
        self.update()
        target = carry.lands() if carry is not None else None
        if carry is None or target is None:
            return
        if target.position is not None:
            self._focus = target
            self.move_asked.emit(carry.coupon, target.position)
        elif carry.source.position is not None:
            self.off_asked.emit(carry.coupon)

    def _let_down_at(self, point: QPointF) -> None:
        """Let down where a tap says: for a coupon picked up by keys, and for touch without dragging."""
        if self.carry is not None:
            self.carry.move(self.grid.drop_at(point.x(), point.y()))
            self._let_down()

    # ---- events

    def _pressed(self, place: Place | None) -> None:
        """A tap or drag begins at a place, or at None beside them all."""

    def _tapped(self, point: QPointF, event: QMouseEvent) -> None:
        """A tap, pressed at a point, ends without a drag."""

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Remember where a tap or drag began; let a coupon picked up by keys or a tap down here."""
        if event.button() != Qt.MouseButton.LeftButton:
            return
        if self.carry is not None:
            self._let_down_at(event.position())
            return
        self._press = event.position()
        self._pressed(self.grid.place_at(self._press.x(), self._press.y()))

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """End a drag, or take it for a tap."""
        if event.button() != Qt.MouseButton.LeftButton or self._press is None:
            return
        press, self._press = self._press, None
        if self.carry is not None:
            self._let_down()
        else:
            self._tapped(press, event)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Start or go on with a drag."""
        if self._press is None:
            return
        hand = event.position()
        if self.carry is None:
            if (hand - self._press).manhattanLength() < QApplication.startDragDistance():
                return
            self._pick_up(self.grid.place_at(self._press.x(), self._press.y()), self._press)
            if self.carry is None:
                self._press = None
        if self.carry is not None:
            old = self.carry.hand
            self.carry.move(self.grid.drop_at(hand.x(), hand.y()), hand)
            self._update_around(old, hand)
            self.focus_moved.emit(QRectF(hand.x() - 24, hand.y() - 24, 48, 48))

    def _update_around(self, *hands: QPointF | None) -> None:
        # The target's mark may be anywhere under the old and new tile; both lie within a tile of the hand.
        width, height = self.grid.tile.width() + 12, self.grid.tile.height() + 12
        for hand in hands:
            if hand is not None:
                self.update(QRectF(hand.x() - width, hand.y() - height, 2 * width, 2 * height).toAlignedRect())

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Walk the grid; let a coupon on its way down, or put it back."""
        key = Qt.Key(event.key())
        if key in ARROWS:
            self._step(*ARROWS[key])
        elif key in ENTER and self.carry is not None:
            self._let_down()
        elif key == Qt.Key.Key_Escape and self.carry is not None:
            self.put_back()
        else:
            super().keyPressEvent(event)

    # ---- the keyboard's coming and going, and tool tips

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Show the keyboard's place."""
        super().focusInEvent(event)
        self._announce()
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Hide the keyboard's place."""
        super().focusOutEvent(event)
        if event.reason() in (Qt.FocusReason.TabFocusReason, Qt.FocusReason.BacktabFocusReason):
            self.put_back()
        self.update()

    def event(self, event: QEvent) -> bool:
        """Show a tile's whole text as a tool tip, because tiles cut long names short."""
        if isinstance(event, QHelpEvent) and event.type() == QEvent.Type.ToolTip:
            place = self.grid.place_at(event.pos().x(), event.pos().y())
            if place is not None and self.coupon_of(place) is not None:
                QToolTip.showText(event.globalPos(), tool_tip(self.text_of(place)), self)
            else:
                QToolTip.hideText()
            return True
        return super().event(event)
