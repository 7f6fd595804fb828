"""Pages of which one is seen, and only that one says how small the window may be."""

from __future__ import annotations

from PySide6.QtCore import QSize, Slot
from PySide6.QtWidgets import QStackedWidget, QWidget


class CurrentStack(QStackedWidget):
    """A stack as large as its current page needs; hidden pages do not keep the window wide."""

    def __init__(self, parent: QWidget | None = None) -> None:
        """Start without pages."""
        super().__init__(parent)
        self.currentChanged.connect(self._ask_anew)

    def minimumSizeHint(self) -> QSize:
        """Return the least size of the current page."""
        page = self.currentWidget()
        return super().minimumSizeHint() if page is None else page.minimumSizeHint()

    @Slot()
    def _ask_anew(self) -> None:
        self.updateGeometry()
