"""The board as a map of what is left when treatment is taken away: whether place mattered shows at a glance."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QLineF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter

from rustboard.ui.charts.chart import Chart, Spot
from rustboard.ui.charts.look import CENTRE, Look
from rustboard.ui.charts.words import say, shown

# Blue and orange are told apart by all kinds of colour-blind eyes; the sign is written too.
_BETTER = QColor("#2166ac")
_WORSE = QColor("#b35806")


@dataclass(frozen=True, slots=True)
class MapCell:
    """One coupon.

    Attributes:
        row, column: where it hangs, from 0. id: written on it. treatment: what was done to it.
        residual: its value less what is expected; None where it does not count.
        is_odd: whether it is unlike its replicates. is_left_out: whether the user left it out.
    """

    row: int
    column: int
    id: str
    treatment: str
    residual: float | None
    is_odd: bool = False
    is_left_out: bool = False


@dataclass(frozen=True)
class ResidualMap(Chart):
    """The board.

    Attributes:
        rows, columns: of the grid. row_names, column_names: of its positions.
        cells: of the coupons. unit: what residuals are counted in.
    """

    row_names: tuple[str, ...]
    column_names: tuple[str, ...]
    cells: tuple[MapCell, ...]
    unit: str

    def wanted_height(self, width: float, look: Look) -> float:
        """Return room for cells of two lines."""
        return look.line_height * (2.6 * max(len(self.row_names), 1) + 2.8)

    def paint(self, painter: QPainter, rect: QRectF, look: Look) -> list[Spot]:
        """Paint the cells."""
        line, unit = look.line_height, look.unit
        heads = max((look.width_of(name) for name in self.row_names), default=0.0) + 2 * unit
        wide = min((rect.width() - heads) / max(len(self.column_names), 1), 7 * line)
        high = min((rect.height() - 2.6 * line) / max(len(self.row_names), 1), 2.6 * line)
        left, top = rect.left() + heads, rect.top() + line + unit
        for number, name in enumerate(self.column_names):
            box = QRectF(left + number * wide, rect.top(), wide, line)
            look.write(painter, box, name, CENTRE, colour=look.scheme.muted)
        for number, name in enumerate(self.row_names):
            box = QRectF(rect.left(), top + number * high, heads, high)
            look.write(painter, box, name, colour=look.scheme.muted)
        largest = max((abs(each.residual) for each in self.cells if each.residual is not None), default=0.0)
        spots = []
        for each in self.cells:
            box = QRectF(left + each.column * wide, top + each.row * high, wide, high).adjusted(1, 1, -1, -1)
            self._cell(painter, look, box, each, largest)
            spots.append(Spot(box.center(), max(box.height(), box.width()) / 2, self._words(each)))
        below = QRectF(rect.left(), top + high * len(self.row_names) + unit, rect.width(), line)
        told = say("+ better, − worse than its replicates, in {0}; ring: unlike them; crossed: left out")
        look.write(painter, below, told.format(self.unit), colour=look.scheme.muted)
        return spots

    def _cell(self, painter: QPainter, look: Look, box: QRectF, each: MapCell, largest: float) -> None:
        ground = QColor(look.scheme.base)
        if each.residual is not None and largest > 0:
            strong = QColor(_BETTER if each.residual > 0 else _WORSE)
            share = 0.75 * min(1.0, abs(each.residual) / largest)
            ground = _mixed(ground, strong, share)
        painter.fillRect(box, ground)
        painter.setPen(look.pen(look.scheme.line))
        painter.drawRect(box)
        ink = "#ffffff" if ground.lightnessF() < 0.5 else "#101418"
        inner = box.adjusted(look.unit, 0, -look.unit, 0)
        if box.height() >= 1.9 * look.line_height:
            upper = QRectF(inner.left(), box.center().y() - look.line_height, inner.width(), look.line_height)
            look.write(painter, upper, each.id, CENTRE, colour=ink)
            lower = QRectF(inner.left(), box.center().y(), inner.width(), look.line_height)
            look.write(painter, lower, self._figure(each), CENTRE, colour=ink, bold=True)
        else:
            look.write(painter, inner, self._figure(each), CENTRE, colour=ink, bold=True)
        if each.is_odd:
            painter.setPen(look.pen(ink, 2.5))
            painter.drawRoundedRect(box.adjusted(2, 2, -2, -2), 6, 6)
        if each.is_left_out:
            painter.setPen(look.pen(look.scheme.text, 1.4, Qt.PenStyle.DashLine))
            painter.drawLine(QLineF(box.topLeft(), box.bottomRight()))

    def _figure(self, each: MapCell) -> str:
        if each.residual is None:
            return "–"
        told = shown(abs(each.residual))
        if told == shown(0.0):
            return told
        return f"+{told}" if each.residual > 0 else f"−{told}"

    def _words(self, each: MapCell) -> str:
        place = f"{self.row_names[each.row]}{self.column_names[each.column]}"
        told = say("{0}, {1}, {2}: {3} {4}").format(place, each.id, each.treatment, self._figure(each), self.unit)
        if each.is_left_out:
            return say("{0}, left out").format(told)
        return say("{0}, unlike its replicates").format(told) if each.is_odd else told

    def lines(self) -> list[str]:
        """Return every coupon with its figure."""
        return [self._words(each) for each in self.cells]


def _mixed(one: QColor, other: QColor, share: float) -> QColor:
    def part(a: int, b: int) -> int:
        return round(a + (b - a) * share)

    return QColor(part(one.red(), other.red()), part(one.green(), other.green()), part(one.blue(), other.blue()))
