"""How wide a text will be, near enough, where nobody knows yet which font it will be set in."""

from __future__ import annotations

import unicodedata
from typing import Final

# Hundredths of the size, from space to tilde, of a wide font: what is set in a narrower one fits all the more.
_WIDTHS: Final = (
    32, 40, 46, 84, 64, 95, 78, 27, 39, 39, 50, 84, 32, 36, 32, 34, 64, 64, 64, 64, 64, 64, 64, 64, 64, 64, 34, 34,
    84, 84, 84, 53, 100, 68, 69, 70, 77, 63, 58, 77, 75, 29, 29, 66, 56, 86, 75, 79, 60, 79, 69, 63, 61, 73, 68, 99,
    69, 61, 69, 39, 34, 39, 84, 50, 50, 61, 63, 55, 63, 62, 35, 63, 63, 28, 28, 58, 28, 97, 63, 61, 63, 63, 41, 52,
    39, 63, 59, 82, 59, 59, 52, 64, 34, 64, 84,
)  # fmt: skip
_FIRST: Final = 32
_USUAL: Final = 0.75
_BROAD: Final = frozenset("…—―™‰ЖШЩЮжшщюÆŒæœ⸺\ufffd")
"""Letters of other alphabets and marks that are as wide as their size, or a little more."""
_WIDE: Final = 1.3
BOLDER: Final = 1.14


def text_width(text: str, size: float, *, bold: bool = False) -> float:
    """Return about how wide a line is, rather too wide than too narrow."""
    return sum(map(_width, text)) * size * (BOLDER if bold else 1.0)


def _width(char: str) -> float:
    code = ord(char) - _FIRST
    if 0 <= code < len(_WIDTHS):
        return _WIDTHS[code] / 100
    if unicodedata.combining(char):
        return 0.0
    if char in _BROAD:
        return 1.1
    return _WIDE if unicodedata.east_asian_width(char) in "WF" or ord(char) > 0xFFFF else _USUAL


def fitted(text: str, size: float, width: float, *, bold: bool = False) -> str:
    """Return a text on one line, cut short with an ellipsis where it is too wide; empty where nothing would fit."""
    line = " ".join(text.split())
    if text_width(line, size, bold=bold) <= width:
        return line
    room = width - text_width("…", size, bold=bold)
    used, kept = 0.0, 0
    for char in line:
        used += text_width(char, size, bold=bold)
        if used > room:
            break
        kept += 1
    return f"{line[:kept].rstrip()}…" if kept else ""


def spread_apart(wanted: list[float], height: float, low: float, high: float) -> list[float]:
    """Return middles of labels near where they are wanted, none nearer than ``height`` to another.

    Where there is no room for all between ``low`` and ``high`` they are spaced evenly.
    """
    count = len(wanted)
    order = sorted(range(count), key=wanted.__getitem__)
    found = list(wanted)
    if count * height > high - low + height:
        step = (high - low) / max(1, count - 1)
        for rank, each in enumerate(order):
            found[each] = low + rank * step
        return found
    before = low - height
    for each in order:
        found[each] = before = max(found[each], before + height)
    limit = high
    for each in reversed(order):
        found[each] = limit = min(found[each], limit)
        limit -= height
    return found
