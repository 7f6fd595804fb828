"""The shelf while no board has what is asked for."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget


class NoMatchPage(QWidget):
    """Says that nothing was found, and what helps.

    Signals:
        clear_asked(): ask for nothing in particular.
        archive_asked(): look in the archive too.
    """

    clear_asked = Signal()
    archive_asked = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        """Build the page."""
        super().__init__(parent)
        heading = QLabel(self.tr("No board matches"))
        heading.setProperty("heading", True)
        self._text = QLabel()
        self._text.setWordWrap(True)
        self._clear = QPushButton(self.tr("Show all boards"))
        self._clear.setProperty("primary", True)
        self._archive = QPushButton(self.tr("Look in the archive too"))
        buttons = QHBoxLayout()
        buttons.addStretch(1)
        buttons.addWidget(self._clear)
        buttons.addWidget(self._archive)
        buttons.addStretch(1)
        column = QVBoxLayout(self)
        column.addStretch(1)
        for each in (heading, self._text):
            each.setAlignment(Qt.AlignmentFlag.AlignCenter)
            column.addWidget(each)
        column.addSpacing(8)
        column.addLayout(buttons)
        column.addStretch(2)
        self._wire()

    def _wire(self) -> None:
        self._clear.clicked.connect(self.clear_asked)
        self._archive.clicked.connect(self.archive_asked)

    def say(self, *, asked: bool, in_archive: int) -> None:
        """Say why nothing is shown.

        Args:
            asked: whether anything is asked for; else all boards are in the archive.
            in_archive: how many boards of the archive would match.
        """
        if not asked:
            self._text.setText(self.tr("All your boards are in the archive."))
        elif in_archive:
            sentence = self.tr("None of the boards shown has all that is asked for; of those in the archive {0}.")
            self._text.setText(sentence.format(in_archive))
        else:
            self._text.setText(self.tr("None of your boards has all that is asked for."))
        self._clear.setVisible(asked)
        self._archive.setVisible(bool(in_archive))
