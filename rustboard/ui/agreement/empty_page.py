"""The agreement of a board that was never graded blind: what that is, and the button that starts it."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from rustboard.session.session import Session
from rustboard.ui.forms.labels import words_label

_WIDEST = 640


class NothingBlindPage(QWidget):
    """Shown while no inspection was graded blind and revealed.

    Signals:
        blind_asked(): the inspection in view is to be graded blind. left(): back to the board.
    """

    blind_asked = Signal()
    left = Signal()

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        """Build the page."""
        super().__init__(parent)
        self._session = session
        heading = QLabel(self.tr("No inspection was graded blind yet"))
        heading.setProperty("heading", True)
        heading.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self._text = words_label(
            self.tr(
                "A grade is worth something if its grader did not know which coupon it was, and would give it again. "
                "Graded blind, an inspection shows its coupons in an order of chance, without ids, treatments or "
                "earlier grades; several people can grade it, each without seeing the others' grades, and some "
                "coupons come twice. When it is revealed, this page says how well each grader repeats himself, how "
                "well the graders agree with one another and with the photo, and shows side by side the coupons on "
                "which they differ."
            )
        )
        self._text.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self._text.setMaximumWidth(_WIDEST)
        self._missing = words_label(muted=True)
        self._missing.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.begin = QPushButton(self.tr("Grade bl&ind…"))
        self.begin.setProperty("primary", True)
        self._back = QPushButton(self.tr("Bac&k to the board"))
        words, buttons = QHBoxLayout(), QHBoxLayout()
        for row, middle in ((words, (self._text,)), (buttons, (self.begin, self._back))):
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
        self.begin.clicked.connect(self._ask)
        self._back.clicked.connect(self._leave)

    def show_again(self) -> None:
        """Show whether blind grading can begin now, and why not."""
        missing = self._session.read_only_reason
        if not missing and self._session.selection.inspection is None:
            missing = self.tr("Add an inspection first (Board menu); then it can be graded blind.")
        self._missing.setText(missing)
        self._missing.setVisible(bool(missing))
        self.begin.setEnabled(not missing)
        (self._back if missing else self.begin).setFocus()

    @Slot()
    def _ask(self) -> None:
        self.blind_asked.emit()

    @Slot()
    def _leave(self) -> None:
        self.left.emit()
