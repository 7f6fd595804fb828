"""A small picture of where a plan hangs its coupons."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QEvent, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QHelpEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QToolTip, QWidget

from rustboard.board.cells import identity
from rustboard.board.model import Plan, PlannedCoupon
from rustboard.board.position import Position, row_letters
from rustboard.ui.theme import Scheme
from rustboard.ui.wording import tool_tip

_LARGEST_CELL: Final = 44.0
_HEADER_LETTERS: Final = 3
_LEAST_FOR_TEXT: Final = 24.0
_BAND: Final = 0.22


class PlanSketch(QWidget):
    """The grid of a plan: a filled square is a coupon, with its id where there is room; controls have a thick frame.

    The band under the id stands for the treatment: a second cue, its name is in the tool tip.
    """

    def __init__(self, plan: Plan, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Draw a plan in the colours of a scheme."""
        super().__init__(parent)
        self._plan, self._scheme = plan, scheme
        self._at = {each.position: each for each in plan.coupons}
        self._names = {identity(each.id): each.title for each in plan.treatments}
        self._inks = {
            identity(each.id): scheme.series[number % len(scheme.series)]
            for number, each in enumerate(plan.treatments)
        }
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setAccessibleName(self.tr("Where the coupons hang"))

    def sizeHint(self) -> QSize:
        """Return a size in which ids can be read."""
        board = self._plan.board
        across, down = self._headers()
        wanted = QSize(round(across + board.columns * _LARGEST_CELL), round(down + board.rows * _LARGEST_CELL))
        return wanted.boundedTo(QSize(420, 300))

    def minimumSizeHint(self) -> QSize:
        """Return a size in which the squares can still be told apart."""
        return QSize(120, 70)

    def rect_of(self, position: Position) -> QRectF:
        """Return where a position is drawn."""
        across, down = self._headers()
        cell = self._cell()
        return QRectF(across + position.column * cell, down + position.row * cell, cell, cell)

    def position_at(self, x: float, y: float) -> Position | None:
        """Return the position drawn at a point, or None."""
        across, down = self._headers()
        position = Position(int((y - down) // self._cell()), int((x - across) // self._cell()))
        return position if self._plan.board.has(position) else None

    def words_at(self, position: Position) -> str:
        """Return what hangs at a position, in words."""
        coupon = self._at.get(position)
        if coupon is None:
            return self.tr("{0}: empty").format(position.label)
        treatment = self._names.get(identity(coupon.treatment), "") or self.tr("no treatment")
        kept = self.tr("{0}: {1}, {2}, control") if coupon.role == "control" else self.tr("{0}: {1}, {2}")
        return kept.format(position.label, coupon.id, treatment)

    def event(self, event: QEvent) -> bool:
        """Say what hangs under the pointer."""
        if event.type() == QEvent.Type.ToolTip and isinstance(event, QHelpEvent):
            position = self.position_at(event.pos().x(), event.pos().y())
            QToolTip.showText(event.globalPos(), "" if position is None else tool_tip(self.words_at(position)), self)
            return True
        return super().event(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the grid with its row letters and column numbers."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._paint_headers(painter)
        for row in range(self._plan.board.rows):
            for column in range(self._plan.board.columns):
                self._paint_cell(painter, Position(row, column))
        painter.end()

    def _headers(self) -> tuple[float, float]:
        metrics = self.fontMetrics()
        return float(metrics.averageCharWidth() * _HEADER_LETTERS), float(metrics.height())

    def _cell(self) -> float:
        across, down = self._headers()
        board = self._plan.board
        fitting = min((self.width() - across - 1) / board.columns, (self.height() - down - 1) / board.rows)
        return max(2.0, min(_LARGEST_CELL, fitting))

    def _paint_headers(self, painter: QPainter) -> None:
        across, down = self._headers()
        cell = self._cell()
        painter.setPen(QColor(self._scheme.muted))
        step_down, step_across = max(1, round(down / cell)), max(1, round(across / cell))
        for row in range(0, self._plan.board.rows, step_down):
            place = QRectF(0, down + row * cell, across - 4, max(cell, down))
            painter.drawText(place, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter, row_letters(row))
        for column in range(0, self._plan.board.columns, step_across):
            place = QRectF(across + column * cell, 0, max(cell, across), down)
            painter.drawText(place, Qt.AlignmentFlag.AlignCenter, str(column + 1))

    def _paint_cell(self, painter: QPainter, position: Position) -> None:
        coupon = self._at.get(position)
        place = self.rect_of(position)
        gap = min(2.0, place.width() * 0.1)
        place = place.adjusted(gap, gap, -gap, -gap)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        if coupon is None:
            painter.setPen(QPen(QColor(self._scheme.line), 1.0, Qt.PenStyle.DotLine))
            painter.drawRect(place)
        else:
            self._paint_coupon(painter, coupon, place)

    def _paint_coupon(self, painter: QPainter, coupon: PlannedCoupon, place: QRectF) -> None:
        painter.fillRect(place, QColor(self._scheme.tile))
        band = QRectF(place.left(), place.bottom() - place.height() * _BAND, place.width(), place.height() * _BAND)
        painter.fillRect(band, QColor(self._inks.get(identity(coupon.treatment), self._scheme.muted)))
        thick = 2.5 if coupon.role == "control" else 1.0
        painter.setPen(QPen(QColor(self._scheme.text), thick))
        painter.drawRect(place)
        if place.width() >= _LEAST_FOR_TEXT:
            inside = place.adjusted(2, 1, -2, -place.height() * _BAND)
            shown = self.fontMetrics().elidedText(coupon.id, Qt.TextElideMode.ElideRight, int(inside.width()))
            painter.drawText(inside, Qt.AlignmentFlag.AlignCenter, shown)
