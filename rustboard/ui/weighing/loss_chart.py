"""The loss of a coupon against the number of cleanings, with the lines before and after the break."""

from __future__ import annotations

import math
from typing import Final, NamedTuple

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from rustboard.scales.cleaning import Cleaning, Line
from rustboard.ui.theme import Scheme
from rustboard.ui.wording import number

_POINT_PX: Final = 4.5
_STEPS: Final = (1.0, 2.0, 5.0, 10.0)


class _Axes(NamedTuple):
    """Where the plot is and what it spans: cleanings 0 to ``cycles``, losses ``low`` to ``high`` in g."""

    area: QRectF
    cycles: int
    low: float
    high: float

    def at(self, cycle: float, loss: float) -> QPointF:
        x = self.area.left() + self.area.width() * cycle / self.cycles
        return QPointF(x, self.area.bottom() - self.area.height() * (loss - self.low) / (self.high - self.low))


class LossChart(QWidget):
    """Filled points are the losses that count, hollow ones those before the blank's were taken off."""

    def __init__(self, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Start empty."""
        super().__init__(parent)
        self._scheme = scheme
        self._cleaning: Cleaning | None = None
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:
        """Return a size in which the lines are told apart."""
        return QSize(300, self.fontMetrics().height() * 12)

    def minimumSizeHint(self) -> QSize:
        """Return the least size of use."""
        return QSize(180, self.fontMetrics().height() * 12)

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self._scheme = scheme
        self.update()

    def show_cleaning(self, cleaning: Cleaning | None) -> None:
        """Show other losses, or none."""
        self._cleaning = cleaning
        if cleaning is not None:
            losses = ", ".join(number(each, 4) for each in cleaning.losses_g)
            self.setAccessibleName(self.tr("Loss after each cleaning, g: {0}").format(losses))
        self.setVisible(cleaning is not None and len(cleaning.losses_g) > 1)
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint axes, lines and points."""
        if self._cleaning is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        axes, marks = self._axes(self._cleaning)
        self._paint_frame(painter, axes, marks)
        painter.save()
        painter.setClipRect(axes.area.adjusted(-6, -6, 6, 6))
        self._paint_lines(painter, axes, self._cleaning)
        self._paint_points(painter, axes, self._cleaning)
        painter.restore()
        painter.end()

    def _axes(self, cleaning: Cleaning) -> tuple[_Axes, list[float]]:
        values = [*cleaning.losses_g, *cleaning.raw_g, 0.0]
        if cleaning.at_zero_g is not None:
            values.append(cleaning.at_zero_g)
        step = _step((max(values) - min(values)) or 1.0)
        low, high = (math.floor(min(values) / step) * step, math.ceil(max(values) / step + 0.2) * step)
        marks = [low + step * count for count in range(round((high - low) / step) + 1)]
        metrics = QFontMetricsF(self.font())
        left = max(metrics.horizontalAdvance(number(each, 6)) for each in marks) + 12
        line = metrics.height()
        area = QRectF(left, line * 1.6, self.width() - left - 12, self.height() - line * 4.2)
        return _Axes(area, len(cleaning.losses_g), low, high), marks

    def _paint_frame(self, painter: QPainter, axes: _Axes, marks: list[float]) -> None:
        area, line = axes.area, QFontMetricsF(self.font()).height()
        right = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
        for each in marks:
            y = axes.at(0, each).y()
            painter.setPen(QPen(QColor(self._scheme.line), 1))
            painter.drawLine(QPointF(area.left(), y), QPointF(area.right(), y))
            painter.setPen(QColor(self._scheme.muted))
            painter.drawText(QRectF(0, y - line / 2, area.left() - 6, line), right, number(each, 6))
        every = max(1, math.ceil(axes.cycles * line * 2 / max(1.0, area.width())))
        for cycle in range(0, axes.cycles + 1, every):
            at = QRectF(axes.at(cycle, axes.low).x() - line * 2, area.bottom() + 3, line * 4, line)
            painter.drawText(at, Qt.AlignmentFlag.AlignHCenter, str(cycle))
        painter.setPen(QColor(self._scheme.text))
        painter.drawText(QRectF(4, 0, self.width() - 8, line * 1.3), Qt.AlignmentFlag.AlignLeft, self.tr("Loss, g"))
        foot = QRectF(0, self.height() - line * 1.4, self.width() - 12, line * 1.3)
        painter.drawText(foot, Qt.AlignmentFlag.AlignRight, self.tr("Number of cleanings"))

    def _paint_lines(self, painter: QPainter, axes: _Axes, cleaning: Cleaning) -> None:
        first, later = (QColor(each) for each in self._scheme.series[1::-1])
        if cleaning.before is not None:
            self._paint_line(painter, axes, cleaning.before, cleaning.before.first, cleaning.before.last + 1, first)
        if cleaning.after is None or cleaning.break_at is None:
            return
        self._paint_line(painter, axes, cleaning.after, cleaning.break_at, cleaning.after.last, later)
        painter.setPen(QPen(later, 1.5, Qt.PenStyle.DashLine))
        at_break = axes.at(cleaning.break_at, cleaning.after.at(cleaning.break_at))
        painter.drawLine(axes.at(0, cleaning.after.at_zero), at_break)
        painter.setPen(QPen(QColor(self._scheme.muted), 1, Qt.PenStyle.DashLine))
        painter.drawLine(at_break, QPointF(at_break.x(), axes.area.bottom()))
        painter.setPen(QColor(self._scheme.text))
        line = QFontMetricsF(self.font()).height()
        words = self.tr("break")
        wide = QFontMetricsF(self.font()).horizontalAdvance(words)
        x = min(at_break.x() + 6, axes.area.right() - wide)
        painter.drawText(QPointF(x, axes.area.bottom() - line * 0.4), words)

    @staticmethod
    def _paint_line(painter: QPainter, axes: _Axes, line: Line, first: int, last: int, ink: QColor) -> None:
        painter.setPen(QPen(ink, 2))
        painter.drawLine(axes.at(first, line.at(first)), axes.at(last, line.at(last)))

    def _paint_points(self, painter: QPainter, axes: _Axes, cleaning: Cleaning) -> None:
        if cleaning.blank:
            painter.setPen(QPen(QColor(self._scheme.muted), 1.5))
            painter.setBrush(QColor(self._scheme.window))
            for cycle, loss in enumerate(cleaning.raw_g, start=1):
                painter.drawEllipse(axes.at(cycle, loss), _POINT_PX, _POINT_PX)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(self._scheme.text))
        for cycle, loss in enumerate(cleaning.losses_g, start=1):
            painter.drawEllipse(axes.at(cycle, loss), _POINT_PX, _POINT_PX)


def _step(span: float) -> float:
    """Return a round distance of lines, of which four or so go into a span."""
    raw = span / 4
    tens = 10.0 ** math.floor(math.log10(raw))
    return tens * next(each for each in _STEPS if raw <= each * tens * (1 + 1e-9))
