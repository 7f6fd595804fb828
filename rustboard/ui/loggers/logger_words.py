"""The words for how a logger's file is written and for what it says."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QT_TRANSLATE_NOOP, QCoreApplication, QLocale, QTime

from rustboard.support.text import printable
from rustboard.ui.wording import date_only, date_time, number

if TYPE_CHECKING:
    from rustboard.board.weather import WeatherFile
    from rustboard.session.weather_cells import SeenCell
    from rustboard.session.weather_intake import LoggerReading

ROLES: Final[Mapping[str, object]] = {
    "ignored": QT_TRANSLATE_NOOP("loggers", "nothing we need"),
    "time": QT_TRANSLATE_NOOP("loggers", "date and time"),
    "date": QT_TRANSLATE_NOOP("loggers", "date"),
    "clock time": QT_TRANSLATE_NOOP("loggers", "time of day"),
    "temperature": QT_TRANSLATE_NOOP("loggers", "air temperature"),
    "humidity": QT_TRANSLATE_NOOP("loggers", "relative humidity"),
    "rain": QT_TRANSLATE_NOOP("loggers", "rain since last reading"),
    "rain total": QT_TRANSLATE_NOOP("loggers", "rain, counted on and on"),
    "rain rate": QT_TRANSLATE_NOOP("loggers", "rain per hour"),
    "wind": QT_TRANSLATE_NOOP("loggers", "wind"),
    "dew point": QT_TRANSLATE_NOOP("loggers", "dew point"),
}
UNITS: Final[Mapping[str, str]] = {
    "C": "°C", "F": "°F", "K": "K", "%": "%", "mm": "mm", "mm/h": "mm/h", "in/h": "in/h", "m/s": "m/s",
    "km/h": "km/h", "mph": "mph", "kn": "kn",
}  # fmt: skip
_UNITS_IN_WORDS: Final[Mapping[str, object]] = {
    "fraction": QT_TRANSLATE_NOOP("loggers", "0 to 1"),
    "in": QT_TRANSLATE_NOOP("loggers", "inch"),
}
DELIMITERS: Final[Mapping[str, object]] = {
    ",": QT_TRANSLATE_NOOP("loggers", "comma  ,"),
    ";": QT_TRANSLATE_NOOP("loggers", "semicolon  ;"),
    "\t": QT_TRANSLATE_NOOP("loggers", "tab"),
    "|": QT_TRANSLATE_NOOP("loggers", "upright line  |"),
    " ": QT_TRANSLATE_NOOP("loggers", "blanks"),
}
DECIMAL_MARKS: Final[Mapping[str, object]] = {
    ".": QT_TRANSLATE_NOOP("loggers", "point  1.5"),
    ",": QT_TRANSLATE_NOOP("loggers", "comma  1,5"),
}
DATE_ORDERS: Final[Mapping[str, object]] = {
    "year first": QT_TRANSLATE_NOOP("loggers", "year, month, day"),
    "day first": QT_TRANSLATE_NOOP("loggers", "day, month, year"),
    "month first": QT_TRANSLATE_NOOP("loggers", "month, day, year"),
}
_MINUTE, _HOUR, _DAY = 60, 3_600, 86_400


def say(text: object) -> str:
    """Return a text of this module's kind in the user's language."""
    return QCoreApplication.translate("loggers", str(text))


def unit_text(unit: str) -> str:
    """Return a unit as it is shown."""
    return say(_UNITS_IN_WORDS[unit]) if unit in _UNITS_IN_WORDS else UNITS.get(unit, unit)


def count(value: int) -> str:
    """Return a whole number as the user writes it."""
    return QLocale().toString(value)


def interval_text(seconds: int) -> str:
    """Return a time between two readings, such as ``10 min``."""
    if seconds % _DAY == 0 and seconds:
        return say(QT_TRANSLATE_NOOP("loggers", "{0} d")).format(count(seconds // _DAY))
    if seconds % _HOUR == 0 and seconds:
        return say(QT_TRANSLATE_NOOP("loggers", "{0} h")).format(count(seconds // _HOUR))
    if seconds >= _MINUTE:
        return say(QT_TRANSLATE_NOOP("loggers", "{0} min")).format(number(seconds / _MINUTE))
    return say(QT_TRANSLATE_NOOP("loggers", "{0} s")).format(count(seconds))


def summary(reading: LoggerReading) -> str:
    """Return how many readings there are, from when to when, how often, and how many rows are left out."""
    given = reading.given
    if given is None:
        return ""
    parts = [
        say(QT_TRANSLATE_NOOP("loggers", "{0} readings from {1} to {2}")).format(
            count(given.count), date_time(given.first), date_time(given.last)
        )
    ]
    if reading.interval_seconds:
        usual = say(QT_TRANSLATE_NOOP("loggers", "usually one every {0}"))
        parts.append(usual.format(interval_text(reading.interval_seconds)))
    if given.left_out == 1:
        parts.append(say(QT_TRANSLATE_NOOP("loggers", "1 row left out")))
    elif given.left_out:
        parts.append(say(QT_TRANSLATE_NOOP("loggers", "{0} rows left out")).format(count(given.left_out)))
    else:
        parts.append(say(QT_TRANSLATE_NOOP("loggers", "no row left out")))
    return ", ".join(parts) + "."


def standing(reading: LoggerReading) -> list[str]:
    """Return what the board has of this file, and of this logger at this time."""
    said = []
    if reading.standing == "same":
        said.append(
            say(QT_TRANSLATE_NOOP("loggers", "This very file is on the board already, read in the same way; it adds "
                                             "nothing."))
        )  # fmt: skip
    elif reading.standing == "replaces":
        said.append(
            say(QT_TRANSLATE_NOOP("loggers", "This very file is on the board already, read otherwise; what is read "
                                             "now takes its place."))
        )  # fmt: skip
    if reading.overlapping:
        said.append(_overlap(reading.overlapping))
    return said


def _overlap(files: tuple[WeatherFile, ...]) -> str:
    first, last = min(each.first for each in files), max(each.last for each in files)
    names = printable(files[0].name)
    more = len(files) - 1
    if more:
        names = say(QT_TRANSLATE_NOOP("loggers", "{0} and {1} more")).format(names, count(more))
    text = say(QT_TRANSLATE_NOOP("loggers", "The board has readings of this logger from {0} to {1} already ({2}); "
                                            "what is in both counts once."))  # fmt: skip
    return text.format(date_time(first), date_time(last), names)


def repeated(reading: LoggerReading) -> str:
    """Return how often a time stands in a file more than once, or an empty text."""
    read = reading.read
    if read is None or not read.repeated_times:
        return ""
    text = say(QT_TRANSLATE_NOOP("loggers", "{0} rows have a time that was there before, {1} of them with the very "
                                            "same numbers."))  # fmt: skip
    return text.format(count(read.repeated_times), count(read.repeated_rows))


def value_text(cell: SeenCell) -> str:
    """Return what was understood of a cell: a time, or a number in the unit it is kept in."""
    value = cell.value
    if isinstance(value, datetime):
        if cell.role == "date":
            return date_only(value)
        return (
            date_time(value)
            if cell.role == "time"
            else QLocale().toString(QTime(value.hour, value.minute, value.second), QLocale.FormatType.ShortFormat)
        )
    return "" if value is None else f"{number(value, 2)} {unit_text(cell.unit)}"
