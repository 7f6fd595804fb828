"""Findings of a board on which nothing was graded yet: what they will be, and the way to the first grade."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from rustboard.session.session import Session
from rustboard.ui.forms.labels import words_label

_WIDEST = 640


class NothingGradedPage(QWidget):
    """Shown while no coupon has a grade.

    Signals:
        grade_asked(): to the board, to grade. left(): back to the board.
    """

    grade_asked = Signal()
    left = Signal()

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        """Build the page."""
        super().__init__(parent)
        self._session = session
        heading = QLabel(self.tr("No coupon of this board was graded yet"))
        heading.setProperty("heading", True)
        heading.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self._text = words_label(
            self.tr(
                "Once coupons are graded, this page says which treatment beat which, how sure that is and what it "
                "costs: in sentences first, then in pictures, then in tables, with all that speaks against it."
            )
        )
        self._text.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self._text.setMaximumWidth(_WIDEST)
        self._missing = words_label(muted=True)
        self._missing.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.grade = QPushButton(self.tr("Grade the coupons"))
        self.grade.setProperty("primary", True)
        self.back = QPushButton(self.tr("To the board"))
        words, buttons = QHBoxLayout(), QHBoxLayout()
        for row, middle in ((words, (self._text,)), (buttons, (self.grade, self.back))):
            row.addStretch(1)
            for each in middle:
                row.addWidget(each, 100 if each is self._text else 0)
            row.addStretch(1)
        column = QVBoxLayout(self)
        column.addStretch(1)
        column.addWidget(heading)
        column.addLayout(words)
        column.addWidget(self._missing)
        column.addSpacing(8)
        column.addLayout(buttons)
        column.addStretch(2)
        self._wire()

    def _wire(self) -> None:
        self.grade.clicked.connect(self._ask)
        self.back.clicked.connect(self._leave)

    def show_again(self) -> None:
        """Show whether grading can begin now, and why not."""
        record = self._session.record
        missing = self._session.read_only_reason
        if not missing and not record.coupons:
            missing = self.tr("There is no coupon on the board yet; add coupons first (Board menu).")
        self._missing.setText(missing)
        self._missing.setVisible(bool(missing))
        self.grade.setEnabled(not missing)

    def first(self) -> QPushButton:
        """Return the button that is most likely wanted."""
        return self.grade if self.grade.isEnabled() else self.back

    @Slot()
    def _ask(self) -> None:
        self.grade_asked.emit()

    @Slot()
    def _leave(self) -> None:
        self.left.emit()
