"""How much of a time is known, as a small bar: by loggers, by hand, not at all; and the percent as text beside it."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from PySide6.QtCore import QModelIndex, QObject, QPersistentModelIndex, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPen
from PySide6.QtWidgets import QStyle, QStyledItemDelegate, QStyleOptionViewItem

from rustboard.ui.theme import Scheme

_RIM, _THICK, _LEAST = 6.0, 10.0, 30.0


class Coverage(NamedTuple):
    """Shares of a time, 0 to 1, and the percent known as text."""

    by_logger: float
    by_hand: float
    text: str


class WholeRowDelegate(QStyledItemDelegate):
    """Paints cells of a table in which rows are chosen: no single cell stands off as the one with the keyboard."""

    def initStyleOption(self, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex) -> None:
        """Take the mark of the keyboard away."""
        super().initStyleOption(option, index)
        option.state &= ~QStyle.StateFlag.State_HasFocus


class CoverageDelegate(WholeRowDelegate):
    """Paints the bar of each row."""

    def __init__(self, scheme: Scheme, coverage: Callable[[int], Coverage | None], parent: QObject) -> None:
        """Paint in the colours of a scheme; ``coverage`` returns what a row shows."""
        super().__init__(parent)
        self.scheme, self._coverage = scheme, coverage

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        """Paint a cell: the ground as the table does, then bar and percent."""
        super().paint(painter, option, index)
        coverage = self._coverage(index.row())
        if coverage is None:
            return
        chosen = bool(option.state & QStyle.StateFlag.State_Selected)
        area = QRectF(option.rect).adjusted(_RIM, 0, -_RIM, 0)
        ink = QColor(self.scheme.on_accent if chosen else self.scheme.text)
        painter.save()
        painter.setPen(ink)
        painter.drawText(area, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter, coverage.text)
        words = option.fontMetrics.horizontalAdvance("99.9 %") + _RIM
        bar = QRectF(area.left(), area.center().y() - _THICK / 2, area.width() - words, _THICK)
        if bar.width() >= _LEAST:
            self._paint_bar(painter, bar, coverage, ink, chosen=chosen)
        painter.restore()

    def _paint_bar(self, painter: QPainter, bar: QRectF, coverage: Coverage, ink: QColor, *, chosen: bool) -> None:
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(self.scheme.window))
        painter.drawRect(bar)
        logger = QRectF(bar.left(), bar.top(), bar.width() * min(1.0, coverage.by_logger), bar.height())
        hand = QRectF(logger.right(), bar.top(), bar.width() * min(1.0, coverage.by_hand), bar.height())
        by_logger, by_hand = (QColor(each) for each in self.scheme.series[:2])
        if chosen:
            painter.fillRect(bar, QColor(self.scheme.accent))
            by_logger = by_hand = ink
        painter.setBrush(by_logger)
        painter.drawRect(logger)
        # Stripes, because what was noted by hand must stand off without colour too.
        painter.setBrush(QBrush(by_hand, Qt.BrushStyle.Dense4Pattern))
        painter.drawRect(hand)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(ink if chosen else QColor(self.scheme.muted), 1))
        painter.drawRect(bar)
