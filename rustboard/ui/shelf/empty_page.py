"""The shelf without boards: what to do, and the buttons for it."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget


class EmptyPage(QWidget):
    """Shown when the user has no board yet.

    Signals:
        new_asked(): a new board.
        demo_asked(): the demo boards. grades_asked(): a board from a table of old grades.
    """

    new_asked = Signal()
    demo_asked = Signal()
    grades_asked = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        """Build the page."""
        super().__init__(parent)
        heading = QLabel(self.tr("No boards yet"))
        heading.setProperty("heading", True)
        text = QLabel(
            self.tr(
                "A board holds your coupons, their treatments, the grades you give them and the photos you take. "
                "Start with your own, bring in grades you wrote down before, or try the demo board: it comes with "
                "eight weeks of grades to look at."
            )
        )
        text.setWordWrap(True)
        self._new = QPushButton(self.tr("New board…"))
        self._new.setProperty("primary", True)
        self._grades = QPushButton(self.tr("Old grades…"))
        self._demo = QPushButton(self.tr("Try the demo board"))
        buttons = QHBoxLayout()
        buttons.addStretch(1)
        for each in (self._new, self._grades, self._demo):
            buttons.addWidget(each)
        buttons.addStretch(1)
        column = QVBoxLayout(self)
        column.addStretch(1)
        for label in (heading, text):
            label.setAlignment(Qt.AlignmentFlag.AlignCenter)
            column.addWidget(label)
        column.addSpacing(8)
        column.addLayout(buttons)
        column.addStretch(2)
        self._wire()

    def _wire(self) -> None:
        self._new.clicked.connect(self.new_asked)
        self._grades.clicked.connect(self.grades_asked)
        self._demo.clicked.connect(self.demo_asked)
