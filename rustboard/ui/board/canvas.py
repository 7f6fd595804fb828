"""The board as the user touches it: taps, drags, keys. Everything it knows of the board comes from the session."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSizeF, Qt, Signal, Slot
from PySide6.QtGui import (
    QContextMenuEvent,
    QImage,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
)
from PySide6.QtWidgets import QWidget

from rustboard.board.position import Position
from rustboard.session.session import Session
from rustboard.ui.board.board_painter import BoardPainter, BoardView
from rustboard.ui.board.content import BoardContent
from rustboard.ui.board.tile_painter import TilePicture, describe
from rustboard.ui.grid.canvas import ENTER, GridCanvas
from rustboard.ui.grid.geometry import Place
from rustboard.ui.theme import Scheme


class BoardCanvas(GridCanvas):
    """The grid of tiles.

    Signals:
        tapped(object): a `Place` was tapped or Enter pressed on it.
        menu_asked(object, QPoint): right click, long press or menu key on a `Place`; global point.
        header_menu_asked(str, int, QPoint): a row or column header was clicked.
        walked(object): the keyboard walked to this `Place`.

    Attributes:
        content: what the tiles show.
    """

    tapped = Signal(object)
    menu_asked = Signal(object, object)
    header_menu_asked = Signal(str, int, object)
    walked = Signal(object)

    def __init__(self, session: Session, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Show a session's board."""
        super().__init__(session, QSizeF(700, 480), parent)
        self._painter = BoardPainter(scheme, self.font())
        self.content = BoardContent(session)
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

    def put_focus(self, place: Place) -> None:
        """Bring the keyboard to a place and the place into view."""
        if self.content.has(place):
            self._focus = place
            self._announce()
            self.focus_moved.emit(self.grid.rect(place))
            self.update()

    def coupon_of(self, place: Place | None) -> int | None:
        """Return the key of the coupon shown at a place, or None."""
        return self.content.coupon_of(place)

    def has(self, place: Place) -> bool:
        """Return whether there is such a place."""
        return self.content.has(place)

    def text_of(self, place: Place) -> str:
        """Return in words what stands at a place."""
        tile = self.content.tiles.get(place)
        label = place.position.label if place.position is not None else self.tr("off the board")
        return describe(tile, label) if tile else self.tr("{0}, empty position").format(label)

    def _headers_and_tray(self) -> tuple[float, float, int]:
        return (*self._painter.header_sizes(self.content.labels), self.content.tray)

    # ---- carrying

    @Slot()
    def pick_up(self) -> None:
        """Pick the coupon under the keyboard up; arrows carry it, Enter lets it down, Esc puts it back."""
        self._pick_up(self._focus)

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

    def _tapped(self, point: QPointF, event: QMouseEvent) -> None:
        header = self.grid.header_at(point.x(), point.y())
        if header is not None:
            self.header_menu_asked.emit(*header, event.globalPosition().toPoint())
            return
        place = self.grid.place_at(point.x(), point.y())
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
        """Walk the board, tap, choose, carry."""
        key = Qt.Key(event.key())
        if key not in ENTER or self.carry is not None:
            super().keyPressEvent(event)
        elif key == Qt.Key.Key_Space and event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            self.content.toggle(self.content.coupon_of(self._focus))
        else:
            self.tapped.emit(self._focus)

    def _step(self, down: int, right: int) -> Place | None:
        place = super()._step(down, right)
        if place is not None and self.carry is None:
            self.walked.emit(place)
        return place
