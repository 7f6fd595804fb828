"""Date and time as plain text: typed in any order of keys, understood when it is asked for."""

from __future__ import annotations

import re
from datetime import datetime
from typing import Final

from PySide6.QtCore import QCoreApplication, QDate, QDateTime, QLocale, QTime, QTimeZone
from PySide6.QtWidgets import QLineEdit, QWidget

from rustboard.ui.forms.dates import EARLIEST_YEAR, LATEST_YEAR, long_year_format
from rustboard.ui.forms.form import WrongFieldError

_MOST_LETTERS: Final = 60
_NUMBER: Final = re.compile(r"[0-9]+")
_LETTERS: Final = re.compile(r"[^\W\d_]+")
_TIME_PARTS, _DATE_PARTS = (2, 3), 3


class TypedTimeField(QLineEdit):
    """A line in which a date and a time are written as people write them.

    Understood are the user's own order of day, month and year, and the year first; a time alone keeps the date that
    was shown. What was not touched comes back as it was, seconds too.
    """

    def __init__(self, when: datetime, parent: QWidget | None = None) -> None:
        """Show a time."""
        super().__init__(parent)
        self.setMaxLength(_MOST_LETTERS)
        self._shown, self._shown_text = when, ""
        self.set_when(when)
        wide = max(self.fontMetrics().horizontalAdvance(each) for each in (self._shown_text, "28/12/2026 12:58 PM"))
        self.setMinimumWidth(wide + 3 * self.fontMetrics().averageCharWidth())

    def set_when(self, when: datetime) -> None:
        """Show another time."""
        self._shown, self._shown_text = when, shown_time(when)
        self.setText(self._shown_text)

    def when(self) -> datetime:
        """Return the time that is written.

        Raises:
            WrongFieldError: it cannot be understood, or cannot be.
        """
        text = self.text().strip()
        if text == self._shown_text.strip():
            return self._shown
        found = read_time(text, self._shown)
        if found is None or not EARLIEST_YEAR <= found.year <= LATEST_YEAR:
            what = QCoreApplication.translate("dates", "Write day and hour like {0}; years are from 1900 to 2200.")
            raise WrongFieldError(what.format(shown_time(self._shown)), self)
        return found


def shown_time(when: datetime) -> str:
    """Return a date and time in the user's short format, the year with four digits."""
    zone = QTimeZone(QTimeZone.Initialization.UTC)  # without summer time every hour of the clock exists
    date, time = QDate(when.year, when.month, when.day), QTime(when.hour, when.minute)
    return QLocale().toString(QDateTime(date, time, zone), long_year_format())


def read_time(text: str, shown: datetime) -> datetime | None:
    """Return the time that a text means, or None; a time alone is of the day of ``shown``."""
    numbers = _NUMBER.findall(text)
    words = {each.lower() for each in _LETTERS.findall(text)}
    if len(numbers) in _TIME_PARTS and ":" in text:
        date: tuple[int, int, int] | None = (shown.year, shown.month, shown.day)
        clock = numbers
    else:
        date, clock = _date_of(numbers[:_DATE_PARTS]), numbers[_DATE_PARTS:]
    hour = _clock_of([int(each) for each in clock], words)
    if date is None or hour is None:
        return None
    try:
        return datetime(*date, *hour)
    except (ValueError, OverflowError):
        return None


def _date_of(numbers: list[str]) -> tuple[int, int, int] | None:
    if len(numbers) != _DATE_PARTS or any(len(each) > 4 for each in numbers):
        return None
    order = "yMd" if len(numbers[0]) == 4 else "".join(dict.fromkeys(re.sub("[^yMd]", "", long_year_format())))
    if sorted(order) != sorted("yMd"):
        return None
    by_letter = dict(zip(order, numbers, strict=True))
    year = int(by_letter["y"])
    return (year if len(by_letter["y"]) > 2 else 2000 + year, int(by_letter["M"]), int(by_letter["d"]))


def _clock_of(numbers: list[int], words: set[str]) -> tuple[int, int, int] | None:
    if len(numbers) not in _TIME_PARTS:
        return None
    hour, minute, second = (*numbers, 0)[:3]
    noon = {each.strip(".").lower() for each in (QLocale().pmText(), "pm", "p")}
    morning = {each.strip(".").lower() for each in (QLocale().amText(), "am", "a")}
    if words & (noon | morning):
        if not 1 <= hour <= 12:
            return None
        hour = hour % 12 + (12 if words & noon else 0)
    return hour, minute, second
