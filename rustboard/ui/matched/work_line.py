"""What is being worked on, how far it is, and the way to stop it; gone when nothing is."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QWidget


class WorkLine(QWidget):
    """One line over the result.

    Signals:
        stopped(): the user wants no more of it.

    Attributes:
        stop: the button.
    """

    stopped = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        """Build it, hidden."""
        super().__init__(parent)
        self._what = ""
        self._words = QLabel()
        self._words.setProperty("muted", True)
        self.stop = QPushButton(self.tr("St&op"))
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self._words, 1)
        row.addWidget(self.stop)
        self.hide()
        self._wire()

    def _wire(self) -> None:
        self.stop.clicked.connect(self.stopped)

    def say(self, what: str) -> None:
        """Say what is being worked on; an empty text hides the line."""
        self._what = what
        self._words.setText(what)
        self.setVisible(bool(what))

    def tell(self, done: int, total: int) -> None:
        """Say how far the work is."""
        if self._what and total > 1:
            self._words.setText(self.tr("{0} {1} of {2}").format(self._what, done, total))

    def text(self) -> str:
        """Return what the line says, or an empty text."""
        return "" if self.isHidden() else self._words.text()
