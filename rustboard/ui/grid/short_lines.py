"""Texts of tiles: broken at blanks and cut short, so that they fit."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QFontMetricsF

_MOST_LETTERS = 200
"""No tile shows more, and cutting a text of many hundreds short, letter by letter, is slow."""


def short_line(text: str, metrics: QFontMetricsF, width: float) -> str:
    """Return a text cut short to fit a width."""
    return metrics.elidedText(text[:_MOST_LETTERS], Qt.TextElideMode.ElideRight, width)


def short_lines(text: str, metrics: QFontMetricsF, width: float, most: int) -> list[str]:
    """Return a text broken at blanks into at most so many lines, each cut short to fit a width."""
    words, lines = text[:_MOST_LETTERS].split(), [""]
    while words and len(lines) <= most:
        longer = f"{lines[-1]} {words[0]}".strip()
        if lines[-1] and metrics.horizontalAdvance(longer) > width:
            if len(lines) == most:
                break
            lines.append("")
            continue
        lines[-1] = longer
        del words[0]
    lines[-1] = " ".join([lines[-1], *words])
    return [short_line(each, metrics, width) for each in lines]
