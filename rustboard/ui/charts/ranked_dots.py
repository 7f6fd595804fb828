"""Groups ranked, the best on top: every coupon as a dot, the mean with its interval, letters beside."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter

from rustboard.ui.charts.chart import Chart, Spot
from rustboard.ui.charts.look import CENTRE, Look
from rustboard.ui.charts.plot import Scale, round_ends, tick_step, tick_text, ticks
from rustboard.ui.charts.words import range_words, say, shown

_ROW_LINES = 2.0
_NAMES_SHARE = 0.36


@dataclass(frozen=True, slots=True)
class DotRow:
    """One group.

    Attributes:
        name: of the group. ids: of its coupons, in the order of the values.
        values: of its coupons. mean, low, high: with the interval of the mean, None where there is none.
        letters: groups that share one cannot be told apart.
        is_control: whether it is the untreated control.
    """

    name: str
    ids: tuple[str, ...]
    values: tuple[float, ...]
    mean: float | None
    low: float | None
    high: float | None
    letters: str = ""
    is_control: bool = False


@dataclass(frozen=True)
class RankedDots(Chart):
    """The ranking.

    Attributes:
        rows: the best first.
        axis: what the values are. ends: of the axis, None = from the values.
        limit: a value to mark, such as the failing grade. limit_name: what it is.
    """

    rows: tuple[DotRow, ...]
    axis: str
    ends: tuple[float, float] | None = None
    limit: float | None = None
    limit_name: str = ""

    def wanted_height(self, width: float, look: Look) -> float:
        """Return room for every row and the axis."""
        return look.line_height * (_ROW_LINES * max(len(self.rows), 1) + 3.2)

    def _ends(self) -> tuple[float, float]:
        if self.ends is not None:
            return self.ends
        known = [value for row in self.rows for value in (*row.values, row.low, row.high) if value is not None]
        return round_ends(min(0.0, *known), max(known)) if known else (0.0, 1.0)

    def paint(self, painter: QPainter, rect: QRectF, look: Look) -> list[Spot]:
        """Paint the rows."""
        line, unit = look.line_height, look.unit
        names = min(
            max((look.width_of(row.name, bold=row.is_control) for row in self.rows), default=0.0) + 2 * unit,
            rect.width() * _NAMES_SHARE,
        )
        letters = max((look.width_of(row.letters) for row in self.rows), default=0.0) + 3 * unit
        low, high = self._ends()
        left, right = rect.left() + names + 3 * unit, rect.right() - letters - 3 * unit
        scale = Scale(low, high, left, max(right, left + 10))
        height = min(line * _ROW_LINES, (rect.height() - 3 * line) / max(len(self.rows), 1))
        bottom = rect.top() + height * len(self.rows)
        self._axis(painter, look, scale, rect.top(), bottom)
        spots: list[Spot] = []
        for number, row in enumerate(self.rows):
            box = QRectF(rect.left(), rect.top() + number * height, rect.width(), height)
            spots += self._row(painter, look, scale, box, row, names)
        return spots

    def _axis(self, painter: QPainter, look: Look, scale: Scale, top: float, bottom: float) -> None:
        whole = self.ends is not None and self.ends[1] - self.ends[0] <= 10
        line, unit = look.line_height, look.unit
        most = max(2, int((scale.end - scale.start) / (look.width_of("0000") + 2 * unit)))
        step = 1.0 if whole and most > 10 else tick_step(scale.low, scale.high, min(most, 10))
        for each in ticks(scale.low, scale.high, round((scale.high - scale.low) / step) or 1):
            place = scale.at(each)
            painter.setPen(look.grid_pen())
            painter.drawLine(QPointF(place, top), QPointF(place, bottom + unit))
            look.write(
                painter,
                QRectF(place - 3 * line, bottom + unit, 6 * line, line),
                tick_text(each, step),
                CENTRE,
                colour=look.scheme.muted,
            )
        title = QRectF(scale.start, bottom + line + 1.5 * unit, scale.end - scale.start, line)
        look.write(painter, title, self._axis_title(), CENTRE, colour=look.scheme.muted)
        if self.limit is not None and scale.low <= self.limit <= scale.high:
            place = scale.at(self.limit)
            painter.setPen(look.pen(look.scheme.text, 1.2, Qt.PenStyle.DashLine))
            painter.drawLine(QPointF(place, top), QPointF(place, bottom))

    def _axis_title(self) -> str:
        low, high = self._ends()
        if self.limit is None or not self.limit_name or not low <= self.limit <= high:
            return self.axis
        return say("{0} (dashed: {1} {2})").format(self.axis, self.limit_name, shown(self.limit))

    def _row(self, painter: QPainter, look: Look, scale: Scale, box: QRectF, row: DotRow, names: float) -> list[Spot]:
        middle, unit = box.center().y(), look.unit
        painter.setPen(look.grid_pen())
        painter.drawLine(QPointF(scale.start, box.bottom()), QPointF(scale.end, box.bottom()))
        look.write(painter, QRectF(box.left(), box.top(), names, box.height()), row.name, bold=row.is_control)
        at_right = QRectF(scale.end + 3 * unit, box.top(), box.right() - scale.end - 3 * unit, box.height())
        look.write(painter, at_right, row.letters, bold=True)
        ink = QColor(look.scheme.muted if row.is_control else look.scheme.accent)
        spots = self._dots(painter, look, scale, middle, row, ink)
        if row.mean is not None:
            place = QPointF(scale.at(row.mean), middle)
            if row.low is not None and row.high is not None:
                painter.setPen(look.pen(look.scheme.text, 1.6))
                low, high = scale.at(row.low), scale.at(row.high)
                painter.drawLine(QPointF(low, middle), QPointF(high, middle))
                for end in (low, high):
                    painter.drawLine(QPointF(end, middle - unit), QPointF(end, middle + unit))
            look.mark(painter, place, "diamond", unit * 1.1, QColor(look.scheme.text))
            spots.append(Spot(place, 3 * unit, self._mean_words(row)))
        return spots

    def _dots(
        self, painter: QPainter, look: Look, scale: Scale, middle: float, row: DotRow, ink: QColor
    ) -> list[Spot]:
        """Paint every coupon; equal ones stand one over another, so that none hides another."""
        unit = look.unit
        seen: Counter[float] = Counter()
        alike = Counter(round(value, 3) for value in row.values)
        spots = []
        light = QColor(ink)
        light.setAlpha(150)
        for name, value in zip(row.ids, row.values, strict=True):
            key = round(value, 3)
            room = min(2.3 * unit, 6.4 * unit / max(alike[key] - 1, 1))
            lift = (seen[key] - (alike[key] - 1) / 2) * room
            seen[key] += 1
            place = QPointF(scale.at(value), middle + lift)
            painter.setPen(look.pen(ink, 1.0))
            painter.setBrush(light)
            painter.drawEllipse(place, unit * 0.95, unit * 0.95)
            painter.setBrush(Qt.BrushStyle.NoBrush)
            spots.append(Spot(place, 2 * unit, say("{0}, {1}: {2}").format(row.name, name, shown(value))))
        return spots

    def _mean_words(self, row: DotRow) -> str:
        interval = range_words(row.low, row.high)
        if interval:
            return say("{0}: mean {1} ({2}), {3} coupons").format(
                row.name, shown(row.mean), interval, len(row.values)
            )
        return say("{0}: mean {1}, coupons: {2}").format(row.name, shown(row.mean), len(row.values))

    def lines(self) -> list[str]:
        """Return each group with its mean, interval, letters and every coupon."""
        found = [self.axis]
        for row in self.rows:
            values = ", ".join(f"{name} {shown(value)}" for name, value in zip(row.ids, row.values, strict=True))
            letters = say(" [{0}]").format(row.letters) if row.letters else ""
            found.append(f"{self._mean_words(row)}{letters}: {values}" if row.values else row.name)
        if self.limit is not None:
            found.append(f"{self.limit_name}: {shown(self.limit)}")
        return found
