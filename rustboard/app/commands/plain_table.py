"""Aligned tables for a terminal, whatever the cells hold."""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence
from typing import Final

from rustboard.support.text import one_line

WIDEST: Final = 40
"""Most terminal columns of one table column but the last."""

WIDEST_LAST: Final = 100

_GAP: Final = "  "


def plain_table(titles: Sequence[str], rows: Sequence[Sequence[str]], right: frozenset[str] = frozenset()) -> str:
    """Return a table under a line of titles; columns in which no row says anything are left out.

    Args:
        titles: of the columns.
        rows: cells as text, as many in each row as there are titles.
        right: titles of the columns to set flush right, such as numbers.
    """
    said = [index for index in range(len(titles)) if any(row[index] for row in rows)]
    if not said:
        return ""
    limits = [WIDEST] * (len(said) - 1) + [WIDEST_LAST]
    lines = [[_cut(row[index], limit) for index, limit in zip(said, limits, strict=True)] for row in (titles, *rows)]
    widths = [max(terminal_width(line[place]) for line in lines) for place in range(len(said))]
    flush_right = [titles[index] in right for index in said]
    return "\n".join(
        _GAP.join(_padded(cell, width, flush) for cell, width, flush in zip(line, widths, flush_right, strict=True))
        .rstrip()
        for line in lines
    )  # fmt: skip


def terminal_width(text: str) -> int:
    """Return how many columns a terminal needs for a text: wide East Asian characters and emoji take two."""
    if text.isascii():
        return len(text)
    return sum(_character_width(char) for char in text)


def _character_width(char: str) -> int:
    if unicodedata.category(char) in {"Mn", "Me", "Cf"}:
        return 0
    return 2 if unicodedata.east_asian_width(char) in {"W", "F"} else 1


def _cut(text: str, limit: int) -> str:
    shown = one_line(text)
    if terminal_width(shown) <= limit:
        return shown
    kept, width = [], 1  # one column for the sign that something is missing
    for char in shown:
        width += _character_width(char)
        if width > limit:
            break
        kept.append(char)
    return "".join(kept) + "…"


def _padded(cell: str, width: int, flush_right: bool) -> str:
    blanks = " " * (width - terminal_width(cell))
    return blanks + cell if flush_right else cell + blanks
