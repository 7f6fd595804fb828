"""The categories of ISO 9223 as a scale, with what was estimated and what was weighed as marks with bands."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final, NamedTuple

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QBrush, QColor, QFontMetricsF, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from rustboard.scales.corrosivity import CATEGORY_NAMES, UPPER_LIMITS
from rustboard.ui.theme import Scheme
from rustboard.ui.weighing.words import significant

LEAST_UM: Final = 0.3
MOST_UM: Final = 2000.0
"""Ends of the scale, um/y; what lies beyond is drawn at the end."""

_LIMITS: Final = UPPER_LIMITS["carbon steel", "um/y"]
_MARK_PX: Final = 6.0


class Mark(NamedTuple):
    """A first-year rate of steel on the scale, um/y, with its band. name: in words. estimated: drawn hollow."""

    name: str
    um_y: float
    low: float
    high: float
    estimated: bool


class CategoryScale(QWidget):
    """Steps C1 to CX along a logarithmic scale, and one line under them for each mark."""

    def __init__(self, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Start without marks."""
        super().__init__(parent)
        self._scheme = scheme
        self._marks: Sequence[Mark] = ()
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:
        """Return a size in which the categories are told apart."""
        return QSize(480, round(self.fontMetrics().height() * (3.9 + 2.5 * len(self._marks))))

    def minimumSizeHint(self) -> QSize:
        """Return the least size of use."""
        return QSize(260, self.sizeHint().height())

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self._scheme = scheme
        self.update()

    def show_marks(self, marks: Sequence[Mark]) -> None:
        """Show other marks, from top to bottom."""
        self._marks = marks
        words = self.tr("{0}: {1} µm in the first year, {2} to {3}")
        self.setAccessibleName(
            "; ".join(
                words.format(each.name, *(significant(v, 3) for v in (each.um_y, each.low, each.high)))
                for each in marks
            )
        )
        self.updateGeometry()
        self.update()

    def _x(self, um_y: float) -> float:
        part = math.log(min(max(um_y, LEAST_UM), MOST_UM) / LEAST_UM) / math.log(MOST_UM / LEAST_UM)
        return 8 + (self.width() - 16) * part

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the steps, their limits and the marks."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        line = QFontMetricsF(self.font()).height()
        steps = QRectF(0, line * 0.2, self.width(), line * 1.7)
        self._paint_steps(painter, steps, line)
        for number, mark in enumerate(self._marks):
            self._paint_mark(painter, mark, steps.bottom() + line * (1.7 + 2.5 * number), line)
        painter.end()

    def _paint_steps(self, painter: QPainter, steps: QRectF, line: float) -> None:
        metrics = QFontMetricsF(self.font())
        ends = (LEAST_UM, *_LIMITS, MOST_UM)
        for number, name in enumerate(CATEGORY_NAMES):
            left, right = self._x(ends[number]), self._x(ends[number + 1])
            box = QRectF(left, steps.top(), right - left, steps.height())
            painter.setPen(QPen(QColor(self._scheme.line), 1))
            painter.setBrush(QColor(self._scheme.tile if number % 2 else self._scheme.base))
            painter.drawRect(box)
            painter.setPen(QColor(self._scheme.text))
            shown = name if metrics.horizontalAdvance(name) + 4 < box.width() else f">{CATEGORY_NAMES[-2]}"
            painter.drawText(box, Qt.AlignmentFlag.AlignCenter, shown)
        painter.setPen(QColor(self._scheme.muted))
        free = 0.0
        for limit in _LIMITS:
            text = significant(limit)
            wide = metrics.horizontalAdvance(text)
            at = QRectF(self._x(limit) - wide / 2, steps.bottom() + 1, wide + 1, line)
            if at.left() > free:  # limits must not be written over one another
                painter.drawText(at, Qt.AlignmentFlag.AlignCenter, text)
                free = at.right() + 4

    def _paint_mark(self, painter: QPainter, mark: Mark, top: float, line: float) -> None:
        ink = QColor(self._scheme.series[1 if mark.estimated else 0])
        y = top + line * 1.75
        low, high, at = self._x(mark.low), self._x(mark.high), self._x(mark.um_y)
        painter.setPen(QPen(ink, 1.5))
        style = Qt.BrushStyle.BDiagPattern if mark.estimated else Qt.BrushStyle.Dense4Pattern
        painter.setBrush(QBrush(ink, style))
        painter.drawRect(QRectF(low, y - 4, max(1.0, high - low), 8))
        painter.setBrush(QColor(self._scheme.window) if mark.estimated else ink)
        painter.setPen(QPen(ink, 2))
        painter.drawEllipse(QPointF(at, y), _MARK_PX, _MARK_PX)
        painter.setPen(QColor(self._scheme.text))
        words = self.tr("{0}: {1} µm").format(mark.name, significant(mark.um_y, 3))
        wide = QFontMetricsF(self.font()).horizontalAdvance(words) + 2
        left = min(max(0.0, at - wide / 2), max(0.0, self.width() - wide))
        painter.drawText(QRectF(left, top, wide, line * 1.2), Qt.AlignmentFlag.AlignLeft, words)
