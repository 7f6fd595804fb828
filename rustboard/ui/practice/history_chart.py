"""A grader's offsets over time: for each exercise a point before and a point after."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from rustboard.session.practice import Past
from rustboard.ui.practice.words import signed
from rustboard.ui.theme import Scheme
from rustboard.ui.wording import date_only

_LEAST_RANGE: Final = 1.5
_POINT_PX: Final = 5.0
MOST_SHOWN: Final = 24


class HistoryChart(QWidget):
    """Hollow points before, filled ones after, about a line that is neither too good nor too bad."""

    def __init__(self, scheme: Scheme) -> None:
        """Start empty."""
        super().__init__()
        self._scheme = scheme
        self._past: Sequence[Past] = ()
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)

    def sizeHint(self) -> QSize:
        """Return a size in which the points are told apart."""
        return QSize(360, self.fontMetrics().height() * 10)

    def minimumSizeHint(self) -> QSize:
        """Return the least size of use."""
        return QSize(160, self.fontMetrics().height() * 6)

    def show_past(self, past: Sequence[Past]) -> None:
        """Show exercises, oldest first; of very many the newest."""
        self._past = past[-MOST_SHOWN:]
        if self._past:
            words = self.tr("Offset of {0} exercises; the last: {1} before, {2} after")
            last = self._past[-1]
            self.setAccessibleName(
                words.format(len(self._past), signed(last.before.offset), signed(last.after.offset))
            )
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the lines and points."""
        if not self._past:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        line = QFontMetricsF(self.font()).height()
        area = QRectF(self._left_room(), line * (1.3 if self._words_fit() else 2.5), 0, 0)
        area.setRight(self.width() - 12.0)
        area.setBottom(self.height() - line * 1.4)
        reach = max(_LEAST_RANGE, *(abs(v) + 0.3 for each in self._past for v in self._offsets(each)))
        self._paint_frame(painter, area, reach, line)
        for number, each in enumerate(self._past):
            self._paint_exercise(painter, area, reach, self._x(area, number), each)
        painter.end()

    @staticmethod
    def _offsets(past: Past) -> tuple[float, float]:
        return past.before.offset, past.after.offset

    def _left_room(self) -> float:
        metrics = QFontMetricsF(self.font())
        return max(metrics.horizontalAdvance(signed(each)) for each in (1.0, -1.0, 0.0)) + 12

    def _legend(self) -> str:
        return self.tr("○ before   ● after")

    def _words_fit(self) -> bool:
        """Return whether axis and legend are told in one line."""
        metrics = QFontMetricsF(self.font())
        both = metrics.horizontalAdvance(self.tr("Offset, + too good")) + metrics.horizontalAdvance(self._legend())
        return both + 2 * metrics.averageCharWidth() < self.width() - self._left_room() - 12

    def _x(self, area: QRectF, number: int) -> float:
        return area.left() + area.width() * (number + 0.5) / len(self._past)

    @staticmethod
    def _y(area: QRectF, reach: float, offset: float) -> float:
        return area.center().y() - offset / reach * area.height() / 2

    def _paint_frame(self, painter: QPainter, area: QRectF, reach: float, line: float) -> None:
        step = 1 if reach < 4 else 2 if reach < 8 else 5
        marks = [value for value in range(-10, 11) if value % step == 0 and abs(value) <= reach]
        for value in marks:
            y = self._y(area, reach, value)
            right = value == 0
            painter.setPen(QPen(QColor(self._scheme.text if right else self._scheme.line), 1.5 if right else 1.0))
            painter.drawLine(QPointF(area.left(), y), QPointF(area.right(), y))
            painter.setPen(QColor(self._scheme.muted))
            where = QRectF(0, y - line / 2, area.left() - 6, line)
            painter.drawText(where, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter, signed(value))
        painter.setPen(QColor(self._scheme.muted))
        top = QRectF(area.left(), 0, area.width(), line * 1.2)
        painter.drawText(top, Qt.AlignmentFlag.AlignLeft, self.tr("Offset, + too good"))
        if self._words_fit():
            painter.drawText(top, Qt.AlignmentFlag.AlignRight, self._legend())
        else:
            painter.drawText(top.translated(0, line * 1.2), Qt.AlignmentFlag.AlignLeft, self._legend())
        foot = QRectF(area.left(), area.bottom() + line * 0.25, area.width(), line * 1.15)
        first, last = date_only(self._past[0].when), date_only(self._past[-1].when)
        painter.drawText(foot, Qt.AlignmentFlag.AlignLeft, first)
        if last != first:
            painter.drawText(foot, Qt.AlignmentFlag.AlignRight, last)

    def _paint_exercise(self, painter: QPainter, area: QRectF, reach: float, x: float, past: Past) -> None:
        before, after = (QPointF(x, self._y(area, reach, each)) for each in self._offsets(past))
        ink = QColor(self._scheme.accent)
        painter.setPen(QPen(ink, 1.5))
        painter.drawLine(before, after)
        painter.setPen(QPen(ink, 2))
        painter.setBrush(QColor(self._scheme.window))
        painter.drawEllipse(before, _POINT_PX + 1, _POINT_PX + 1)
        painter.setBrush(ink)
        painter.drawEllipse(after, _POINT_PX, _POINT_PX)
