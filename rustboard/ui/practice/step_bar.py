"""How far an exercise is: a bar in three parts."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from rustboard.scales.practice import PARTS, TOTAL
from rustboard.ui.theme import Scheme

_HIGH_PX = 8
_GAP_PX = 4.0


class StepBar(QWidget):
    """One stretch for each part, filled as far as it is graded."""

    def __init__(self, scheme: Scheme) -> None:
        """Start empty."""
        super().__init__()
        self._scheme = scheme
        self._done = 0
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:
        """Return a flat size."""
        return QSize(300, _HIGH_PX)

    def show_done(self, done: int) -> None:
        """Fill the bar up to so many coupons."""
        self._done = done
        self.setAccessibleName(self.tr("{0} of {1} coupons graded").format(done, TOTAL))
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the stretches."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        room = self.width() - _GAP_PX * (len(PARTS) - 1)
        left, start = 0.0, 0
        for _, count in PARTS:
            wide = room * count / TOTAL
            share = min(1.0, max(0.0, (self._done - start) / count))
            stretch = QRectF(left, 0, wide, self.height()).adjusted(0.5, 0.5, -0.5, -0.5)
            painter.setPen(QPen(QColor(self._scheme.line), 1))
            painter.setBrush(QColor(self._scheme.tile))
            painter.drawRoundedRect(stretch, 3, 3)
            if share > 0:
                stretch.setWidth(stretch.width() * share)
                painter.setPen(Qt.PenStyle.NoPen)
                painter.setBrush(QColor(self._scheme.accent))
                painter.drawRoundedRect(stretch, 3, 3)
            left, start = left + wide + _GAP_PX, start + count
        painter.end()
