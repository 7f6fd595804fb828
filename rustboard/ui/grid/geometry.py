"""Where each place of the board is on the canvas. Numbers only: no painting, no events."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QRectF, QSizeF

from rustboard.board.model import Axis
from rustboard.board.position import Position

LEAST_TILE = QSizeF(78, 58)
GAP = 6.0
_WIDEST_SHAPE = 1.9
_TALLEST_SHAPE = 2.1


@dataclass(frozen=True, slots=True)
class Place:
    """One spot a coupon can be at: a position, or a numbered spot of the tray for coupons off the board."""

    position: Position | None = None
    tray: int = -1


class BoardGeometry:
    """Tile rectangles for a grid, with a tray of coupons off the board under it.

    Attributes:
        size: of the whole canvas; larger than the space given when the tiles would become too small.
        tile: size of one tile without the gaps.
    """

    def __init__(
        self,
        rows: int,
        columns: int,
        space: QSizeF,
        *,
        row_header: float,
        column_header: float,
        tray: int = 0,
        scroll_bar: float = 0.0,
    ) -> None:
        """Lay out ``rows`` x ``columns`` tiles and ``tray`` more below in the ``space`` given (px).

        Where the lines do not fit, ``scroll_bar`` px of the width are left for the bar that moves them.
        """
        self.rows, self.columns, self.tray = rows, columns, tray
        self.row_header, self.column_header = row_header, column_header
        tray_rows = -(-tray // columns) if tray else 0
        lines = rows + tray_rows
        self.tray_header = column_header if tray else 0.0
        height = (space.height() - column_header - self.tray_header - GAP) / lines - GAP
        room = space.width() - (scroll_bar if height < LEAST_TILE.height() else 0.0)
        width = (room - row_header - GAP) / columns - GAP
        width, height = max(width, LEAST_TILE.width()), max(height, LEAST_TILE.height())
        self.tile = QSizeF(min(width, height * _WIDEST_SHAPE), min(height, width * _TALLEST_SHAPE))
        self.size = QSizeF(
            row_header + GAP + columns * (self.tile.width() + GAP),
            column_header + self.tray_header + GAP + lines * (self.tile.height() + GAP),
        )

    def rect(self, place: Place) -> QRectF:
        """Return a tile's rectangle."""
        if place.position is not None:
            row, column = place.position
            extra = 0.0
        else:
            line, column = divmod(place.tray, self.columns)
            row = self.rows + line
            extra = self.tray_header
        left = self.row_header + GAP + column * (self.tile.width() + GAP)
        top = self.column_header + extra + GAP + row * (self.tile.height() + GAP)
        return QRectF(left, top, self.tile.width(), self.tile.height())

    def header_rect(self, axis: Axis, number: int) -> QRectF:
        """Return the rectangle of a row's or column's header."""
        if axis == "row":
            tile = self.rect(Place(Position(number, 0)))
            return QRectF(0, tile.top(), self.row_header, tile.height())
        tile = self.rect(Place(Position(0, number)))
        return QRectF(tile.left(), 0, tile.width(), self.column_header)

    def tray_header_rect(self) -> QRectF:
        """Return the rectangle of the tray's heading; empty when there is no tray."""
        if not self.tray:
            return QRectF()
        top = self.rect(Place(tray=0)).top() - self.tray_header
        return QRectF(self.row_header + GAP, top, self.size.width() - self.row_header, self.tray_header)

    def place_at(self, x: float, y: float) -> Place | None:
        """Return the place under a point of the canvas, or None."""
        column = int((x - self.row_header - GAP / 2) // (self.tile.width() + GAP))
        if not 0 <= column < self.columns or x < self.row_header:
            return None
        row = int((y - self.column_header - GAP / 2) // (self.tile.height() + GAP))
        if y >= self.column_header and 0 <= row < self.rows:
            return Place(Position(row, column))
        line = int((y - self.column_header - self.tray_header - GAP / 2) // (self.tile.height() + GAP)) - self.rows
        spot = line * self.columns + column
        return Place(tray=spot) if line >= 0 and 0 <= spot < self.tray else None

    def drop_at(self, x: float, y: float) -> Place | None:
        """Return where a coupon let go at a point lands: as `place_at`, and anywhere in the tray is the tray."""
        place = self.place_at(x, y)
        if place is None and self.tray and self.tray_header_rect().top() <= y < self.size.height():
            return Place(tray=0) if 0 <= x < self.size.width() else None
        return place

    def neighbour(self, place: Place, down: int, right: int) -> Place | None:
        """Return the place so many lines down and to the right, through the tray too, or None at an edge."""
        if place.position is not None:
            row, column = place.position
        else:
            line, column = divmod(place.tray, self.columns)
            row = self.rows + line
        row, column = row + down, column + right
        if row < 0 or not 0 <= column < self.columns:
            return None
        if row < self.rows:
            return Place(Position(row, column))
        spot = (row - self.rows) * self.columns + column
        return Place(tray=spot) if spot < self.tray else None

    def header_at(self, x: float, y: float) -> tuple[Axis, int] | None:
        """Return the row or column whose header is under a point, or None."""
        if x < self.row_header and y >= self.column_header:
            row = int((y - self.column_header - GAP / 2) // (self.tile.height() + GAP))
            return ("row", row) if 0 <= row < self.rows else None
        if y < self.column_header and x >= self.row_header:
            column = int((x - self.row_header - GAP / 2) // (self.tile.width() + GAP))
            return ("column", column) if 0 <= column < self.columns else None
        return None
