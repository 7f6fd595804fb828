"""What was measured in a photo, in words: the same in the photo screen, in grading and on the tiles."""

from __future__ import annotations

from PySide6.QtCore import QT_TRANSLATE_NOOP, QCoreApplication, QLocale

from rustboard.board.grade import carries_letter, written
from rustboard.board.measured import Measurement
from rustboard.scales.rust_grade import UPPER_LIMITS, grade_from_percent

_MOST_DECIMALS = 5

PRESENT_WORDS = {
    "missing": str(QT_TRANSLATE_NOOP("measured", "The coupon is not there.")),
    "other": str(QT_TRANSLATE_NOOP("measured", "Another coupon hangs here.")),
    "unsure": str(QT_TRANSLATE_NOOP("measured", "It is not sure that this is the same coupon.")),
}
"""What a photo says of a coupon that is not plainly there."""


def say(text: str) -> str:
    """Return a text of this module in the user's language."""
    return QCoreApplication.translate("measured", text)


def percent_text(percent: float) -> str:
    """Return a percentage of the surface in few figures; more where few would say another grade, or nothing."""
    if percent <= 0:
        return "0"
    grade = grade_from_percent(percent)
    start = 0 if percent >= 10 else 1 if percent >= 1 else 2
    for decimals in range(start, _MOST_DECIMALS):
        shown = round(percent, decimals)
        if shown > 0 and grade_from_percent(min(shown, 100.0)) == grade:
            return QLocale().toString(float(percent), "f", decimals)
    return QLocale().toString(float(percent), "f", _MOST_DECIMALS)


def measured_grade(found: Measurement) -> str:
    """Return the grade that a measurement suggests, as the trade writes it; a dash where nothing was measured."""
    if found.percent is None:
        return "–"
    grade = grade_from_percent(found.percent)
    return written(grade, found.distribution if carries_letter(grade) else "")


def range_text(found: Measurement) -> str:
    """Return the measurement's own range: ``0.05 to 0.30``; empty where there is none."""
    if found.low is None or found.high is None:
        return ""
    return say("{0} to {1}").format(percent_text(found.low), percent_text(found.high))


def suggestion_text(found: Measurement) -> str:
    """Return a measurement in one line: ``photo: 7-S, 0.12 % (0.05 to 0.30)``."""
    if found.percent is None:
        return say("photo: not measured")
    text = say("photo: {0}, {1} %").format(measured_grade(found), percent_text(found.percent))
    if found.low is not None and found.high is not None:
        text = say("{0} ({1})").format(text, range_text(found))
    if hides_rust(found):
        text = say("{0}, not resolvable below {1} %").format(text, percent_text(found.resolvable_percent))
    return text


def photo_cell(found: Measurement) -> str:
    """Return a measurement for a table: ``7-S, 0.12 %``."""
    if found.percent is None:
        return "–"
    return say("{0}, {1} %").format(measured_grade(found), percent_text(found.percent))


def hides_rust(found: Measurement) -> bool:
    """Return whether a 10 may be one only because the photo could not show less rust than a 9 has."""
    clean = found.percent is not None and grade_from_percent(found.percent) == 10
    return clean and found.resolvable_percent > UPPER_LIMITS[0]
