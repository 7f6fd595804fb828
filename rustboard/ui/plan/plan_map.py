"""The plan's map of the board: what hangs where, to be dragged until it mirrors what was really built."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPointF, QSizeF, Qt, Signal
from PySide6.QtGui import (
    QAccessible,
    QAccessibleEvent,
    QFocusEvent,
    QHelpEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
)
from PySide6.QtWidgets import QApplication, QStyle, QToolTip, QWidget

from rustboard.board.position import Position
from rustboard.session.session import Session
from rustboard.ui.grid.carry import Carry
from rustboard.ui.grid.geometry import BoardGeometry, Place
from rustboard.ui.plan.map_content import PlanTile, described, map_tiles
from rustboard.ui.plan.map_painter import MapPainter
from rustboard.ui.theme import Scheme
from rustboard.ui.treatment_colours import treatment_inks
from rustboard.ui.wording import tool_tip

_ARROWS = {
    Qt.Key.Key_Up: (-1, 0),
    Qt.Key.Key_Down: (1, 0),
    Qt.Key.Key_Left: (0, -1),
    Qt.Key.Key_Right: (0, 1),
}
_ENTER = (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space)


class PlanMap(QWidget):
    """The map. It changes nothing itself.

    Signals:
        move_asked(int, object): hang the coupon with this key at this `Position`.
        off_asked(int): take the coupon with this key off the board.
        looked_at(str): what stands where the keyboard or the pointer is.
        focus_moved(object): the rectangle (QRectF) to bring into view.
    """

    move_asked = Signal(int, object)
    off_asked = Signal(int)
    looked_at = Signal(str)
    focus_moved = Signal(object)

    def __init__(self, session: Session, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Show a session's board."""
        super().__init__(parent)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleDescription(
            self.tr("Map of the plan. Arrows walk; Enter picks a coupon up and lets it down; Escape puts it back.")
        )
        self._session, self._scheme = session, scheme
        self._space = QSizeF(480, 360)
        self._focus = Place(Position(0, 0))
        self._press: QPointF | None = None
        self.carry: Carry | None = None
        self.tiles: dict[Place, PlanTile] = {}
        self.refresh()

    def refresh(self) -> None:
        """Show the board as it is now."""
        record = self._session.record
        self.tiles = map_tiles(record)
        self._painter = MapPainter(self._scheme, self.font(), treatment_inks(record, self._scheme))
        if not self._has(self._focus):
            self._focus = Place(Position(0, 0))
        self.carry = None
        self._lay_out()
        self._announce()
        self.update()

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self._scheme = scheme
        self.refresh()

    def set_space(self, space: QSizeF) -> None:
        """Fit the map into the space there is to see."""
        self._space = space
        self._lay_out()

    def focus_place(self) -> Place:
        """Return where the keyboard is."""
        return self._focus

    def _lay_out(self) -> None:
        board = self._session.record.board
        row_header, column_header = self._painter.header_sizes()
        self.grid = BoardGeometry(
            board.rows,
            board.columns,
            self._space,
            row_header=row_header,
            column_header=column_header,
            tray=sum(each.tray >= 0 for each in self.tiles),
            scroll_bar=self.style().pixelMetric(QStyle.PixelMetric.PM_ScrollBarExtent) + 2,
        )
        self.setFixedSize(self.grid.size.toSize())

    def _has(self, place: Place) -> bool:
        return place in self.tiles if place.position is None else self._session.record.board.has(place.position)

    def _announce(self) -> None:
        text = described(self.tiles.get(self._focus), self._focus)
        self.setAccessibleName(text)
        self.looked_at.emit(text)
        if self.hasFocus():
            QAccessible.updateAccessibility(QAccessibleEvent(self, QAccessible.Event.NameChanged))

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

    def put_back(self) -> None:
        """Leave a coupon on its way where it was."""
        if self.carry is not None:
            self.update()
        self.carry, self._press = None, None

    def _pick_up(self, place: Place, hand: QPointF | None = None) -> None:
        tile = self.tiles.get(place)
        if tile is None or self._session.read_only_reason:
            return
        grip = None if hand is None else hand - self.grid.rect(place).topLeft()
        self.carry = Carry(tile.key, place, hand, grip)
        self.update()

    # ---- events

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the map."""
        painter = QPainter(self)
        focus = self._focus if self.hasFocus() else None
        self._painter.paint(painter, self.grid, self.tiles, focus, self.carry)
        painter.end()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Remember where a tap or drag began; with a coupon picked up by keys or tap, let it down here."""
        if event.button() != Qt.MouseButton.LeftButton:
            return
        if self.carry is not None:
            self.carry.move(self.grid.drop_at(event.position().x(), event.position().y()))
            self._let_down()
            return
        self._press = event.position()
        place = self.grid.place_at(self._press.x(), self._press.y())
        if place is not None and self._has(place):
            self._focus = place
            self._announce()
            self.update()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Start or go on with a drag."""
        if self._press is None:
            return
        hand = event.position()
        if self.carry is None:
            if (hand - self._press).manhattanLength() < QApplication.startDragDistance():
                return
            place = self.grid.place_at(self._press.x(), self._press.y())
            if place is not None:
                self._pick_up(place, self._press)
        if self.carry is not None:
            self.carry.move(self.grid.drop_at(hand.x(), hand.y()), hand)
            self.update()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """End a drag."""
        if event.button() != Qt.MouseButton.LeftButton or self._press is None:
            return
        self._press = None
        if self.carry is not None:
            self._let_down()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Walk the board, carry coupons."""
        key = Qt.Key(event.key())
        if key in _ARROWS:
            place = self.grid.neighbour(self._focus, *_ARROWS[key])
            if place is not None and self._has(place):
                self._focus = place
                if self.carry is not None:
                    self.carry.move(place)
                self.focus_moved.emit(self.grid.rect(place))
                self._announce()
                self.update()
        elif key in _ENTER and self.carry is not None:
            self._let_down()
        elif key in _ENTER:
            self._pick_up(self._focus)
        elif key in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace) and self._focus in self.tiles:
            if self._focus.position is not None and not self._session.read_only_reason:
                self.off_asked.emit(self.tiles[self._focus].key)
        elif key == Qt.Key.Key_Escape and self.carry is not None:
            self.put_back()
        else:
            super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Show the keyboard's place."""
        super().focusInEvent(event)
        self._announce()
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Hide the keyboard's place."""
        super().focusOutEvent(event)
        self.looked_at.emit("")
        if event.reason() in (Qt.FocusReason.TabFocusReason, Qt.FocusReason.BacktabFocusReason):
            self.put_back()
        self.update()

    def event(self, event: QEvent) -> bool:
        """Show a tile's whole text as a tool tip, because tiles cut long names short."""
        if isinstance(event, QHelpEvent) and event.type() == QEvent.Type.ToolTip:
            place = self.grid.place_at(event.pos().x(), event.pos().y())
            if place is not None and self._has(place):
                QToolTip.showText(event.globalPos(), tool_tip(described(self.tiles.get(place), place)), self)
            else:
                QToolTip.hideText()
            return True
        return super().event(event)
