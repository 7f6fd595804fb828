"""A framed heading with a few lines under it, hidden while there are none."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QFrame, QLabel, QVBoxLayout, QWidget

from rustboard.ui.forms.labels import words_label


class WordsFrame(QFrame):
    """Says something that is only read."""

    def __init__(self, heading: str, parent: QWidget | None = None) -> None:
        """Build the frame, hidden."""
        super().__init__(parent)
        self.setProperty("message", "note")
        title = QLabel(heading)
        title.setProperty("heading", True)
        title.setWordWrap(True)
        self._text = words_label(narrow=True)
        self._text.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)
        self.column = QVBoxLayout(self)
        self.column.setContentsMargins(8, 6, 8, 6)
        self.column.addWidget(title)
        self.column.addWidget(self._text)
        self.hide()

    def text(self) -> str:
        """Return the lines shown, or an empty text while there are none."""
        return "" if self.isHidden() else self._text.text()

    def say(self, lines: Sequence[str]) -> None:
        """Show lines; none hide the frame."""
        self._text.setText("\n".join(lines))
        self.setVisible(bool(lines))
        self._take_height()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep all lines when they wrap anew."""
        super().resizeEvent(event)
        self._take_height()

    def _take_height(self) -> None:
        # Layouts inside layouts can be a line short after a scroll bar has come; then the first line is cut.
        margins = self.column.contentsMargins()
        width = self.contentsRect().width() - margins.left() - margins.right()
        self._text.setMinimumHeight(max(self._text.heightForWidth(width), 0) if width > 0 else 0)
