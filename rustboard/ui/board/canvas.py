"""The board as the user touches it: taps, drags, keys. Everything it knows of the board comes from the session."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPointF, QRectF, QSizeF, Qt, Signal, Slot
from PySide6.QtGui import (
    QAccessible,
    QAccessibleEvent,
    QContextMenuEvent,
    QFocusEvent,
    QHelpEvent,
    QImage,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
)
from PySide6.QtWidgets import QApplication, QStyle, QToolTip, QWidget

from rustboard.board.position import Position
from rustboard.session.session import Session
from rustboard.ui.board.board_painter import BoardPainter, BoardView
from rustboard.ui.board.content import BoardContent
from rustboard.ui.board.tile_painter import TilePicture, describe
from rustboard.ui.grid.carry import Carry
from rustboard.ui.grid.geometry import BoardGeometry, Place
from rustboard.ui.theme import Scheme
from rustboard.ui.wording import tool_tip

_ARROWS = {
    Qt.Key.Key_Left: (0, -1),
    Qt.Key.Key_Right: (0, 1),
    Qt.Key.Key_Up: (-1, 0),
    Qt.Key.Key_Down: (1, 0),
}


class BoardCanvas(QWidget):
    """The grid of tiles.

    Signals:
        tapped(object): a `Place` was tapped or Enter pressed on it.
        move_asked(int, object): a coupon was dropped on a `Position`.
        off_asked(int): a coupon was dropped on the tray.
        menu_asked(object, QPoint): right click, long press or menu key on a `Place`; global point.
        header_menu_asked(str, int, QPoint): a row or column header was clicked.
        focus_moved(QRectF): the tile to keep in view.
        walked(object): the keyboard walked to this `Place`.

    Attributes:
        content: what the tiles show. grid: where they are. carry: a coupon on its way, or None.
    """

    tapped = Signal(object)
    move_asked = Signal(int, object)
    off_asked = Signal(int)
    menu_asked = Signal(object, object)
    header_menu_asked = Signal(str, int, object)
    focus_moved = Signal(object)
    walked = Signal(object)

    def __init__(self, session: Session, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Show a session's board."""
        super().__init__(parent)
        self._session = session
        self._painter = BoardPainter(scheme, self.font())
        self.content = BoardContent(session)
        self._space = QSizeF(700, 480)
        self._focus = Place(Position(0, 0))
        self.carry: Carry | None = None
        self._press: QPointF | None = None
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(False)
        self._lay_out()
        self._announce()

    # ---- what it shows

    def reload(self) -> None:
        """Read everything again from the session; a coupon on its way is put back."""
        self.put_back()
        self.content.reload()
        self._lay_out()
        if not self.content.has(self._focus):
            self._focus = Place(Position(0, 0))
        self._announce()
        self.update()

    def refresh(self, coupons: frozenset[int]) -> None:
        """Read the tiles of these coupons again; enough when only grades changed."""
        for place in self.content.refresh(coupons):
            self.update(self.grid.rect(place).toAlignedRect().adjusted(-4, -4, 4, 4))

    def set_pictures(self, pictures: dict[int, QImage], age: str = "") -> None:
        """Show these pictures on the tiles, by coupon key; other tiles show their outline.

        ``age`` says of which day they are when that is not the inspection in view.
        """
        self.content.pictures = {key: TilePicture(image, age) for key, image in pictures.items()}
        self.update()

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self._painter = BoardPainter(scheme, self.font())
        self._lay_out()
        self.update()

    def set_space(self, space: QSizeF) -> None:
        """Fit the tiles into the space there is to see."""
        self._space = space
        self._lay_out()

    def focus_place(self) -> Place:
        """Return where the keyboard is."""
        return self._focus

    def put_focus(self, place: Place) -> None:
        """Bring the keyboard to a place and the place into view."""
        if self.content.has(place):
            self._focus = place
            self._announce()
            self.focus_moved.emit(self.grid.rect(place))
            self.update()

    def _lay_out(self) -> None:
        board = self._session.record.board
        row_header, column_header = self._painter.header_sizes(self.content.labels)
        self.grid = BoardGeometry(
            board.rows,
            board.columns,
            self._space,
            row_header=row_header,
            column_header=column_header,
            tray=self.content.tray,
            scroll_bar=self.style().pixelMetric(QStyle.PixelMetric.PM_ScrollBarExtent) + 2,
        )
        self.setFixedSize(self.grid.size.toSize())

    def _announce(self) -> None:
        tile = self.content.tiles.get(self._focus)
        label = self._focus.position.label if self._focus.position is not None else self.tr("off the board")
        self.setAccessibleName(describe(tile, label) if tile else self.tr("{0}, empty position").format(label))
        if self.hasFocus():
            QAccessible.updateAccessibility(QAccessibleEvent(self, QAccessible.Event.NameChanged))

    # ---- carrying

    @Slot()
    def pick_up(self) -> None:
        """Pick the coupon under the keyboard up; arrows carry it, Enter lets it down, Esc puts it back."""
        key = self.content.coupon_of(self._focus)
        if key is not None and not self._session.read_only_reason:
            self.carry = Carry(key, self._focus)
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

    # ---- events

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint what the system asks for."""
        painter = QPainter(self)
        view = BoardView(
            self.content.tiles,
            self.content.pictures,
            self.content.labels,
            self._session.selection.coupons,
            self._focus if self.hasFocus() else None,
            self.carry,
        )
        self._painter.paint(painter, QRectF(event.rect()), self.grid, view)
        painter.end()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Remember where a tap or drag began."""
        if event.button() != Qt.MouseButton.LeftButton:
            return
        if self.carry is not None:  # picked up by the move command, let down by a tap: touch without dragging
            self.carry.move(self.grid.drop_at(event.position().x(), event.position().y()))
            self._let_down()
            return
        self._press = event.position()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Start or go on with a drag."""
        if self._press is None:
            return
        hand = event.position()
        if self.carry is None:
            if (hand - self._press).manhattanLength() < QApplication.startDragDistance():
                return
            self._begin_drag()
        if self.carry is not None:
            old = self.carry.hand
            self.carry.move(self.grid.drop_at(hand.x(), hand.y()), hand)
            self._update_around(old, hand)
            self.focus_moved.emit(QRectF(hand.x() - 24, hand.y() - 24, 48, 48))

    def _begin_drag(self) -> None:
        press = self._press or QPointF()
        place = self.grid.place_at(press.x(), press.y())
        key = self.content.coupon_of(place)
        if place is None or key is None or self._session.read_only_reason:
            self._press = None
            return
        self.carry = Carry(key, place, press, press - self.grid.rect(place).topLeft())
        self.update()

    def _update_around(self, *hands: QPointF | None) -> None:
        # The target's mark may be anywhere under the old and new tile; both lie within a tile of the hand.
        width, height = self.grid.tile.width() + 12, self.grid.tile.height() + 12
        for hand in hands:
            if hand is not None:
                self.update(QRectF(hand.x() - width, hand.y() - height, 2 * width, 2 * height).toAlignedRect())

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """End a drag, or take it for a tap."""
        if event.button() != Qt.MouseButton.LeftButton or self._press is None:
            return
        press, self._press = self._press, None
        if self.carry is not None:
            self._let_down()
            return
        header = self.grid.header_at(press.x(), press.y())
        if header is not None:
            self.header_menu_asked.emit(*header, event.globalPosition().toPoint())
            return
        place = self.grid.place_at(press.x(), press.y())
        if place is None:
            return
        self._focus = place
        self._announce()
        key = self.content.coupon_of(place)
        if key is not None and event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            self.content.toggle(key)
        else:
            self.tapped.emit(place)
        self.update()

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        """Ask for the menu of the place under the pointer or the keyboard."""
        self.put_back()
        if event.reason() == QContextMenuEvent.Reason.Keyboard:
            centre = self.grid.rect(self._focus).center().toPoint()
            self.menu_asked.emit(self._focus, self.mapToGlobal(centre))
            return
        header = self.grid.header_at(event.pos().x(), event.pos().y())
        if header is not None:
            self.header_menu_asked.emit(*header, event.globalPos())
            return
        place = self.grid.place_at(event.pos().x(), event.pos().y())
        if place is not None:
            self._focus = place
            self._announce()
            self.update()
            self.menu_asked.emit(place, event.globalPos())

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Walk the board, tap, carry."""
        key = Qt.Key(event.key())
        if key in _ARROWS:
            self._walk(*_ARROWS[key])
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space) and self.carry is not None:
            self._let_down()
        elif key == Qt.Key.Key_Space and event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            self.content.toggle(self.content.coupon_of(self._focus))
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space):
            self.tapped.emit(self._focus)
        elif key == Qt.Key.Key_Escape and self.carry is not None:
            self.put_back()
        else:
            super().keyPressEvent(event)

    def _walk(self, down: int, right: int) -> None:
        place = self.grid.neighbour(self._focus, down, right)
        if place is None:
            return
        if self.carry is not None:
            self.carry.move(place)
        self.put_focus(place)
        if self.carry is None:
            self.walked.emit(place)

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
            tile = self.content.tiles.get(place) if place is not None else None
            if tile is not None and place is not None:
                label = place.position.label if place.position is not None else self.tr("off the board")
                QToolTip.showText(event.globalPos(), tool_tip(describe(tile, label)), self)
            else:
                QToolTip.hideText()
            return True
        return super().event(event)
