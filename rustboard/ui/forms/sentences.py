"""A few sentences in a frame that takes no more than a few lines; they scroll where there are more."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QFrame, QLabel, QScrollArea, QSizePolicy, QVBoxLayout, QWidget

from rustboard.ui.forms.labels import words_label

_MOST_LINES: Final = 5
_LINES_IN_A_LOW_WINDOW: Final = 2
_LOW_WINDOW_LINES: Final = 30
_SIGN: Final = "!"


class Sentences(QFrame):
    """The sentences, one below the other; hidden when there is none."""

    def __init__(self, parent: QWidget | None = None) -> None:
        """Build the frame, hidden."""
        super().__init__(parent)
        self.setProperty("message", "note")
        self._text: QLabel = words_label()
        self._text.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self._scroll = QScrollArea()
        self._scroll.setFrameShape(QFrame.Shape.NoFrame)
        self._scroll.setWidgetResizable(True)
        self._scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._scroll.setWidget(self._text)
        self._scroll.viewport().setAutoFillBackground(False)
        self._text.setAutoFillBackground(False)
        column = QVBoxLayout(self)
        column.setContentsMargins(8, 3, 4, 3)
        column.addWidget(self._scroll)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self.hide()

    def text(self) -> str:
        """Return all sentences, a line each."""
        return self._text.text()

    def show_sentences(self, sentences: Sequence[str]) -> None:
        """Show other sentences."""
        shown = "\n".join(f"{_SIGN} {each}" for each in sentences)
        self._text.setText(shown)
        self._scroll.setAccessibleName(shown)
        self.setVisible(bool(sentences))
        self._fit()

    def _fit(self) -> None:
        line = self.fontMetrics().lineSpacing()
        low = self.window().height() < line * _LOW_WINDOW_LINES
        most = line * (_LINES_IN_A_LOW_WINDOW if low else _MOST_LINES)
        wanted = max(line, self._text.heightForWidth(self._scroll.viewport().width()))
        self._scroll.setFixedHeight(min(most, wanted) + 2)
        scrolls = Qt.FocusPolicy.StrongFocus if wanted > most else Qt.FocusPolicy.NoFocus
        self._scroll.setFocusPolicy(scrolls)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Take as many lines as the width needs."""
        super().resizeEvent(event)
        self._fit()

    def sizeHint(self) -> QSize:
        """Return the height of the lines."""
        return QSize(200, self._scroll.height() + 8)
