"""The photo screen of a board without photos: what to do, and the button for it."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from rustboard.ui.forms.labels import words_label


class NoPhotosPage(QWidget):
    """Shown when the board has no photo yet.

    Signals:
        add_asked(): photos are to be added.
    """

    add_asked = Signal()

    def __init__(self, *, writable: bool, parent: QWidget | None = None) -> None:
        """Build the page."""
        super().__init__(parent)
        heading = QLabel(self.tr("No photos yet"))
        heading.setProperty("heading", True)
        text = words_label(
            self.tr(
                "Take one photo of the whole board at each visit, as straight from the front as you can, in even "
                "light without direct sun, with the board dry. Add the photos here: the program finds the board in "
                "each, shows every coupon day by day, and measures how much of it is rusted."
            )
        )
        self._add = QPushButton(self.tr("Add photos…"))
        self._add.setProperty("primary", True)
        self._add.setVisible(writable)
        buttons = QHBoxLayout()
        buttons.addStretch(1)
        buttons.addWidget(self._add)
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
        self._add.clicked.connect(self._ask)

    @Slot()
    def _ask(self) -> None:
        self.add_asked.emit()
