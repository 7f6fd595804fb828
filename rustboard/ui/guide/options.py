"""Beside the keys: distribution letter, what the guide shows, note, withdraw."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, Qt, Signal, Slot
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QButtonGroup, QCheckBox, QComboBox, QLabel, QLineEdit, QPushButton, QWidget

from rustboard.board.grade import DISTRIBUTIONS
from rustboard.session.pictures import At, Pattern
from rustboard.ui.flow_layout import FlowLayout

_PATTERNS: tuple[Pattern, ...] = ("S", "G", "P")
_PLACES: tuple[At, ...] = ("lightest", "middle", "heaviest")


class GradingOptions(QWidget):
    """The line of choices under the coupon's title.

    Signals:
        letter_changed(str): a distribution letter was pressed, or "" when it was let go.
        guide_changed(): other reference pictures are wanted.
        by_percent_changed(bool): coupons are to be graded by a percent, or by the keys again.
        note_entered(str): a note was finished.
        withdraw_asked(): the grade at this inspection is to be taken back.
        left(): the keyboard should go back to the keys.
    """

    letter_changed = Signal(str)
    guide_changed = Signal()
    by_percent_changed = Signal(bool)
    note_entered = Signal(str)
    withdraw_asked = Signal()
    left = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        """Build the line."""
        super().__init__(parent)
        names = (self.tr("Spot"), self.tr("General"), self.tr("Pinpoint"), self.tr("Hybrid"))
        self._letters = QButtonGroup(self)
        self._letters.setExclusive(False)
        self._row = row = FlowLayout(self)
        for number, (letter, name) in enumerate(zip(DISTRIBUTIONS, names, strict=True)):
            button = QPushButton(self.tr("{0}  {1}").format(letter, name))
            button.setCheckable(True)
            button.setAccessibleName(self.tr("Distribution {0}").format(name))
            button.setToolTip(self.tr("Distribution: {0}. Key: {1}").format(name, letter))
            button.setFocusPolicy(Qt.FocusPolicy.TabFocus)
            self._letters.addButton(button, number)
            row.addWidget(button)
        self._pattern = self._choice(
            (self.tr("spots"), self.tr("general"), self.tr("pinpoints")), self.tr("Guide shows")
        )
        self._place = self._choice(
            (self.tr("least for the grade"), self.tr("middle of the grade"), self.tr("most for the grade")),
            self.tr("Area shown"),
        )
        self._place.setCurrentIndex(1)
        self._own = QCheckBox(self.tr("on this coupon"))
        self._own.setToolTip(self.tr("Paint the reference rust on this coupon as it was on day zero. Key: C"))
        self._note = QLineEdit()
        self._note.setPlaceholderText(self.tr("Note"))
        self._note.setAccessibleName(self.tr("Note for this grade"))
        self._note.setMaxLength(20_000)
        self._note.setMinimumWidth(90)
        self._withdraw = QPushButton(self.tr("Withdraw grade"))
        self._by_percent = QPushButton(self.tr("%  By percent"))
        self._by_percent.setCheckable(True)
        self._by_percent.setAccessibleName(self.tr("Grade by percent"))
        self._by_percent.setToolTip(
            self.tr("Choose the percent rusted with a slider and its live picture; the grade follows. Key: %")
        )
        row.addWidget(self._by_percent)
        row.addWidget(QLabel(self.tr("Guide:")))
        for each in (self._pattern, self._place, self._own):
            row.addWidget(each)
        row.addWidget(self._note)
        row.addWidget(self._withdraw)
        # A click leaves the keyboard where it is, so that the keys for grades work on; Tab still comes here.
        for choice in (self._by_percent, self._pattern, self._place, self._own, self._withdraw):
            choice.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self._may_be_own = True
        self._note_before = ""
        self._note.installEventFilter(self)
        self._wire()

    def _choice(self, texts: tuple[str, ...], name: str) -> QComboBox:
        box = QComboBox()
        box.addItems(texts)
        box.setAccessibleName(name)
        box.setToolTip(name)
        box.setFocusPolicy(Qt.FocusPolicy.TabFocus)  # a click leaves the keyboard with the grades
        return box

    def _wire(self) -> None:
        self._letters.idClicked.connect(self._letter_pressed)
        self._pattern.activated.connect(self.guide_changed)
        self._place.activated.connect(self.guide_changed)
        self._own.toggled.connect(self.guide_changed)
        self._by_percent.toggled.connect(self.by_percent_changed)
        self._note.editingFinished.connect(self.finish_note)
        self._withdraw.clicked.connect(self.withdraw_asked)

    def leave_out_own(self) -> None:
        """Offer no guide on the coupon itself, which would show what it was like before."""
        self._may_be_own = False
        self._own.hide()

    def add(self, widget: QWidget) -> None:
        """Put something of the panel's at the end of the line."""
        self._row.addWidget(widget)

    def letter(self) -> str:
        """Return the letter pressed, or an empty text."""
        number = next((at for at in range(len(DISTRIBUTIONS)) if self._letters.button(at).isChecked()), -1)
        return DISTRIBUTIONS[number] if number >= 0 else ""

    def press_letter(self, letter: str) -> None:
        """Press a letter as its key does; pressing it again lets it go."""
        self._letters.button(DISTRIBUTIONS.index(letter)).click()

    def pattern(self) -> Pattern:
        """Return how the rust is strewn in the guide."""
        return _PATTERNS[self._pattern.currentIndex()]

    def place(self) -> At:
        """Return where in each grade's interval the guide is drawn."""
        return _PLACES[self._place.currentIndex()]

    def on_coupon(self) -> bool:
        """Return whether the guide is painted on the coupon itself."""
        return self._own.isChecked()

    def toggle_on_coupon(self) -> None:
        """Paint the guide on the coupon, or on plain steel again; nothing where that is not offered."""
        if not self._own.isHidden():
            self._own.toggle()

    def show_by_percent(self, by_percent: bool) -> None:
        """Show whether coupons are graded by percent; nothing is told of it. What means nothing then is hidden."""
        self._by_percent.blockSignals(True)
        self._by_percent.setChecked(by_percent)
        self._by_percent.blockSignals(False)
        self._place.setVisible(not by_percent)
        self._own.setVisible(self._may_be_own and not by_percent)

    def toggle_by_percent(self) -> None:
        """Grade by percent, or by the keys again, as the switch does."""
        self._by_percent.click()

    def set_least_height(self, px: int) -> None:
        """Make everything to press at least this high; 0 for as high as it is otherwise."""
        pressed = [*self._letters.buttons(), self._by_percent, self._pattern, self._place, self._own]
        for each in (*pressed, self._note, self._withdraw):
            each.setMinimumHeight(px)

    def note(self) -> str:
        """Return the note as typed."""
        return self._note.text()

    def edit_note(self) -> None:
        """Bring the keyboard to the note."""
        self._note.setFocus()

    def set_values(self, letter: str, note: str, *, graded: bool) -> None:
        """Show a coupon's letter and note; nothing is told of it."""
        self.show_letter(letter)
        self._put_note(note)
        self._withdraw.setEnabled(graded)

    def show_letter(self, letter: str) -> None:
        """Show a letter as pressed, or none; nothing is told of it."""
        for at, each in enumerate(DISTRIBUTIONS):
            self._letters.button(at).setChecked(each == letter)
        self._follow_letter(letter)

    def _put_note(self, note: str) -> None:
        self._note_before = note
        self._note.setText(note)
        self._note.setModified(False)

    def _follow_letter(self, letter: str) -> None:
        if letter in _PATTERNS and self._pattern.currentIndex() != _PATTERNS.index(letter):
            self._pattern.setCurrentIndex(_PATTERNS.index(letter))

    @Slot(int)
    def _letter_pressed(self, number: int) -> None:
        for at in range(len(DISTRIBUTIONS)):
            if at != number:
                self._letters.button(at).setChecked(False)
        letter = self.letter()
        before = self.pattern()
        self._follow_letter(letter)
        self.letter_changed.emit(letter)
        if self.pattern() != before:
            self.guide_changed.emit()

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
                self._put_note(self._note_before)
                self.left.emit()
                return True
        return super().eventFilter(watched, event)
