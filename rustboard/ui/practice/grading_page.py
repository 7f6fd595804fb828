"""One coupon after the other: the picture, the keys, and the truth where it is told."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt, Signal, Slot
from PySide6.QtGui import QFont, QKeyEvent
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from rustboard.scales.practice import TOTAL
from rustboard.session.practice import Practice, Truth
from rustboard.ui.practice.coupon_view import CouponView
from rustboard.ui.practice.enter_key import focused_button, is_enter
from rustboard.ui.practice.grade_keys import GradeKeys
from rustboard.ui.practice.side_card import SideCard
from rustboard.ui.practice.step_bar import StepBar
from rustboard.ui.practice.words import part_name
from rustboard.ui.theme import Scheme, px_of_mm

_CARD_IN_LETTERS = 34
_TOUCH_MM = 9.0
_HARMLESS = Qt.KeyboardModifier.KeypadModifier | Qt.KeyboardModifier.ShiftModifier


class GradingPage(QWidget):
    """Serves one exercise.

    Signals:
        next_wanted(): paint what is wanted now. told(str): why answers are not on the disk, or an empty text.
        finished(): every coupon is graded. leave_asked(): go on later.

    Attributes:
        view: the coupon. keys: the eleven keys. card: beside it.
    """

    next_wanted = Signal()
    told = Signal(str)
    finished = Signal()
    leave_asked = Signal()

    def __init__(self, practice: Practice, scheme: Scheme) -> None:
        """Start without an exercise."""
        super().__init__()
        self._practice = practice
        self._truth: Truth | None = None
        self._last: int | None = None
        self._waiting = True
        self.view, self.keys, self.card = CouponView(scheme), GradeKeys(scheme), SideCard()
        self._bar, self._beside = StepBar(scheme), QScrollArea()
        self._part, self._place = QLabel(), QLabel()
        self._leave = QPushButton(self.tr("&Leave, and go on later"))
        self._leave.setToolTip(self.tr("Every answer is kept. Key: Esc"))
        self._build()
        self._wire()

    def _build(self) -> None:
        large = QFont(self.font())
        large.setPointSizeF(large.pointSizeF() * 1.15)
        large.setWeight(QFont.Weight.DemiBold)
        for each in (self._part, self._place):
            each.setFont(large)
        self._leave.setAutoDefault(False)
        self._leave.setMinimumHeight(px_of_mm(self, _TOUCH_MM))
        head = QHBoxLayout()
        head.addWidget(self._part, 1)
        head.addWidget(self._place)
        head.addSpacing(12)
        head.addWidget(self._leave)
        self._beside.setWidgetResizable(True)  # on a very low screen the card is scrolled
        self._beside.setFrameShape(QFrame.Shape.NoFrame)
        self._beside.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._beside.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._beside.setWidget(self.card)
        middle = QHBoxLayout()
        middle.addWidget(self.view, 1)
        middle.addWidget(self._beside)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addLayout(head)
        column.addWidget(self._bar)
        column.addLayout(middle, 1)
        column.addWidget(self.keys)

    def _wire(self) -> None:
        self.keys.given.connect(self.give)
        self.card.go_on_asked.connect(self.go_on)
        self.card.mark_asked.connect(self._mark)
        self._leave.clicked.connect(self.leave_asked)

    def sizeHint(self) -> QSize:
        """Ask for the room that there is; the dialog bounds it."""
        return super().sizeHint().expandedTo(QSize(900, 640))

    def begin(self) -> None:
        """Show the exercise that was just begun or taken up."""
        self._last = None
        self._beside.setFixedWidth(self.fontMetrics().averageCharWidth() * _CARD_IN_LETTERS)
        self.card.mark.setChecked(False)
        self.view.setFocus()  # or the first button of the page would have the keyboard, which leaves
        self._ask()

    # ---- coupon after coupon

    def _ask(self) -> None:
        """Ask for the next grade, or say that there is none."""
        self._truth = None
        part = self._practice.part
        if part is None:
            self.finished.emit()
            return
        if self.card.go_on.hasFocus() or self.card.mark.hasFocus() or not self._has_keyboard():
            self.view.setFocus()
        number = self._practice.number
        self._bar.show_done(number)
        self._part.setText(part_name(part))
        self._place.setText(self.tr("{0} of {1}").format(number + 1, TOTAL))
        self._waiting = True
        self.card.wait()
        self.look()
        self.next_wanted.emit()

    def look(self) -> None:
        """Show the coupon if it is painted by now."""
        if self._truth is not None or not self._waiting:
            return
        shown = self._practice.shown()
        self.view.show_coupon(shown)
        self._enable_keys(shown is not None)
        if shown is not None:
            self._waiting = False
            self.card.ask(self._practice.part, self._last)

    def _has_keyboard(self) -> bool:
        focused = self.focusWidget()
        return focused is not None and focused.hasFocus()

    def _enable_keys(self, on: bool) -> None:
        if not on and any(each.hasFocus() for each in self.keys.keys.values()):
            self.view.setFocus()  # a key that goes grey would hand the keyboard to some other place
        self.keys.take(on)

    @Slot(int)
    def give(self, grade: int) -> None:
        """Give a grade for the coupon shown."""
        if self._waiting or self._truth is not None:
            return
        self._last = grade
        self._truth = self._practice.answer(grade)
        self.told.emit(self._practice.trouble)
        if self._truth is None:
            self._ask()
            return
        self._bar.show_done(self._practice.number)
        self._enable_keys(False)
        self.keys.tell(self._truth.grade)
        self.card.tell(self._truth)
        self._mark(self.card.mark.isChecked())
        self.card.go_on.setFocus()
        self.next_wanted.emit()  # the one after is painted while the truth is read

    @Slot()
    def go_on(self) -> None:
        """Leave the truth for the next coupon."""
        if self._truth is not None:
            self._ask()

    @Slot(bool)
    def _mark(self, on: bool) -> None:
        if self._truth is not None:
            self.view.mark(self._truth.rust if on else None)

    # ---- keys

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Take grades, M for the marks, and Enter or Space to go on."""
        if event.isAutoRepeat() or event.modifiers() & ~_HARMLESS:
            super().keyPressEvent(event)
            return
        text = event.text().upper()
        if len(text) == 1 and text in "0123456789T":
            self.give(10 if text == "T" else int(text))
        elif text == "M" and self._truth is not None:
            self.card.mark.toggle()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space):
            self._press(event)
        else:
            super().keyPressEvent(event)

    def _press(self, event: QKeyEvent) -> None:
        """Press the key or button that has the keyboard; else go on."""
        button = focused_button(self)
        if button is None:
            self.go_on()
        elif is_enter(event):  # a button takes Space by itself
            button.click()
