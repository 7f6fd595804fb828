"""Painting the plan's map: one tile a coupon in the ink of its treatment, and marks where a rule is broken."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import QCoreApplication, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPen, QPolygonF

from rustboard.board.position import Position, row_letters
from rustboard.support.text import printable
from rustboard.ui.grid.carry import Carry
from rustboard.ui.grid.geometry import BoardGeometry, Place
from rustboard.ui.grid.short_lines import short_line, short_lines
from rustboard.ui.plan.map_content import PlanTile
from rustboard.ui.theme import Scheme

_RADIUS = 6.0
_MOST_TITLE_LINES = 3


class MapPainter:
    """Paints the map in one scheme."""

    def __init__(self, scheme: Scheme, font: QFont, inks: Mapping[int | None, str]) -> None:
        """Remember colours; ``inks`` gives each treatment's ink."""
        self.scheme, self.font, self.inks = scheme, font, inks
        self._bold = QFont(font)
        self._bold.setBold(True)
        self._line = QFontMetricsF(font).height()

    def header_sizes(self) -> tuple[float, float]:
        """Return the width of row headers and the height of column headers."""
        return self._line * 1.7, self._line * 1.45

    def paint(
        self,
        painter: QPainter,
        exposed: QRectF,
        grid: BoardGeometry,
        tiles: Mapping[Place, PlanTile],
        focus: Place | None,
        carry: Carry | None,
    ) -> None:
        """Paint what is in ``exposed``."""
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._paint_headers(painter, grid)
        places = [Place(Position(row, column)) for row in range(grid.rows) for column in range(grid.columns)]
        for place in (*places, *(Place(tray=spot) for spot in range(grid.tray))):
            rect = grid.rect(place)
            if not exposed.intersects(rect.adjusted(-4, -14, 4, 14)):
                continue
            tile = tiles.get(place)
            if tile is None:
                self._paint_empty(painter, rect)
            else:
                painter.setOpacity(0.35 if carry is not None and carry.coupon == tile.key else 1.0)
                self._paint_tile(painter, rect, tile)
                painter.setOpacity(1.0)
            if carry is not None and carry.lands() == place:
                self._frame(painter, rect, self.scheme.accent, 3.5, Qt.PenStyle.DashLine)
        for place, tile in tiles.items():
            rect = grid.rect(place)
            if tile.dripped_by and place.position is not None and exposed.intersects(rect.adjusted(0, -14, 0, 0)):
                self._paint_drip(painter, rect)
        if focus is not None:
            self._frame(painter, grid.rect(focus).adjusted(-2, -2, 2, 2), self.scheme.text, 1.8, Qt.PenStyle.DashLine)
        self._paint_carried(painter, grid, tiles, carry)

    def _paint_headers(self, painter: QPainter, grid: BoardGeometry) -> None:
        painter.setFont(self.font)
        painter.setPen(QColor(self.scheme.muted))
        for column in range(grid.columns):
            painter.drawText(grid.header_rect("column", column), Qt.AlignmentFlag.AlignCenter, str(column + 1))
        for row in range(grid.rows):
            painter.drawText(grid.header_rect("row", row), Qt.AlignmentFlag.AlignCenter, row_letters(row))
        if grid.tray:
            text = QCoreApplication.translate("plan", "Not on the board yet")
            painter.drawText(grid.tray_header_rect(), Qt.AlignmentFlag.AlignVCenter, text)

    def _paint_empty(self, painter: QPainter, rect: QRectF) -> None:
        self._frame(painter, rect, self.scheme.line, self.scheme.line_width, Qt.PenStyle.DotLine)

    def _paint_tile(self, painter: QPainter, rect: QRectF, tile: PlanTile) -> None:
        inside = rect.adjusted(1, 1, -1, -1)
        ink = QColor(self.inks.get(tile.treatment, self.scheme.muted))
        painter.setPen(QPen(ink, 2.0 if not tile.control else 1.6, _outline_style(tile)))
        painter.setBrush(QColor(self.scheme.base))
        painter.drawRoundedRect(inside, _RADIUS, _RADIUS)
        band = QRectF(inside.left() + 3, inside.top() + 3, 7, inside.height() - 6)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(ink)
        painter.drawRoundedRect(band, 3, 3)
        self._paint_words(painter, inside.adjusted(15, 3, -5, -3), tile)

    def _paint_words(self, painter: QPainter, room: QRectF, tile: PlanTile) -> None:
        top = self._line_of(painter, room, room.top(), printable(tile.id), self._bold, self.scheme.text)
        last = self._last_line(tile)
        title = tile.treatment_title or QCoreApplication.translate("plan", "no treatment")
        short = tile.treatment_id if tile.treatment_id != title else ""
        text = printable(" ".join(filter(None, (short, title))))
        bottom = room.bottom() - (self._line if last else 0)
        lines = max(1, min(_MOST_TITLE_LINES, int((bottom - top + 2) // self._line)))
        for line in short_lines(text, QFontMetricsF(self.font), room.width(), lines):
            top = self._line_of(painter, room, top, line, self.font, self.scheme.text)
        if last:
            self._line_of(painter, room, top, *last)

    def _last_line(self, tile: PlanTile) -> tuple[str, QFont, str] | None:
        if tile.drawn is not None:
            moved = QCoreApplication.translate("plan", "drawn: {0}").format(tile.drawn.label)
            return moved, self.font, self.scheme.accent
        if tile.control:
            return QCoreApplication.translate("plan", "control"), self.font, self.scheme.muted
        return None

    def _line_of(self, painter: QPainter, room: QRectF, top: float, text: str, font: QFont, colour: str) -> float:
        """Write one line where there is room for it; return where the next one begins."""
        if top + self._line > room.bottom() + 2:
            return top
        painter.setFont(font)
        painter.setPen(QColor(colour))
        shown = short_line(text, QFontMetricsF(font), room.width())
        painter.drawText(QRectF(room.left(), top, room.width(), self._line), Qt.AlignmentFlag.AlignVCenter, shown)
        return top + self._line

    def _paint_drip(self, painter: QPainter, rect: QRectF) -> None:
        """Mark that drips come down on a coupon: a drop across its upper edge, by shape and not by colour alone."""
        size = min(11.0, rect.height() * 0.2)
        middle = QPointF(rect.right() - 16, rect.top())
        drop = QPolygonF(
            [
                middle + QPointF(0, -size),
                middle + QPointF(size * 0.75, size * 0.2),
                middle + QPointF(0, size),
                middle + QPointF(-size * 0.75, size * 0.2),
            ]
        )
        painter.setPen(QPen(QColor(self.scheme.base), 1.5))
        painter.setBrush(QColor(self.scheme.error_text))
        painter.drawPolygon(drop)
        painter.setBrush(Qt.BrushStyle.NoBrush)

    def _frame(self, painter: QPainter, rect: QRectF, colour: str, width: float, style: Qt.PenStyle) -> None:
        painter.setPen(QPen(QColor(colour), width, style))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRoundedRect(rect.adjusted(1, 1, -1, -1), _RADIUS, _RADIUS)

    def _paint_carried(
        self, painter: QPainter, grid: BoardGeometry, tiles: Mapping[Place, PlanTile], carry: Carry | None
    ) -> None:
        if carry is None or carry.hand is None:
            return
        tile = next((each for each in tiles.values() if each.key == carry.coupon), None)
        if tile is not None:
            painter.setOpacity(0.9)
            self._paint_tile(painter, QRectF(carry.hand - carry.grip, grid.tile), tile)
            painter.setOpacity(1.0)


def _outline_style(tile: PlanTile) -> Qt.PenStyle:
    return Qt.PenStyle.DashLine if tile.control else Qt.PenStyle.SolidLine
