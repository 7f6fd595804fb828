"""What every dialog shares: fields that scroll, one sentence for what is wrong, OK and Cancel."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager

from PySide6.QtCore import QEvent, QObject, QSize, Qt, Slot
from PySide6.QtGui import QIcon, QKeySequence, QPalette, QShortcut, QShowEvent
from PySide6.QtWidgets import (
    QAbstractSpinBox,
    QComboBox,
    QCompleter,
    QDialogButtonBox,
    QFormLayout,
    QFrame,
    QLabel,
    QLineEdit,
    QPlainTextEdit,
    QPushButton,
    QScrollArea,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from rustboard.support.problems import InputError
from rustboard.support.text import NAME_LIMIT, one_line
from rustboard.ui.forms.fitting_dialog import FittingDialog
from rustboard.ui.forms.labels import add_labelled

_FIELD_IN_LETTERS = 18


class WrongFieldError(Exception):
    """What the user must mend before the dialog closes.

    Attributes:
        sentence: what is wrong and how to mend it.
        field: the field it is in.
    """

    def __init__(self, sentence: str, field: QWidget) -> None:
        super().__init__(sentence)
        self.sentence = sentence
        self.field = field


@contextmanager
def blamed_on(field: QWidget) -> Iterator[None]:
    """Let what a rule refuses in the block be mended in this field."""
    try:
        yield
    except InputError as error:
        raise WrongFieldError(error.problem.what, field) from None


class ProblemLine(QFrame):
    """One sentence at the foot of a dialog, hidden while there is none."""

    def __init__(self, parent: QWidget | None = None) -> None:
        """Build the line, hidden."""
        super().__init__(parent)
        self.setProperty("message", "error")
        self._label = QLabel()
        self._label.setWordWrap(True)
        self._label.setTextFormat(Qt.TextFormat.PlainText)
        self._label.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        column = QVBoxLayout(self)
        column.setContentsMargins(8, 4, 8, 4)
        column.addWidget(self._label)
        self.hide()

    def text(self) -> str:
        """Return the sentence, or an empty text while there is none."""
        return "" if self.isHidden() else self._label.text()

    def say(self, sentence: str) -> None:
        """Show a sentence; an empty one hides the line."""
        self._label.setText(sentence)
        self.setAccessibleName(sentence)
        self.setVisible(bool(sentence))


class FormDialog(FittingDialog):
    """Fields under one another; OK reads them and closes only when they are right.

    Attributes:
        problem: the sentence for what must be mended.
        width_in_letters: how wide it likes to be.
    """

    width_in_letters = 62

    def __init__(self, title: str, parent: QWidget | None = None) -> None:
        """Build an empty form."""
        super().__init__(parent)
        self.setWindowTitle(one_line(title, 120))
        self.setModal(True)
        self.problem = ProblemLine()
        self._inside = QWidget()
        self._form = QFormLayout(self._inside)
        self._form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.AllNonFixedFieldsGrow)
        self._form.setRowWrapPolicy(QFormLayout.RowWrapPolicy.DontWrapRows)
        self._form.setLabelAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        self._scroll = QScrollArea()
        self._scroll.setWidgetResizable(True)
        self._scroll.setFrameShape(QFrame.Shape.NoFrame)
        self._scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._scroll.setWidget(self._inside)
        self._scroll.viewport().setBackgroundRole(QPalette.ColorRole.Window)
        self._inside.setAutoFillBackground(False)
        self._buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Ok | QDialogButtonBox.StandardButton.Cancel)
        for each in self._buttons.buttons():
            each.setIcon(QIcon())  # some desktops put a picture on them, and it does not follow the colours here
        self._buttons.button(QDialogButtonBox.StandardButton.Ok).setProperty("primary", True)
        self._wheel = WheelGuard(self)
        self._column = QVBoxLayout(self)
        self._column.addWidget(self._scroll, 1)
        self._column.addWidget(self.problem)
        self._column.addWidget(self._buttons)
        self._wire_form()

    def _wire_form(self) -> None:
        self._buttons.accepted.connect(self.accept)
        self._buttons.rejected.connect(self.reject)
        # In a note, Enter begins a new line.
        done = QShortcut(QKeySequence(Qt.Modifier.CTRL | Qt.Key.Key_Return), self)
        done.activated.connect(self.accept)

    def add_row(self, label: str, field: QWidget, buddy: QWidget | None = None) -> None:
        """Add a field with its label; the label's letter with ``&`` brings the keyboard to ``buddy`` or the field."""
        add_labelled(self._form, label, field, buddy)
        for each in (field, *field.findChildren(QWidget)):
            if isinstance(each, QComboBox | QAbstractSpinBox):
                self._wheel.watch(each)
        self._wire_lines(field)

    def _wire_lines(self, widget: QWidget) -> None:
        for each in (widget, *widget.findChildren(QLineEdit)):
            if isinstance(each, QLineEdit):
                each.textEdited.connect(self._forget_problem)

    @Slot()
    def _forget_problem(self) -> None:
        """Say no longer what may be mended by now; OK looks again."""
        self.problem.say("")

    def ok_button(self) -> QPushButton:
        """Return the button that closes the dialog with what is in it."""
        return self._buttons.button(QDialogButtonBox.StandardButton.Ok)

    def add_text(self, widget: QWidget) -> None:
        """Add something over the whole width."""
        self._form.addRow(widget)
        self._wire_lines(widget)

    def read(self) -> None:
        """Read the fields into the value that the dialog hands back.

        Raises:
            WrongFieldError: something must be mended first.
            InputError: the same, without a field that is to blame.
        """
        raise NotImplementedError

    @Slot()
    def accept(self) -> None:
        """Close when the fields are right; else say what is wrong and go there."""
        try:
            self.read()
        except WrongFieldError as error:
            self._complain(error.sentence)
            self._go_to(error.field)
        except InputError as error:
            self._complain(error.problem.what)
        else:
            super().accept()

    def _complain(self, sentence: str) -> None:
        self.problem.say(sentence)
        self._grow()  # the sentence takes no room from the fields while the screen has more

    def _grow(self) -> None:
        if self.isVisible():
            self.resize(self.width(), max(self.height(), self.sizeHint().height()))

    def _go_to(self, field: QWidget) -> None:
        field.setFocus(Qt.FocusReason.OtherFocusReason)
        if isinstance(field, QLineEdit):
            field.selectAll()
        self._scroll.ensureWidgetVisible(field)

    def sizeHint(self) -> QSize:
        """Return a size that shows all fields, or as much as the screen has room for."""
        margins, room = self._column.contentsMargins(), self._room()
        beside = margins.left() + margins.right()
        width = max(self._inside.sizeHint().width() + beside, self._letters(self.width_in_letters)) + 4
        width = min(width, room.width())
        seen = max(width, self.width() if self.isVisible() else 0)
        height = self._fields_height(seen - beside) + self._buttons.sizeHint().height() + self._column.spacing()
        if not self.problem.isHidden():
            height += self.problem.sizeHint().height() + self._column.spacing()
        return QSize(width, height + margins.top() + margins.bottom() + 4).boundedTo(room)

    def _fields_height(self, width: int) -> int:
        """Return how high the fields are where they and their scroll bar have this width."""
        return self._inside.sizeHint().height()

    def minimumSizeHint(self) -> QSize:
        """Return a size in which two or three fields are still seen."""
        width = max(self._inside.minimumSizeHint().width() + 40, self._letters(40))
        return QSize(width, self.fontMetrics().height() * 9).boundedTo(self._room())

    def showEvent(self, event: QShowEvent) -> None:
        """Take the size that fits, and let it not be made too small."""
        self.setMinimumSize(self.minimumSizeHint())
        super().showEvent(event)

    def _letters(self, count: int) -> int:
        return self.fontMetrics().averageCharWidth() * count


