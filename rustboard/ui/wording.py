"""How dates, days, grades and positions are written on the screen: in the user's own format."""

from __future__ import annotations

import textwrap
from datetime import datetime
from html import escape

from PySide6.QtCore import QCoreApplication, QDate, QDateTime, QLocale, QTime, QTimeZone

from rustboard.board.grade import written
from rustboard.board.model import Coupon, Grading
from rustboard.board.record import BoardRecord
from rustboard.support.summary import Summary
from rustboard.support.text import printable

_LONGEST_TIP = 600
_TIP_WIDTH = 80


def say(text: str) -> str:
    """Return a text of this module's kind in the user's language."""
    return QCoreApplication.translate("wording", text)


def date_time(when: datetime) -> str:
    """Return a date and time in the user's short format."""
    return QLocale().toString(_qt(when), QLocale.FormatType.ShortFormat)


def date_only(when: datetime) -> str:
    """Return a date in the user's short format."""
    return QLocale().toString(_qt(when).date(), QLocale.FormatType.ShortFormat)


def _qt(when: datetime) -> QDateTime:
    # In a zone without summer time every hour of the clock exists.
    zone = QTimeZone(QTimeZone.Initialization.UTC)
    return QDateTime(QDate(when.year, when.month, when.day), QTime(when.hour, when.minute, when.second), zone)


def day_text(day: float) -> str:
    """Return days of exposure as people say them: ``day 14``."""
    return say("day {0}").format(QLocale().toString(round(day)))


def number(value: float, decimals: int = 1) -> str:
    """Return a number with the user's decimal mark, without needless zeros."""
    text = QLocale().toString(float(value), "f", decimals)
    point = QLocale().decimalPoint()
    return text.rstrip("0").removesuffix(point) if point in text else text


def size_text(size: int) -> str:
    """Return the size of a file as people say it: ``7.3 MB``."""
    return QLocale().formattedDataSize(size, 1, QLocale.DataSizeFormat.DataSizeSIFormat)


def grade_text(grading: Grading | None) -> str:
    """Return a grade as the trade writes it, or a dash."""
    return "–" if grading is None else written(grading.grade, grading.distribution)


def summary_text(summary: Summary) -> str:
    """Return what an operation did, in the user's language, safe to show."""
    return printable(summary.text(QCoreApplication.translate("summary", summary.pattern)))


def coupon_title(record: BoardRecord, coupon: Coupon) -> str:
    """Return position, id and treatment of a coupon in one line."""
    treatment = record.treatment_of(coupon)
    parts = [coupon.position.label if coupon.position is not None else say("off the board"), coupon.id]
    if treatment is not None:
        parts.append(treatment.title)
    return printable(" · ".join(parts))


def tool_tip(text: str) -> str:
    """Return a user's text as a tool tip: in lines no wider than a screen, and never taken for markup."""
    lines = textwrap.wrap(printable(text)[:_LONGEST_TIP], _TIP_WIDTH)
    return f"<p style='white-space: pre'>{'<br>'.join(map(escape, lines))}</p>" if lines else ""
