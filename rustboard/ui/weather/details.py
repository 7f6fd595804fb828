"""Sentences under headings beside a table: what its chosen row says in words."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QLabel, QScrollArea, QVBoxLayout, QWidget

from rustboard.ui.forms.labels import words_label

Section = tuple[str, Sequence[str]]
"""A heading, which may be empty, and its sentences."""


class Details(QScrollArea):
    """Shows sections, and scrolls where they need more room."""

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        """Start empty; ``name`` is what a screen reader calls it."""
        super().__init__(parent)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setAccessibleName(name)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.show_sections([])

    def show_sections(self, sections: Sequence[Section]) -> None:
        """Show other sections; those without a sentence are left out."""
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(8, 6, 10, 8)
        column.setSpacing(4)
        for heading, sentences in sections:
            if not sentences:
                continue
            if heading:
                if column.count():
                    column.addSpacing(6)
                title = words_label(heading, narrow=True)
                title.setProperty("heading", True)
                column.addWidget(title)
            for each in sentences:
                column.addWidget(words_label(each, narrow=True))
        column.addStretch(1)
        self.setWidget(inside)

    def text(self) -> str:
        """Return all that is read, line by line."""
        return "\n".join(each.text() for each in self.findChildren(QLabel))
