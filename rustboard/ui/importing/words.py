"""What the steps of importing say, in the user's language."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QT_TRANSLATE_NOOP, QCoreApplication, QLocale

from rustboard.support.text import printable
from rustboard.ui.wording import date_only, date_time

if TYPE_CHECKING:
    from rustboard.board.old_grades.reading import OldReading

MEANINGS: Final[dict[str, object]] = {
    "nothing": QT_TRANSLATE_NOOP("importing", "not used"),
    "coupon": QT_TRANSLATE_NOOP("importing", "coupon"),
    "position": QT_TRANSLATE_NOOP("importing", "position"),
    "treatment": QT_TRANSLATE_NOOP("importing", "treatment"),
    "family": QT_TRANSLATE_NOOP("importing", "family of the treatment"),
    "role": QT_TRANSLATE_NOOP("importing", "role: test or control"),
    "substrate": QT_TRANSLATE_NOOP("importing", "substrate"),
    "date": QT_TRANSLATE_NOOP("importing", "date"),
    "time": QT_TRANSLATE_NOOP("importing", "time of day"),
    "grade": QT_TRANSLATE_NOOP("importing", "grade"),
    "percent": QT_TRANSLATE_NOOP("importing", "percent rusted"),
    "distribution": QT_TRANSLATE_NOOP("importing", "distribution letter"),
    "grader": QT_TRANSLATE_NOOP("importing", "grader"),
    "source": QT_TRANSLATE_NOOP("importing", "source of the grade"),
    "note": QT_TRANSLATE_NOOP("importing", "note"),
    "photo": QT_TRANSLATE_NOOP("importing", "name of a photo"),
    "grade of a day": QT_TRANSLATE_NOOP("importing", "grades of a day"),
    "percent of a day": QT_TRANSLATE_NOOP("importing", "percents of a day"),
    "distribution of a day": QT_TRANSLATE_NOOP("importing", "letters of a day"),
    "note of a day": QT_TRANSLATE_NOOP("importing", "notes of a day"),
}

DATED_BY: Final[dict[str, object]] = {
    "camera": QT_TRANSLATE_NOOP("importing", "camera"),
    "name": QT_TRANSLATE_NOOP("importing", "file name"),
    "folder": QT_TRANSLATE_NOOP("importing", "name of the folder"),
    "file": QT_TRANSLATE_NOOP("importing", "file's own time (weak)"),
}


def say(text: object) -> str:
    """Return one of the texts above in the user's language."""
    return QCoreApplication.translate("importing", str(text))


def count(number: int) -> str:
    """Return a number as the user writes it."""
    return QLocale().toString(number)


def told_of(reading: OldReading) -> str:
    """Return what a table holds in one line."""
    days = reading.days()
    parts = [
        say(QT_TRANSLATE_NOOP("importing", "Coupons: {0}")).format(count(len(reading.coupons))),
        say(QT_TRANSLATE_NOOP("importing", "days: {0}")).format(count(len(days))),
        say(QT_TRANSLATE_NOOP("importing", "grades: {0}")).format(count(len(reading.grades))),
    ]
    if days:
        span = say(QT_TRANSLATE_NOOP("importing", "from {0} to {1}"))
        parts.append(span.format(date_only(days[0]), date_only(days[-1])))
    if reading.refused:
        bad = say(QT_TRANSLATE_NOOP("importing", "cells that cannot be used: {0}"))
        parts.append(bad.format(count(reading.refused)))
    return ", ".join(parts)


def moment_text(when: datetime, *, has_hour: bool = True) -> str:
    """Return a time, or a date where the hour is not known."""
    return date_time(when) if has_hour else date_only(when)


def plain_lines(texts: Sequence[str]) -> list[str]:
    """Return texts that are safe to show, a line each."""
    return [" ".join(printable(each).split()) for each in texts]
