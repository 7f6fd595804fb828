"""The shelf without boards: what to do, and the buttons for it."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget


class EmptyPage(QWidget):
    """Shown when the user has no board yet.

    Signals:
        new_asked(): a new board.
        demo_asked(): the demo boards.
    """

    new_asked = Signal()
    demo_asked = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        """Build the page."""
        super().__init__(parent)
        heading = QLabel(self.tr("No boards yet"))
        heading.setProperty("heading", True)
        text = QLabel(
            self.tr(
                "A board holds your coupons, their treatments, the grades you give them and the photos you take. "
                "Start with your own, or try the demo board: it comes with eight weeks of grades to look at."
            )
        )
        text.setWordWrap(True)
        self._new = QPushButton(self.tr("New board…"))
        self._new.setProperty("primary", True)
        self._demo = QPushButton(self.tr("Try the demo board"))
        buttons = QHBoxLayout()
        buttons.addStretch(1)
        buttons.addWidget(self._new)
        buttons.addWidget(self._demo)
        buttons.addStretch(1)
        column = QVBoxLayout(self)
        column.addStretch(1)
        for each in (heading, text):
            each.setAlignment(Qt.AlignmentFlag.AlignCenter)
            column.addWidget(each)
        column.addSpacing(8)
        column.addLayout(buttons)
        column.addStretch(2)
        self._wire()

    def _wire(self) -> None:
        self._new.clicked.connect(self.new_asked)
        self._demo.clicked.connect(self.demo_asked)
