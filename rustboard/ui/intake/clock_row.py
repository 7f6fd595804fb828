"""The camera's clock put right: by a span, or by when one photo was really taken."""

from __future__ import annotations

from datetime import datetime, timedelta

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QLabel, QPushButton, QVBoxLayout, QWidget

from rustboard.support.problems import InputError
from rustboard.ui.flow_layout import flowing
from rustboard.ui.forms.form import WrongFieldError, line_field
from rustboard.ui.forms.labels import words_label
from rustboard.ui.forms.typed_time import TypedTimeField
from rustboard.ui.intake.spans import read_span, span_text
from rustboard.ui.wording import date_time


class ClockRow(QWidget):
    """Two ways to say the same.

    Signals:
        shifted(int): all photos are this many seconds later than their files say.
        really(object): the chosen photo was taken at this `datetime`.
        refused(str): what was typed cannot be read.
    """

    shifted = Signal(object)
    really = Signal(object)
    refused = Signal(str)

    def __init__(self, now: datetime, parent: QWidget | None = None, *, on_board: bool = False) -> None:
        """Show no shift; photos on the board (``on_board``) are shifted from the time they have."""
        super().__init__(parent)
        self._on_board = on_board
        self._from: datetime | None = None
        self._result = words_label(muted=True, narrow=True)
        self._span = line_field(hint=self.tr("such as +1 h 03 min"), limit=40)
        self._span.setMinimumWidth(self.fontMetrics().averageCharWidth() * 14)
        self._span_label = QLabel(self.tr("Camera's &clock is wrong: shift all by"))
        self._span_label.setBuddy(self._span)
        self._shift = QPushButton(self.tr("S&hift"))
        self._when = TypedTimeField(now)
        self._when_label = QLabel(self.tr("The c&hosen photo was really taken at"))
        self._when_label.setBuddy(self._when)
        self._set = QPushButton(self.tr("&Use for all"))
        for each in (self._shift, self._set):
            each.setAutoDefault(False)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        column.addWidget(flowing(self._span_label, self._span, self._shift, spacing=8))
        column.addWidget(self._result)
        column.addWidget(flowing(self._when_label, self._when, self._set, spacing=8))
        self._wire()
        self._show_result()

    def _wire(self) -> None:
        self._span.textChanged.connect(self._show_result)
        self._when.returnPressed.connect(self._read_when)
        self._shift.clicked.connect(self._read_span)
        self._span.returnPressed.connect(self._read_span)
        self._set.clicked.connect(self._read_when)

    def show_shift(self, seconds: int) -> None:
        """Show by how much all photos are shifted."""
        self._span.setText(span_text(seconds) if seconds else "")

    def show_chosen(
        self, when: datetime | None, *, has_clock: bool, there: bool, counted_from: datetime | None = None
    ) -> None:
        """Show the time of the chosen photo; without a clock of its own only that photo gets the time.

        A shift of it counts from ``counted_from``.
        """
        self._from = counted_from
        self._show_result()
        self._set.setText(self.tr("&Use for all") if has_clock else self.tr("&Use for this one"))
        for each in (self._when, self._set):
            each.setEnabled(there)
        if when is not None:
            self._when.set_when(when)

    @Slot()
    def _show_result(self) -> None:
        """Say from where the shift counts, and what it makes of the chosen photo's time as it is typed."""
        if self._on_board:
            rule = self.tr("Counted from the time a photo has now.")
            result = self.tr("Counted from the time the photo has now: {0} becomes {1}.")
        else:
            rule = self.tr("Counted from the camera's time, whatever was set before.")
            result = self.tr("Counted from the camera's time: {0} becomes {1}.")
        text = self._span.text()
        try:
            seconds = read_span(text) if text.strip() else 0
            then = None if self._from is None else self._from + timedelta(seconds=seconds)
        except (InputError, OverflowError):
            then = None
        if self._from is not None and then is not None:
            rule = result.format(date_time(self._from), date_time(then))
        self._result.setText(rule)

    @Slot()
    def _read_span(self) -> None:
        text = self._span.text()
        try:
            self.shifted.emit(read_span(text) if text.strip() else 0)
        except InputError as error:
            self.refused.emit(error.problem.what)

    @Slot()
    def _read_when(self) -> None:
        try:
            when = self._when.when()
        except WrongFieldError as error:
            self.refused.emit(error.sentence)
        else:
            self.really.emit(when)
