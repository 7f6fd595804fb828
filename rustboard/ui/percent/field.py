"""A field for a percent: followed while it is typed, given by Enter, taken back by Esc."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtGui import QFocusEvent, QKeyEvent
from PySide6.QtWidgets import QLineEdit, QWidget

from rustboard.board.cells import read_decimal
from rustboard.scales.rust_grade import check_percent
from rustboard.support.problems import InputError
from rustboard.support.text import one_line
from rustboard.ui.wording import number

_LETTERS = 8
_MOST_LETTERS = 40
_DECIMALS = 6


def percent_text(percent: float) -> str:
    """Return a percent with the user's decimal mark, without its sign."""
    return number(percent, _DECIMALS)


class PercentField(QLineEdit):
    """A line for a percent with a decimal point or a decimal comma.

    Signals:
        typed(float): what stands in it is another percent.
        entered(float): Enter was pressed on a percent.
        left(): the keyboard is to go back to where it was.
        refused(str): Enter was pressed on what is no percent; one sentence.
    """

    typed = Signal(float)
    entered = Signal(float)
    left = Signal()
    refused = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        """Build it empty."""
        super().__init__(parent)
        self._percent = self._before = 0.0
        self._typing = False
        self.setMaxLength(_MOST_LETTERS)
        self.setFixedWidth(self.fontMetrics().horizontalAdvance("0") * _LETTERS + 16)
        self.setAccessibleName(self.tr("Percent rusted"))
        self.setToolTip(self.tr("The percent rusted, with a decimal point or comma; Enter gives it."))
        self._wire()

    def _wire(self) -> None:
        self.textEdited.connect(self._follow)

    def show_percent(self, percent: float) -> None:
        """Show a percent; what is being typed stays as it is typed."""
        self._percent = percent
        if not self._typing:
            self.setText(percent_text(percent))

    def begin(self, text: str) -> None:
        """Take the keyboard, and this as the first that is typed."""
        self.setFocus(Qt.FocusReason.OtherFocusReason)
        self.setText(text)
        self._follow(text)

    @Slot(str)
    def _follow(self, text: str) -> None:
        self._typing = True
        try:
            self.typed.emit(_percent_in(text))
        except InputError:
            return  # it may become one; Enter says what is wrong with it

    def end_typing(self) -> None:
        """Show the percent as it is again."""
        self._typing = False
        self.show_percent(self._percent)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Give by Enter, take back by Esc; the keys of the slider are left to it."""
        if event.key() in (Qt.Key.Key_Up, Qt.Key.Key_Down, Qt.Key.Key_PageUp, Qt.Key.Key_PageDown):
            self.end_typing()
            event.ignore()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            if not event.isAutoRepeat():  # a key held down must not grade the coupons that follow
                self._enter()
        elif event.key() == Qt.Key.Key_Escape:
            self.end_typing()
            self.typed.emit(self._before)
            self.end_typing()
            self.left.emit()
        else:
            super().keyPressEvent(event)

    def _enter(self) -> None:
        try:
            percent = _percent_in(self.text())
        except InputError as error:
            self.refused.emit(error.problem.what)
            return
        self._typing = False
        self.left.emit()
        self.entered.emit(percent)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Remember what Esc goes back to."""
        super().focusInEvent(event)
        self._before = self._percent

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Show the percent as it is, whatever was half typed."""
        super().focusOutEvent(event)
        self.end_typing()


def _percent_in(text: str) -> float:
    """Return the percent that was typed.

    Raises:
        InputError: it is none.
    """
    percent = read_decimal(one_line(text).removesuffix("%").strip())
    check_percent(percent)
    return percent
