"""Two halves side by side where there is room, under one another where there is not."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QSize
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QBoxLayout, QLayout, QWidget

_NARROW_IN_LETTERS = 96


class TwoHalves(QWidget):
    """Holds two widgets and turns with its width."""

    def __init__(self, first: QWidget, second: QWidget, parent: QWidget | None = None) -> None:
        """Hold two widgets."""
        super().__init__(parent)
        self._halves = (first, second)
        self._box = QBoxLayout(QBoxLayout.Direction.LeftToRight, self)
        self._box.setContentsMargins(0, 0, 0, 0)
        self._box.setSpacing(14)
        # Side by side they need more than a narrow window has, and it must still be able to become narrow.
        self._box.setSizeConstraint(QLayout.SizeConstraint.SetNoConstraint)
        self._box.addWidget(first, 4)
        self._box.addWidget(second, 5)

    def is_narrow(self) -> bool:
        """Return whether the halves stand under one another."""
        return self._box.direction() == QBoxLayout.Direction.TopToBottom

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Turn when the width asks for it."""
        super().resizeEvent(event)
        narrow = event.size().width() < self.fontMetrics().averageCharWidth() * _NARROW_IN_LETTERS
        if narrow != self.is_narrow():
            ways = QBoxLayout.Direction
            self._box.setDirection(ways.TopToBottom if narrow else ways.LeftToRight)
            self.updateGeometry()

        self._take_height()

    def event(self, event: QEvent) -> bool:
        """Follow what is said in the halves."""
        if event.type() == QEvent.Type.LayoutRequest:
            self._take_height()
        return super().event(event)

    def _take_height(self) -> None:
        # A form that scrolls asks for the least height only, and wrapped lines would be cut.
        height = self._box.totalHeightForWidth(self.width()) if self._box.hasHeightForWidth() else 0
        if height != self.minimumHeight():
            self.setMinimumHeight(height)

    def minimumSizeHint(self) -> QSize:
        """Return the width of the wider half alone."""
        width = max(each.minimumSizeHint().width() for each in self._halves)
        return QSize(width, super().minimumSizeHint().height())
