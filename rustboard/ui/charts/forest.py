"""The forest: a difference board by board with its interval, and all of them together."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QColor, QPainter, QPolygonF

from rustboard.ui.charts.chart import Chart, Spot
from rustboard.ui.charts.look import CENTRE, RIGHT, Look
from rustboard.ui.charts.plot import Scale, round_ends, tick_step, tick_text, ticks
from rustboard.ui.charts.words import range_words, say, shown

_NAMES_SHARE = 0.34


@dataclass(frozen=True, slots=True)
class ForestRow:
    """One board, or all together.

    Attributes:
        name: of the board. difference, low, high: None where there is none.
        weight: share of the pooled difference, 0 to 1. is_pooled: whether it is all boards together.
        count: coupons on each side, in words.
    """

    name: str
    difference: float | None
    low: float | None
    high: float | None
    weight: float = 0.0
    is_pooled: bool = False
    count: str = ""


@dataclass(frozen=True)
class Forest(Chart):
    """One comparison over several boards.

    Attributes:
        rows: board by board, the pooled one last. axis: what the difference is. left, right: who is ahead there.
    """

    rows: tuple[ForestRow, ...]
    axis: str
    left: str = ""
    right: str = ""

    def wanted_height(self, width: float, look: Look) -> float:
        """Return room for every row and the axis."""
        return look.line_height * (1.8 * max(len(self.rows), 1) + 4.5)

    def paint(self, painter: QPainter, rect: QRectF, look: Look) -> list[Spot]:
        """Paint the rows."""
        line, unit = look.line_height, look.unit
        names = min(
            max((look.width_of(row.name, bold=True) for row in self.rows), default=0.0) + 2 * unit,
            rect.width() * _NAMES_SHARE,
        )
        told = max((look.width_of(self._figures(row), bold=True) for row in self.rows), default=0.0) + 3 * unit
        known = [end for row in self.rows for end in (row.low, row.high, row.difference) if end is not None]
        low, high = round_ends(min(0.0, *known), max(0.0, *known)) if known else (-1.0, 1.0)
        left = rect.left() + names + 2 * unit
        scale = Scale(low, high, left, max(rect.right() - told, left + 20))
        top, height = rect.top() + line * 1.2, line * 1.8
        bottom = top + height * len(self.rows)
        self._axis(painter, look, scale, rect.top(), top, bottom)
        spots = []
        for number, row in enumerate(self.rows):
            box = QRectF(rect.left(), top + number * height, rect.width(), height)
            look.write(painter, QRectF(box.left(), box.top(), names, height), row.name, bold=row.is_pooled)
            at_right = QRectF(scale.end + unit, box.top(), rect.right() - scale.end - unit, height)
            look.write(painter, at_right, self._figures(row), RIGHT, bold=row.is_pooled)
            spots += self._row(painter, look, scale, box.center().y(), row)
        return spots

    def _axis(self, painter: QPainter, look: Look, scale: Scale, head: float, top: float, bottom: float) -> None:
        line, unit = look.line_height, look.unit
        most = max(2, min(9, int((scale.end - scale.start) / (look.width_of("-0.00") + 3 * unit))))
        step = tick_step(scale.low, scale.high, most)
        for each in ticks(scale.low, scale.high, most):
            place = scale.at(each)
            painter.setPen(look.pen(look.scheme.text, 1.2) if each == 0 else look.grid_pen())
            painter.drawLine(QPointF(place, top), QPointF(place, bottom))
            box = QRectF(place - 3 * line, bottom + unit, 6 * line, line)
            look.write(painter, box, tick_text(each, step), CENTRE, colour=look.scheme.muted)
        zero = scale.at(0.0)
        sides = ((scale.start, zero, self.left), (zero, scale.end, self.right))
        for start, end, words in sides:
            if words and end - start > 3 * line:
                look.write(painter, QRectF(start, head, end - start, line), words, CENTRE, colour=look.scheme.muted)
        below = QRectF(scale.start - 3 * line, bottom + line + 1.5 * unit, scale.end - scale.start + 6 * line, line)
        look.write(painter, below, self.axis, CENTRE, colour=look.scheme.muted)

    def _row(self, painter: QPainter, look: Look, scale: Scale, middle: float, row: ForestRow) -> list[Spot]:
        if row.difference is None:
            return []
        unit, place = look.unit, QPointF(scale.at(row.difference), middle)
        ink = QColor(look.scheme.text if row.is_pooled else look.scheme.accent)
        if row.low is None or row.high is None:
            look.mark(painter, place, "ring", unit, ink, hollow=True)
        elif row.is_pooled:
            painter.setPen(look.pen(ink, 1.0))
            painter.setBrush(ink)
            corners = ((scale.at(row.low), middle), (place.x(), middle - 1.5 * unit), (scale.at(row.high), middle),
                       (place.x(), middle + 1.5 * unit))  # fmt: skip
            painter.drawPolygon(QPolygonF([QPointF(*each) for each in corners]))
        else:
            painter.setPen(look.pen(ink, 1.6))
            painter.drawLine(QPointF(scale.at(row.low), middle), QPointF(scale.at(row.high), middle))
            look.mark(painter, place, "square", unit * (0.6 + 1.4 * row.weight**0.5), ink)
        return [Spot(place, 3 * unit, self._words(row))]

    def _figures(self, row: ForestRow) -> str:
        if row.difference is None:
            return say("no difference to be had")
        interval = range_words(row.low, row.high)
        return f"{shown(row.difference)} ({interval})" if interval else shown(row.difference)

    def _words(self, row: ForestRow) -> str:
        told = f"{row.name}: {self._figures(row)}"
        if row.is_pooled or row.low is None:
            return told
        return say("{0}, weight {1} %").format(told, shown(100 * row.weight, 0))

    def lines(self) -> list[str]:
        """Return every board with its figures."""
        return [self.axis, *(f"{self._words(row)} {row.count}".rstrip() for row in self.rows)]
