"""The plan's map of the board: what hangs where, to be dragged until it mirrors what was really built."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSizeF, Qt, Signal
from PySide6.QtGui import (
    QFocusEvent,
    QKeyEvent,
    QPainter,
    QPaintEvent,
)
from PySide6.QtWidgets import QWidget

from rustboard.board.position import Position
from rustboard.session.session import Session
from rustboard.ui.grid.canvas import ENTER, GridCanvas
from rustboard.ui.grid.geometry import Place
from rustboard.ui.plan.map_content import PlanTile, described, map_tiles
from rustboard.ui.plan.map_painter import MapPainter
from rustboard.ui.theme import Scheme
from rustboard.ui.treatment_colours import treatment_inks


class PlanMap(GridCanvas):
    """The map. It changes nothing itself.

    Signals:
        looked_at(str): what stands where the keyboard or the pointer is.
    """

    looked_at = Signal(str)

    def __init__(self, session: Session, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Show a session's board."""
        super().__init__(session, QSizeF(480, 360), parent)
        self.setAccessibleDescription(
            self.tr("Map of the plan. Arrows walk; Enter picks a coupon up and lets it down; Escape puts it back.")
        )
        self._scheme = scheme
        self.tiles: dict[Place, PlanTile] = {}
        self.refresh()

    def refresh(self) -> None:
        """Show the board as it is now."""
        record = self._session.record
        self.tiles = map_tiles(record)
        self._painter = MapPainter(self._scheme, self.font(), treatment_inks(record, self._scheme))
        if not self.has(self._focus):
            self._focus = Place(Position(0, 0))
        self.carry = None
        self._lay_out()
        self._announce()
        self.update()

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self._scheme = scheme
        self.refresh()

    def coupon_of(self, place: Place | None) -> int | None:
        """Return the key of the coupon shown at a place, or None."""
        tile = self.tiles.get(place) if place is not None else None
        return None if tile is None else tile.key

    def has(self, place: Place) -> bool:
        """Return whether there is such a place."""
        return place in self.tiles if place.position is None else self._session.record.board.has(place.position)

    def text_of(self, place: Place) -> str:
        """Return in words what stands at a place."""
        return described(self.tiles.get(place), place)

    def _headers_and_tray(self) -> tuple[float, float, int]:
        return (*self._painter.header_sizes(), sum(each.tray >= 0 for each in self.tiles))

    def _announce(self) -> None:
        super()._announce()
        if self.hasFocus() or self._press is not None:
            self.looked_at.emit(self.text_of(self._focus))

    # ---- events

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the map."""
        painter = QPainter(self)
        focus = self._focus if self.hasFocus() else None
        self._painter.paint(painter, QRectF(event.rect()), self.grid, self.tiles, focus, self.carry)
        painter.end()

    def _pressed(self, place: Place | None) -> None:
        if place is not None and self.has(place):
            self._focus = place
            self._announce()
            self.update()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Walk the board, carry coupons, take them off."""
        key = Qt.Key(event.key())
        if key in ENTER and self.carry is None:
            self._pick_up(self._focus)
        elif key in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace) and self._focus in self.tiles:
            if self._focus.position is not None and not self._session.read_only_reason:
                self.off_asked.emit(self.tiles[self._focus].key)
        else:
            super().keyPressEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Say no longer what is under the keyboard."""
        super().focusOutEvent(event)
        self.looked_at.emit("")
