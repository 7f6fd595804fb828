"""Under the keys of a blind round: distribution letter, note, withdraw."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, Qt, Signal, Slot
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QButtonGroup, QLineEdit, QPushButton, QWidget

from rustboard.board.grade import DISTRIBUTIONS
from rustboard.session.pictures import Pattern
from rustboard.ui.flow_layout import FlowLayout

_PATTERNS: tuple[Pattern, ...] = ("S", "G", "P")


class RoundFoot(QWidget):
    """The line of choices of a blind round.

    Signals:
        letter_changed(str): a letter was pressed, or "" when it was let go.
        note_entered(str): a note was finished. left(): the keyboard should go back to the keys.
        withdraw_asked(): the grade of this showing is to be taken back.
    """

    letter_changed = Signal(str)
    note_entered = Signal(str)
    left = Signal()
    withdraw_asked = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        """Build the line."""
        super().__init__(parent)
        names = (self.tr("Spot"), self.tr("General"), self.tr("Pinpoint"), self.tr("Hybrid"))
        self._letters = QButtonGroup(self)
        self._letters.setExclusive(False)
        row = FlowLayout(self)
        for number, (letter, name) in enumerate(zip(DISTRIBUTIONS, names, strict=True)):
            button = QPushButton(self.tr("{0}  {1}").format(letter, name))
            button.setCheckable(True)
            button.setAccessibleName(self.tr("Distribution {0}").format(name))
            button.setToolTip(self.tr("Distribution: {0}. Key: {1}").format(name, letter))
            self._letters.addButton(button, number)
            row.addWidget(button)
        self._note = QLineEdit()
        self._note.setPlaceholderText(self.tr("Note"))
        self._note.setAccessibleName(self.tr("Note for this grade"))
        self._note.setToolTip(self.tr("A note goes with this grade. Key: N"))
        self._note.setMaxLength(20_000)
        self._note.setMinimumWidth(180)
        self.withdraw = QPushButton(self.tr("Withdraw grade"))
        self.withdraw.setToolTip(self.tr("Take this grade back. Key: Del"))
        row.addWidget(self._note)
        row.addWidget(self.withdraw)
        for each in (*self._letters.buttons(), self.withdraw):
            each.setFocusPolicy(Qt.FocusPolicy.TabFocus)  # a click leaves the keyboard with the grades
        self._note_before = ""
        self._note.installEventFilter(self)
        self._wire()

    def _wire(self) -> None:
        self._letters.idClicked.connect(self._pressed)
        self._note.editingFinished.connect(self.finish_note)
        self.withdraw.clicked.connect(self.withdraw_asked)

    def letter(self) -> str:
        """Return the letter pressed, or an empty text."""
        return next((each for at, each in enumerate(DISTRIBUTIONS) if self._letters.button(at).isChecked()), "")

    def pattern(self) -> Pattern:
        """Return which reference pictures go with the letter: spots unless another was pressed."""
        return next((each for each in _PATTERNS if each == self.letter()), "S")

    def press_letter(self, letter: str) -> None:
        """Press a letter as its key does; pressing it again lets it go."""
        self._letters.button(DISTRIBUTIONS.index(letter)).click()

    def note(self) -> str:
        """Return the note as typed."""
        return self._note.text()

    def edit_note(self) -> None:
        """Bring the keyboard to the note."""
        self._note.setFocus()

    def set_values(self, letter: str, note: str, *, graded: bool) -> None:
        """Show letter and note of a showing; nothing is told of it."""
        for at, each in enumerate(DISTRIBUTIONS):
            self._letters.button(at).setChecked(each == letter)
        self._note_before = note
        self._note.setText(note)
        self._note.setModified(False)
        self.withdraw.setEnabled(graded)

    @Slot(int)
    def _pressed(self, number: int) -> None:
        for at in range(len(DISTRIBUTIONS)):
            if at != number:
                self._letters.button(at).setChecked(False)
        self.letter_changed.emit(self.letter())

    @Slot()
    def finish_note(self) -> None:
        """Tell of the note when something was typed since it was shown."""
        if self._note.isModified():
            self._note.setModified(False)
            self.note_entered.emit(self._note.text())

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Let Enter and Esc in the note lead back to the keys; Esc takes back what was typed."""
        if watched is self._note and isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress:
            if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
                self.finish_note()
                self.left.emit()
                return True
            if event.key() == Qt.Key.Key_Escape:
                self.set_values(self.letter(), self._note_before, graded=self.withdraw.isEnabled())
                self.left.emit()
                return True
        return super().eventFilter(watched, event)