class WheelGuard(QObject):
    """Keeps the wheel for scrolling: a field it passes over changes only when it has the keyboard."""

    def watch(self, field: QWidget) -> None:
        """Guard a field."""
        field.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        field.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Pass a wheel event on to the form."""
        if event.type() == QEvent.Type.Wheel and isinstance(watched, QWidget) and not watched.hasFocus():
            event.ignore()
            return True
        return super().eventFilter(watched, event)


def line_field(text: str = "", *, hint: str = "", limit: int = NAME_LIMIT) -> QLineEdit:
    """Return a field for one line."""
    field = QLineEdit()
    field.setMaxLength(limit)
    field.setText(one_line(text, limit))
    field.setCursorPosition(0)
    field.setPlaceholderText(hint)
    field.setMinimumWidth(field.fontMetrics().averageCharWidth() * _FIELD_IN_LETTERS)
    return field


def note_field(text: str = "") -> QPlainTextEdit:
    """Return a field for a few lines; Tab leaves it."""
    field = QPlainTextEdit()
    field.setPlainText(text)
    field.setTabChangesFocus(True)
    field.setFixedHeight(round(field.fontMetrics().lineSpacing() * 3.2) + 14)
    return field


def choice_field(texts: Iterable[str] = ()) -> QComboBox:
    """Return a list to choose from whose width does not follow its longest text."""
    field = QComboBox()
    field.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
    field.setMinimumContentsLength(_FIELD_IN_LETTERS)
    field.addItems(list(texts))
    return field


def known_field(text: str, known: Iterable[str]) -> QComboBox:
    """Return a field for one line that offers what was written there before; anything may be typed."""
    field = choice_field()
    field.setEditable(True)
    field.setInsertPolicy(QComboBox.InsertPolicy.NoInsert)
    field.addItems(sorted({one_line(each) for each in known if each.strip()}, key=str.casefold))
    line = QLineEdit()
    line.setMaxLength(NAME_LIMIT)
    line.setStyleSheet("QLineEdit { border: none; padding: 0px; background: transparent; }")  # the list has a frame
    field.setLineEdit(line)
    completer = line.completer()
    if completer is not None:
        # Completing in place would put words into the field that the user did not type.
        completer.setCompletionMode(QCompleter.CompletionMode.PopupCompletion)
    field.setCurrentIndex(-1)
    field.setEditText(one_line(text))
    line.setCursorPosition(0)
    return field


def text_of(field: QLineEdit | QComboBox) -> str:
    """Return what is in a field, as one safe line."""
    return one_line(field.currentText() if isinstance(field, QComboBox) else field.text())
