"""The weather of a board of which nothing is known: what to do, and the buttons for it."""

from __future__ import annotations

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QLabel, QPushButton, QVBoxLayout, QWidget

from rustboard.session.session import Session
from rustboard.ui.flow_layout import flowing
from rustboard.ui.forms.labels import words_label
from rustboard.ui.middle_card import in_the_middle, new_card


class NoWeatherPage(QWidget):
    """Shown while neither a logger's file nor a day noted by hand is on the board.

    Signals:
        add_asked(): a logger's file is to be added. day_asked(): a day is to be noted.
    """

    add_asked = Signal()
    day_asked = Signal()

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        """Build the page."""
        super().__init__(parent)
        self._session = session
        card, inside = new_card()
        heading = QLabel(self.tr("Nothing is known of the weather yet"))
        heading.setProperty("heading", True)
        inside.addWidget(heading)
        for text in (
            self.tr(
                "Rust on two boards, or in two months, compares only where the weather was the same. With it this "
                "page says for every inspection how long the coupons were wet, how much it rained, how warm it was, "
                "and how much of that is known."
            ),
            self.tr(
                "Best is a logger for temperature and humidity beside the board, in the shade: add its file. Without "
                "one, note each day what the weather was: dry, dew, rain, fog, frost or snow. Both may be mixed; "
                "days noted by hand fill where no logger has anything."
            ),
        ):
            inside.addWidget(words_label(text))
        self._reason = words_label(muted=True)
        inside.addWidget(self._reason)
        self.add = QPushButton(self.tr("Add a lo&gger's file…"))
        self.add.setProperty("primary", True)
        self.day = QPushButton(self.tr("Note the weather of a &day…"))
        inside.addWidget(flowing(self.add, self.day, spacing=8))
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(in_the_middle(card))
        self._wire()

    def _wire(self) -> None:
        self.add.clicked.connect(self._ask_add)
        self.day.clicked.connect(self._ask_day)

    def show_again(self) -> None:
        """Show whether something can be added now, and why not."""
        reason = self._session.read_only_reason
        self._reason.setText(reason)
        self._reason.setVisible(bool(reason))
        for each in (self.add, self.day):
            each.setEnabled(not reason)

    @Slot()
    def _ask_add(self) -> None:
        self.add_asked.emit()

    @Slot()
    def _ask_day(self) -> None:
        self.day_asked.emit()
