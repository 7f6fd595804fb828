"""The camera's clock put right: by a span, or by when one photo was really taken."""

from __future__ import annotations

from datetime import datetime

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QLabel, QPushButton, QVBoxLayout, QWidget

from rustboard.support.problems import InputError
from rustboard.ui.flow_layout import flowing
from rustboard.ui.forms.dates import DateTimeField, date_time_in
from rustboard.ui.forms.form import WrongFieldError, line_field
from rustboard.ui.intake.spans import read_span, span_text


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

    def __init__(self, now: datetime, parent: QWidget | None = None) -> None:
        """Show no shift."""
        super().__init__(parent)
        self._span = line_field(hint=self.tr("such as +1 h 03 min"), limit=40)
        self._span.setMinimumWidth(self.fontMetrics().averageCharWidth() * 14)
        self._span_label = QLabel(self.tr("Camera's &clock is wrong: shift all by"))
        self._span_label.setBuddy(self._span)
        self._shift = QPushButton(self.tr("S&hift"))
        self._when = DateTimeField(now)
        self._when_label = QLabel(self.tr("The c&hosen photo was really taken at"))
        self._when_label.setBuddy(self._when)
        self._set = QPushButton(self.tr("&Use for all"))
        for each in (self._shift, self._set):
            each.setAutoDefault(False)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        column.addWidget(flowing(self._span_label, self._span, self._shift, spacing=8))
        column.addWidget(flowing(self._when_label, self._when, self._set, spacing=8))
        self._wire()

    def _wire(self) -> None:
        self._shift.clicked.connect(self._read_span)
        self._span.returnPressed.connect(self._read_span)
        self._set.clicked.connect(self._read_when)

    def show_shift(self, seconds: int) -> None:
        """Show by how much all photos are shifted."""
        self._span.setText(span_text(seconds) if seconds else "")

    def show_chosen(self, when: datetime | None, *, has_clock: bool, there: bool) -> None:
        """Show the time of the chosen photo; without a clock of its own only that photo gets the time."""
        self._set.setText(self.tr("&Use for all") if has_clock else self.tr("&Use for this one"))
        for each in (self._when, self._set):
            each.setEnabled(there)
        if when is not None:
            self._when.set_when(when)

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
            when = date_time_in(self._when, self.tr("The year is between 1900 and 2200; check the date."))
        except WrongFieldError as error:
            self.refused.emit(error.sentence)
        else:
            self.really.emit(when)
