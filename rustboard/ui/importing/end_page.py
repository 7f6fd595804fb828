"""The last step: what will be made, and what is left out."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtWidgets import QLabel, QListWidget, QVBoxLayout, QWidget

from rustboard.ui.forms.labels import words_label
from rustboard.ui.importing.words import count, plain_lines


class EndPage(QWidget):
    """Sentences, and the list of what cannot be used."""

    def __init__(self, parent: QWidget | None = None) -> None:
        """Start empty."""
        super().__init__(parent)
        self.told = words_label(narrow=True)
        self.left_out = QListWidget()
        self._heading = QLabel()
        self._build()

    def _build(self) -> None:
        self.left_out.setAccessibleName(self.tr("What is left out"))
        self.left_out.setWordWrap(True)
        self.left_out.setAlternatingRowColors(True)
        self._heading.setProperty("heading", True)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.told)
        column.addWidget(self._heading)
        column.addWidget(self.left_out, 1)
        column.addStretch(0)

    def show_end(self, sentences: Sequence[str], left_out: Sequence[str], number: int) -> None:
        """Show what will be made, and what is left out: of very much, the first and how much there is."""
        self.told.setText("\n".join(plain_lines(sentences)))
        self.left_out.clear()
        self.left_out.addItems(plain_lines(left_out))
        self._heading.setText(
            self.tr("Left out: {0}").format(count(number)) if number else self.tr("Nothing is left out.")
        )
        self.left_out.setVisible(bool(left_out))
