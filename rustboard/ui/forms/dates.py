"""Date and time in a field: the wall-clock time at the board, whatever the summer time of this computer."""

from __future__ import annotations

from datetime import datetime
from typing import Final

from PySide6.QtCore import QDate, QDateTime, QLocale, Qt, QTime, QTimeZone
from PySide6.QtGui import QFocusEvent, QKeyEvent, QMouseEvent
from PySide6.QtWidgets import QDateTimeEdit, QWidget

from rustboard.ui.forms.form import WrongFieldError

EARLIEST_YEAR: Final = 1900
LATEST_YEAR: Final = 2200

_DAY: Final = QDateTimeEdit.Section.DaySection


class DateTimeField(QDateTimeEdit):
    """A date and a time in the user's order, the year with four digits.

    A day that is typed before its month is kept: whoever types 31 12 over a date in April gets the 31st, although
    there is no 31 April on the way. (The field alone would make it the 30th, and say nothing.)
    """

    def __init__(self, when: datetime, parent: QWidget | None = None) -> None:
        """Show a time."""
        super().__init__(parent)
        self._day = ""
        # In a zone without summer time every hour of the clock exists.
        self.setTimeZone(QTimeZone(QTimeZone.Initialization.UTC))
        self.setDisplayFormat(long_year_format())
        self.setCalendarPopup(True)
        self.setDateTime(_qt(when))

    def when(self) -> datetime:
        """Return the time in the field; the seconds, which are not shown, are those it began with."""
        self._put_typed_day_back()
        found = self.dateTime()
        date, time = found.date(), found.time()
        return datetime(date.year(), date.month(), date.day(), time.hour(), time.minute(), time.second())

    def set_when(self, when: datetime) -> None:
        """Show another time."""
        self._day = ""
        self.setDateTime(_qt(when))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Note the day that is typed."""
        before = self.currentSection()
        digit = event.text() if event.text() in set("0123456789") else ""
        super().keyPressEvent(event)
        if before == _DAY and digit:
            self._day = (self._day + digit)[-2:]
        elif before == _DAY and event.key() in (Qt.Key.Key_Backspace, Qt.Key.Key_Delete):
            self._day = ""
        if self.currentSection() != before:
            self._put_typed_day_back()
            if self.currentSection() == _DAY:
                self._day = ""

    def stepBy(self, steps: int) -> None:
        """Forget the typed day: the arrows start from what is shown."""
        self._day = ""
        super().stepBy(steps)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Forget the typed day: another part, or the calendar, is chosen."""
        self._put_typed_day_back()
        self._day = ""
        super().mousePressEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Settle the day."""
        super().focusOutEvent(event)
        self._put_typed_day_back()

    def _put_typed_day_back(self) -> None:
        date = self.date()
        day = int(self._day or 0)
        if date.day() < day <= date.daysInMonth():
            section = self.currentSection()
            self.setDate(QDate(date.year(), date.month(), day))
            self.setSelectedSection(section)


def date_time_in(field: DateTimeField, wrong_year: str) -> datetime:
    """Return the time in a field.

    Args:
        field: the field.
        wrong_year: the sentence for a year that cannot be.

    Raises:
        WrongFieldError: the year is before 1900 or after 2200.
    """
    found = field.when()
    if not EARLIEST_YEAR <= found.year <= LATEST_YEAR:
        raise WrongFieldError(wrong_year, field)
    return found


def _qt(when: datetime) -> QDateTime:
    zone = QTimeZone(QTimeZone.Initialization.UTC)
    return QDateTime(QDate(when.year, when.month, when.day), QTime(when.hour, when.minute, when.second), zone)


def long_year_format() -> str:
    """Return the user's short format of date and time, the year with four digits."""
    return f"{long_date_format()} {QLocale().timeFormat(QLocale.FormatType.ShortFormat)}"


def long_date_format() -> str:
    """Return the user's short format of a date, the year with four digits."""
    date = QLocale().dateFormat(QLocale.FormatType.ShortFormat)
    return date if "yyyy" in date else date.replace("yy", "yyyy")
