"""Between the rounds: who graded, who is next, and the way to reveal. Nothing that is hidden is said here."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from rustboard.board.blind import MOST_ROUNDS, BlindInspection
from rustboard.session.blind_rounds import graded_in, rounds_of
from rustboard.session.session import Session
from rustboard.support.text import printable
from rustboard.ui.enter_presses import press_by_enter
from rustboard.ui.forms.form import known_field, text_of
from rustboard.ui.forms.labels import words_label
from rustboard.ui.middle_card import in_the_middle, new_card
from rustboard.ui.wording import date_time


class Overview(QWidget):
    """The page to which every grader comes and goes.

    Signals:
        begin_asked(str): somebody of this name wants to begin a round.
        go_on_asked(int): a round, by key, is to be gone on with.
        reveal_asked(): everything is to be shown again.
        shelf_asked(): back to all boards, with everything hidden as it is.
    """

    begin_asked = Signal(str)
    go_on_asked = Signal(int)
    reveal_asked = Signal()
    shelf_asked = Signal()

    def __init__(self, session: Session, blind: BlindInspection, grader: str, parent: QWidget | None = None) -> None:
        """Show a blind inspection; ``grader`` is offered as the first to grade."""
        super().__init__(parent)
        self._session, self._blind, self._grader = session, blind, grader
        inspection = session.record.inspections[blind.inspection]
        heading = QLabel(self.tr("Blind inspection of {0}").format(date_time(inspection.at)))
        heading.setProperty("heading", True)
        self._words = words_label()
        self._rounds = QGridLayout()
        self._rounds.setHorizontalSpacing(16)
        self._rounds.setColumnStretch(0, 1)
        self._buttons: list[QPushButton] = []
        self.name = known_field("", (each.grader for each in session.record.inspections.values()))
        self.name.setAccessibleName(self.tr("Name of who grades next"))
        self.begin = QPushButton(self.tr("Begin the round"))
        self.reveal = QPushButton()
        self.sure, self.not_yet = QPushButton(self.tr("Reveal now")), QPushButton(self.tr("Not yet"))
        self._asking = False  # whether to reveal, which cannot be taken back
        self._reveal_words = words_label(muted=True)
        self._shelf = QPushButton(self.tr("Interrupt, to all boards"))
        self._lay_out(heading)
        self._wire()
        self.show_again()

    def _lay_out(self, heading: QLabel) -> None:
        card, inside = new_card()
        inside.addWidget(heading)
        inside.addWidget(self._words)
        inside.addLayout(self._rounds)
        self._next = QLabel(self.tr("&Who grades next:"))
        self._next.setBuddy(self.name)
        row = QHBoxLayout()
        row.addWidget(self._next)
        row.addWidget(self.name, 1)
        row.addWidget(self.begin)
        inside.addLayout(row)
        inside.addWidget(self._reveal_words)
        foot = QHBoxLayout()
        foot.addWidget(self._shelf)
        foot.addStretch(1)
        for each in (self.reveal, self.not_yet, self.sure):
            foot.addWidget(each)
        inside.addLayout(foot)
        page = QVBoxLayout(self)
        page.setContentsMargins(0, 0, 0, 0)
        page.addWidget(in_the_middle(card))

    def _wire(self) -> None:
        self.begin.clicked.connect(self._begin)
        self.reveal.clicked.connect(self._ask_once_more)
        self.sure.clicked.connect(self.reveal_asked)
        self.not_yet.clicked.connect(self._think_better)
        self._shelf.clicked.connect(self.shelf_asked)
        line = self.name.lineEdit()
        if line is not None:
            line.returnPressed.connect(self._begin)

    def show_again(self) -> None:
        """Show the rounds as they are now."""
        record, writable = self._session.record, not self._session.read_only_reason
        rounds = rounds_of(record, self._blind)
        self._words.setText(self._basis_words())
        self._show_rounds()
        for each in (self._next, self.name, self.begin):
            each.setVisible(writable and len(rounds) < MOST_ROUNDS)
        offered = "" if any(each.grader.casefold() == self._grader.casefold() for each in rounds) else self._grader
        self.name.setEditText(offered)
        anything = any(graded_in(record, each) for each in rounds)
        open_ones = sum(each.finished is None for each in rounds)
        self.reveal.setText(self.tr("Reveal") if anything else self.tr("Do not grade blind"))
        self._asking = self._asking and anything and writable
        self.reveal.setVisible(writable and not self._asking)
        for each in (self.sure, self.not_yet):
            each.setVisible(self._asking)
        self._reveal_words.setText(self._words_of_reveal(anything=anything, open_ones=open_ones))
        done = anything and not open_ones
        for button, first in ((self.reveal, done), (self.begin, not rounds)):
            button.setProperty("primary", first)
            button.style().unpolish(button)
            button.style().polish(button)

    def _basis_words(self) -> str:
        if self._session.read_only_reason:
            words = self.tr("{0} It is being graded blind and stays hidden here until it is revealed.")
            return words.format(printable(self._session.read_only_reason))
        if self._blind.basis == "photo":
            words = self.tr(
                "Graded from the photo. Treatments, ids, all other grades and what the photo says stay hidden. Each "
                "grader has one round and does not see the others' grades."
            )
        else:
            words = self.tr(
                "Graded at the bench, by position alone. Treatments, ids and all other grades stay hidden. Each "
                "grader has one round and does not see the others' grades."
            )
        return words

    def _words_of_reveal(self, *, anything: bool, open_ones: int) -> str:
        if not anything:
            return self.tr("Nothing is graded yet. You can still stop, and grade this inspection openly.")
        if open_ones:
            return self.tr(
                "Revealing now closes the rounds that are not finished; what was given counts. It cannot be taken "
                "back."
            )
        return self.tr(
            "Reveal when everybody has graded: the board then gets its grades, and you see how well the graders "
            "agree. It cannot be taken back."
        )

    def _show_rounds(self) -> None:
        while (item := self._rounds.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        self._buttons = []
        record = self._session.record
        for row, each in enumerate(rounds_of(record, self._blind)):
            name = QLabel(printable(each.grader))
            name.setTextFormat(Qt.TextFormat.PlainText)
            count = self.tr("{0} of {1}").format(graded_in(record, each), len(each.showings))
            state = QLabel(self.tr("{0}, finished").format(count) if each.finished is not None else count)
            state.setProperty("muted", True)
            self._rounds.addWidget(name, row, 0)
            self._rounds.addWidget(state, row, 1)
            if each.finished is None and not self._session.read_only_reason:
                button = QPushButton(self.tr("Go on"))
                button.setAccessibleName(self.tr("Go on with the round of {0}").format(printable(each.grader)))
                button.setProperty("round", each.key)
                self._rounds.addWidget(button, row, 2)
                self._buttons.append(button)
        self._wire_rounds()

    def _wire_rounds(self) -> None:
        for each in self._buttons:
            each.clicked.connect(self._go_on)

    def take_keyboard(self) -> None:
        """Bring the keyboard to what is most likely next."""
        if self._buttons:
            self._buttons[0].setFocus()
        elif self.reveal.property("primary"):
            self.reveal.setFocus()
        else:
            self.name.setFocus()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Let Enter press the button that has the keyboard."""
        if not press_by_enter(self, event):
            super().keyPressEvent(event)

    @Slot()
    def _ask_once_more(self) -> None:
        """Reveal where there is nothing to see; else ask, with the keyboard on what changes nothing."""
        if not any(graded_in(self._session.record, each) for each in rounds_of(self._session.record, self._blind)):
            self.reveal_asked.emit()
            return
        self._asking = True
        self.show_again()
        self.not_yet.setFocus()

    @Slot()
    def _think_better(self) -> None:
        self._asking = False
        self.show_again()
        self.take_keyboard()

    @Slot()
    def _begin(self) -> None:
        self._asking = False
        self.begin_asked.emit(text_of(self.name))

    @Slot()
    def _go_on(self) -> None:
        button = self.sender()
        if isinstance(button, QPushButton):
            self._asking = False
            self.go_on_asked.emit(int(button.property("round")))
