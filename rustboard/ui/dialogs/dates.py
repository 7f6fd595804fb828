"""Date and time in a field: the wall-clock time at the board, whatever the summer time of this computer."""

from __future__ import annotations

from datetime import datetime

from PySide6.QtCore import QDate, QDateTime, QLocale, QTime, QTimeZone
from PySide6.QtWidgets import QDateTimeEdit

from rustboard.ui.dialogs.form import WrongFieldError

EARLIEST_YEAR = 1900
LATEST_YEAR = 2200


def date_time_field(when: datetime) -> QDateTimeEdit:
    """Return a field for a date and a time, in the user's order, the year with four digits."""
    field = QDateTimeEdit()
    # In a zone without summer time every hour of the clock exists.
    field.setTimeZone(QTimeZone(QTimeZone.Initialization.UTC))
    field.setDisplayFormat(_format())
    field.setCalendarPopup(True)
    field.setDateTime(_qt(when))
    return field


def date_time_in(field: QDateTimeEdit, wrong_year: str) -> datetime:
    """Return the time in a field, to the minute as shown; seconds are kept while the field was not touched.

    Args:
        field: from `date_time_field`.
        wrong_year: the sentence for a year that no inspection can have.

    Raises:
        WrongFieldError: the year is before 1900 or after 2200.
    """
    found = field.dateTime()
    date, time = found.date(), found.time()
    if not EARLIEST_YEAR <= date.year() <= LATEST_YEAR:
        raise WrongFieldError(wrong_year, field)
    return datetime(date.year(), date.month(), date.day(), time.hour(), time.minute(), time.second())


def _qt(when: datetime) -> QDateTime:
    zone = QTimeZone(QTimeZone.Initialization.UTC)
    return QDateTime(QDate(when.year, when.month, when.day), QTime(when.hour, when.minute, when.second), zone)


def _format() -> str:
    locale = QLocale()
    date = locale.dateFormat(QLocale.FormatType.ShortFormat)
    if "yyyy" not in date:
        date = date.replace("yy", "yyyy")
    return f"{date} {locale.timeFormat(QLocale.FormatType.ShortFormat)}"
