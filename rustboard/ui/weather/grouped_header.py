"""A header in two lines: what a group of columns is about above, each column's own title below."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from PySide6.QtCore import QRect, QSize, Qt
from PySide6.QtGui import QColor, QFont, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QHeaderView, QWidget

from rustboard.ui.theme import Scheme

_RIM = 4


class ColumnGroup(NamedTuple):
    """Neighbouring columns, from the first to the last one, and what they are about."""

    title: str
    first: int
    last: int


class GroupedHeader(QHeaderView):
    """The header of a table whose model gives the titles of grouped columns an empty first line.

    Attributes:
        groups: from left to right.
    """

    def __init__(self, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Start without groups."""
        super().__init__(Qt.Orientation.Horizontal, parent)
        self.scheme = scheme
        self.groups: Sequence[ColumnGroup] = ()
        self.setHighlightSections(False)
        self.setDefaultAlignment(Qt.AlignmentFlag.AlignCenter)

    def set_groups(self, groups: Sequence[ColumnGroup]) -> None:
        """Show other groups."""
        self.groups = groups
        self.viewport().update()

    def sizeHint(self) -> QSize:
        """Return room for two lines."""
        height = round(self.fontMetrics().lineSpacing() * 2.2) + 10
        return QSize(super().sizeHint().width(), max(height, super().sizeHint().height()))

    def title_width(self, group: ColumnGroup) -> int:
        """Return how wide a group has to be for its title."""
        return self._metrics_width(group.title) + 2 * _RIM + 4

    def least_width(self, section: int) -> int:
        """Return how wide a column has to be for its own title."""
        title = self.model().headerData(section, Qt.Orientation.Horizontal)
        return self._metrics_width(str(title).strip()) + 2 * _RIM + 2

    def _metrics_width(self, text: str) -> int:
        font = QFont(self.font())
        font.setWeight(QFont.Weight.DemiBold)
        return round(self.fontMetrics().horizontalAdvance(text) * 1.08)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the columns' own titles, then over them those of their groups."""
        super().paintEvent(event)
        painter = QPainter(self.viewport())
        font = QFont(self.font())
        font.setWeight(QFont.Weight.DemiBold)
        painter.setFont(font)
        line = self.fontMetrics().lineSpacing() + 4
        for group in self.groups:
            shown = [at for at in range(group.first, group.last + 1) if not self.isSectionHidden(at)]
            if not shown:
                continue
            left = self.sectionViewportPosition(shown[0])
            area = QRect(left, 2, sum(self.sectionSize(at) for at in shown), line)
            painter.setPen(QPen(QColor(self.scheme.muted), 1))
            painter.drawLine(area.left() + _RIM, area.bottom(), area.right() - _RIM, area.bottom())
            painter.setPen(QColor(self.scheme.text))
            title = self.fontMetrics().elidedText(group.title, Qt.TextElideMode.ElideRight, area.width() - 2)
            painter.drawText(area, Qt.AlignmentFlag.AlignCenter, title)
        painter.end()
