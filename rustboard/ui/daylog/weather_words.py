"""What the weather of a day is called on the screen, and what a note of it says."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime, time
from typing import Final

from PySide6.QtCore import QT_TRANSLATE_NOOP, QCoreApplication, QDate, QLocale

from rustboard.board.weather import Condition, DayNote, Site, assumed_wet_hours
from rustboard.ui.wording import number

_NAMES: Final[dict[Condition, str]] = {
    "dry": str(QT_TRANSLATE_NOOP("daylog", "dry")),
    "dew": str(QT_TRANSLATE_NOOP("daylog", "dew")),
    "rain": str(QT_TRANSLATE_NOOP("daylog", "rain")),
    "fog": str(QT_TRANSLATE_NOOP("daylog", "fog")),
    "frost": str(QT_TRANSLATE_NOOP("daylog", "frost")),
    "snow": str(QT_TRANSLATE_NOOP("daylog", "snow")),
}


def _say(text: str) -> str:
    return QCoreApplication.translate("daylog", text)


def condition_name(condition: Condition) -> str:
    """Return what a condition is called, in the user's language."""
    return _say(_NAMES[condition])


def day_name(day: date) -> str:
    """Return a day with its weekday, in the user's long format."""
    return QLocale().toString(QDate(day.year, day.month, day.day), QLocale.FormatType.LongFormat)


def midday(day: date) -> datetime:
    """Return noon of a day: when something happened that day, unless somebody says at what hour."""
    return datetime.combine(day, time(12))


def note_words(note: DayNote | None) -> str:
    """Return what is noted of a day in one line."""
    if note is None:
        return _say("Nothing is noted of the weather.")
    parts = [", ".join(map(condition_name, note.conditions))] if note.conditions else []
    if note.rain_mm is not None:
        parts.append(_say("{0} mm of rain").format(number(note.rain_mm)))
    if note.lowest_c is not None and note.highest_c is not None:
        parts.append(_say("{0} to {1} °C").format(number(note.lowest_c), number(note.highest_c)))
    elif note.highest_c is not None:
        parts.append(_say("up to {0} °C").format(number(note.highest_c)))
    elif note.lowest_c is not None:
        parts.append(_say("down to {0} °C").format(number(note.lowest_c)))
    if note.wet_hours is not None:
        parts.append(_say("wet for {0} hours").format(number(note.wet_hours)))
    if note.note:
        parts.append(note.note.replace("\n", " "))
    return "; ".join(parts)


def assumption_words(conditions: Sequence[Condition], wet_hours: float | None, site: Site) -> str:
    """Return for how many hours a day with these conditions will count as wet, and on whose word."""
    if wet_hours is not None:
        return _say("Counts as {0} hours wet, as you say.").format(number(wet_hours))
    hours = assumed_wet_hours(conditions, site)
    if hours is not None:
        words = _say("Counts as {0} hours wet unless you say how many; the assumption is under Site and clock.")
        return words.format(number(hours))
    if "dry" in conditions:
        return _say("Counts as dry all day. A dry day has no dew, rain, fog, frost or snow.")
    if "frost" in conditions:
        return _say("Counts as not wet: at or below 0 °C nothing is wet in the sense of ISO 9223.")
    return _say("Says nothing about wetness yet: tick what the day was like.")
