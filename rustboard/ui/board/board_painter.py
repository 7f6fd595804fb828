"""Painting the whole board: headers with their zones, tiles from a store of ready pixmaps, marks over them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from PySide6.QtCore import QCoreApplication, QRectF, QSizeF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPen, QPixmap

from rustboard.board.model import Axis
from rustboard.board.position import Position, row_letters
from rustboard.board.zones import zones
from rustboard.support.text import printable
from rustboard.ui.board.tile_painter import TilePicture, paint_tile
from rustboard.ui.board.tile_view import TileView
from rustboard.ui.grid.carry import Carry
from rustboard.ui.grid.geometry import BoardGeometry, Place
from rustboard.ui.theme import Scheme


@dataclass(frozen=True, slots=True)
class BoardView:
    """All that is painted.

    Attributes:
        tiles: views by place. pictures: of coupons, by key. labels: of rows and columns.
        chosen: keys of chosen coupons. focus: place of the keyboard, or None while the board has no focus.
        carry: a coupon on its way, or None.
    """

    tiles: Mapping[Place, TileView]
    pictures: Mapping[int, TilePicture]
    labels: Mapping[tuple[Axis, int], str]
    chosen: frozenset[int]
    focus: Place | None
    carry: Carry | None


class BoardPainter:
    """Paints board views; keeps each tile's pixmap until what it shows changes."""

    def __init__(self, scheme: Scheme, font: QFont) -> None:
        """Start with no pixmaps."""
        self.scheme = scheme
        self.font = font
        self._ready: dict[int, tuple[object, QPixmap]] = {}

    def header_sizes(self, labels: Mapping[tuple[Axis, int], str]) -> tuple[float, float]:
        """Return the width of row headers and the height of column headers, with room for zones if there are any."""
        line = QFontMetricsF(self.font).height()
        zoned = {axis for axis, _ in labels}
        return (
            line * (1.7 + (1.35 if "row" in zoned else 0)),
            line * (1.45 + (1.35 if "column" in zoned else 0)),
        )

    def paint(self, painter: QPainter, exposed: QRectF, geometry: BoardGeometry, view: BoardView) -> None:
        """Paint what is in ``exposed``."""
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._paint_headers(painter, geometry, view)
        for row in range(geometry.rows):
            for column in range(geometry.columns):
                self._paint_place(painter, exposed, geometry, view, Place(Position(row, column)))
        for spot in range(geometry.tray):
            self._paint_place(painter, exposed, geometry, view, Place(tray=spot))
        self._paint_focus(painter, geometry, view)
        self._paint_carried(painter, geometry, view)

    def _paint_place(
        self, painter: QPainter, exposed: QRectF, geometry: BoardGeometry, view: BoardView, place: Place
    ) -> None:
        rect = geometry.rect(place)
        if not exposed.intersects(rect.adjusted(-4, -4, 4, 4)):
            return
        tile = view.tiles.get(place)
        if tile is None:
            self._paint_empty(painter, rect)
        else:
            carried = view.carry is not None and view.carry.coupon == tile.key
            painter.setOpacity(0.35 if carried else 1.0)
            ratio = painter.device().devicePixelRatioF() if painter.device() is not None else 1.0
            painter.drawPixmap(rect.topLeft(), self._pixmap(tile, view.pictures.get(tile.key), rect.size(), ratio))
            painter.setOpacity(1.0)
            if tile.key in view.chosen:
                self._outline(painter, rect, self.scheme.accent, 2.5)
        if view.carry is not None and view.carry.lands() == place:
            self._outline(painter, rect, self.scheme.accent, 3.5, Qt.PenStyle.DashLine)

    def _pixmap(self, tile: TileView, picture: TilePicture | None, size: QSizeF, ratio: float) -> QPixmap:
        drawn = (picture.image.cacheKey(), picture.age) if picture is not None else None
        shown = (tile, drawn, size.width(), size.height(), ratio)
        known = self._ready.get(tile.key)
        if known is not None and known[0] == shown:
            return known[1]
        pixmap = QPixmap(round(size.width() * ratio), round(size.height() * ratio))
        pixmap.setDevicePixelRatio(ratio)
        pixmap.fill(Qt.GlobalColor.transparent)
        painter = QPainter(pixmap)
        paint_tile(painter, QRectF(0, 0, size.width(), size.height()), tile, picture, self.scheme, self.font)
        painter.end()
        self._ready[tile.key] = (shown, pixmap)
        return pixmap

    def forget(self) -> None:
        """Paint every tile anew next time (after a change of scheme or font)."""
        self._ready.clear()

    def _paint_empty(self, painter: QPainter, rect: QRectF) -> None:
        painter.setPen(QPen(QColor(self.scheme.line), self.scheme.line_width, Qt.PenStyle.DotLine))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRoundedRect(rect.adjusted(1, 1, -1, -1), 7, 7)
        painter.setPen(QColor(self.scheme.muted))
        painter.setFont(self.font)
        painter.drawText(rect, Qt.AlignmentFlag.AlignCenter, "+")

    def _outline(
        self,
        painter: QPainter,
        rect: QRectF,
        colour: str,
        width: float,
        style: Qt.PenStyle = Qt.PenStyle.SolidLine,
    ) -> None:
        painter.setPen(QPen(QColor(colour), width, style))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRoundedRect(rect.adjusted(1, 1, -1, -1), 7, 7)

    def _paint_focus(self, painter: QPainter, geometry: BoardGeometry, view: BoardView) -> None:
        if view.focus is not None:
            rect = geometry.rect(view.focus).adjusted(-2.5, -2.5, 2.5, 2.5)
            self._outline(painter, rect, self.scheme.text, 1.6, Qt.PenStyle.DashLine)

    def _paint_carried(self, painter: QPainter, geometry: BoardGeometry, view: BoardView) -> None:
        carry = view.carry
        if carry is None or carry.hand is None:
            return
        tile = next((each for each in view.tiles.values() if each.key == carry.coupon), None)
        if tile is None:
            return
        corner = carry.hand - carry.grip
        ratio = painter.device().devicePixelRatioF() if painter.device() is not None else 1.0
        painter.setOpacity(0.9)
        painter.drawPixmap(corner, self._pixmap(tile, view.pictures.get(tile.key), geometry.tile, ratio))
        painter.setOpacity(1.0)

    def _paint_headers(self, painter: QPainter, geometry: BoardGeometry, view: BoardView) -> None:
        painter.setFont(self.font)
        line = QFontMetricsF(self.font).height()
        painter.setPen(QColor(self.scheme.muted))
        for column in range(geometry.columns):
            rect = geometry.header_rect("column", column)
            rect.setTop(rect.bottom() - line * 1.4)
            painter.drawText(rect, Qt.AlignmentFlag.AlignCenter, str(column + 1))
        for row in range(geometry.rows):
            rect = geometry.header_rect("row", row)
            rect.setLeft(rect.right() - line * 1.6)
            painter.drawText(rect, Qt.AlignmentFlag.AlignCenter, row_letters(row))
        if geometry.tray:
            text = QCoreApplication.translate("board", "Off the board")
            painter.drawText(geometry.tray_header_rect(), Qt.AlignmentFlag.AlignVCenter, text)
        self._paint_zones(painter, geometry, view, "column", line)
        self._paint_zones(painter, geometry, view, "row", line)

    def _paint_zones(
        self, painter: QPainter, geometry: BoardGeometry, view: BoardView, axis: Axis, line: float
    ) -> None:
        count = geometry.rows if axis == "row" else geometry.columns
        for first, last, label in zones([view.labels.get((axis, number), "") for number in range(count)]):
            band = geometry.header_rect(axis, first).united(geometry.header_rect(axis, last))
            if axis == "row":
                band = QRectF(band.left() + 2, band.top(), line * 1.25, band.height())
            else:
                band = QRectF(band.left(), band.top() + 1, band.width(), line * 1.25)
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(QColor(self.scheme.tile))
            painter.drawRoundedRect(band, 4, 4)
            painter.setPen(QColor(self.scheme.text))
            painter.save()
            painter.translate(band.center())
            length = band.height() if axis == "row" else band.width()
            if axis == "row":
                painter.rotate(-90)
            text = QFontMetricsF(self.font).elidedText(
                printable(label)[:200], Qt.TextElideMode.ElideRight, length - 8
            )
            painter.drawText(QRectF(-length / 2, -line, length, line * 2), Qt.AlignmentFlag.AlignCenter, text)
            painter.restore()
