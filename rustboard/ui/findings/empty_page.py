"""The findings of a board of which nothing was graded yet: what to do, and the button that does it."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from rustboard.session.session import Session
from rustboard.ui.forms.labels import words_label
from rustboard.ui.middle_card import in_the_middle, new_card


class NothingGradedPage(QWidget):
    """Shown while no coupon was graded.

    Signals:
        grade_asked(): the next ungraded coupon is to be graded. inspection_asked(): an inspection is to be added.

    Attributes:
        begin: the button.
    """

    grade_asked = Signal()
    inspection_asked = Signal()

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        """Build the page."""
        super().__init__(parent)
        self._session = session
        card, inside = new_card()
        heading = QLabel(self.tr("No coupon was graded yet"))
        heading.setProperty("heading", True)
        inside.addWidget(heading)
        inside.addWidget(
            words_label(
                self.tr(
                    "From the grades this screen works out which treatment beat which, how surely, and what this "
                    "board cannot say. Grade every coupon at each inspection; the first findings come with the first "
                    "grades, and with every inspection they become surer."
                ),
                narrow=True,
            )
        )
        self._missing = words_label(muted=True, narrow=True)
        inside.addWidget(self._missing)
        self.begin = QPushButton()
        self.begin.setProperty("primary", True)
        row = QHBoxLayout()
        row.addWidget(self.begin)
        row.addStretch(1)
        inside.addLayout(row)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(in_the_middle(card))
        column.setAlignment(Qt.AlignmentFlag.AlignTop)
        self._wire()
        self.show_again()

    def _wire(self) -> None:
        self.begin.clicked.connect(self._ask)

    def show_again(self) -> None:
        """Show what is missing now."""
        record = self._session.record
        reason = self._session.read_only_reason
        if reason:
            missing = reason
        elif not any(each.position is not None for each in record.coupons.values()):
            missing = self.tr("Nothing hangs on the board yet; begin with its plan (Board menu).")
        elif not record.inspections:
            missing = self.tr("There is no inspection yet.")
        else:
            missing = ""
        self._missing.setText(missing)
        self._missing.setVisible(bool(missing))
        text = self.tr("Grade the next ungraded") if record.inspections else self.tr("Add an inspection…")
        self.begin.setText(text)
        hanging = any(each.position is not None for each in record.coupons.values())
        self.begin.setEnabled(not reason and hanging)

    @Slot()
    def _ask(self) -> None:
        (self.grade_asked if self._session.record.inspections else self.inspection_asked).emit()
