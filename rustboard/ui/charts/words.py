"""Words that pictures share, in the user's language."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication

from rustboard.ui.wording import number


def say(text: str) -> str:
    """Return a text of a picture in the user's language."""
    return QCoreApplication.translate("charts", text)


def shown(value: float | None, decimals: int = 1) -> str:
    """Return a number in the user's format; a dash where there is none, and never minus nothing."""
    return "–" if value is None else number(round(value, decimals) + 0.0, decimals)


def range_words(low: float | None, high: float | None, decimals: int = 1) -> str:
    """Return an interval in words; empty where there is none."""
    if low is None or high is None:
        return ""
    return say("{0} to {1}").format(shown(low, decimals), shown(high, decimals))
