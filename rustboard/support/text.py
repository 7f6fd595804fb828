"""Text from strangers made safe to keep, show and hand to a spreadsheet."""

from __future__ import annotations

import unicodedata

NAME_LIMIT = 1_000
"""Most characters kept of an id, a name or any other single line."""

NOTE_LIMIT = 20_000
"""Most characters kept of a note."""

_FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r")
# Left-to-right and right-to-left overrides and isolates can make one name look like another.
_DIRECTION_MARKS = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\u200e\u200f\u061c")


def printable(text: str, *, lines: bool = False) -> str:
    """Return ``text`` with every character that cannot be shown replaced by U+FFFD.

    Control characters, lone surrogates, direction marks and non-characters are replaced, so that the loss is
    seen. With ``lines``, line breaks and tabs stay; without, they become spaces.
    """
    if text.isprintable():  # the usual case: nothing to do
        return text
    shown = []
    for char in text:
        if char in "\n\t" and lines:
            shown.append(char)
        elif char in "\n\r\t\u2028\u2029":
            shown.append(" " if not lines else "\n" if char != "\r" else "")
        elif char in _DIRECTION_MARKS or unicodedata.category(char) in {"Cc", "Cs"} or char in "\ufffe\uffff":
            shown.append("\ufffd")
        else:
            shown.append(char)
    return "".join(shown)


def one_line(text: str, limit: int = NAME_LIMIT) -> str:
    """Return ``text`` as one safe line of at most ``limit`` characters, without blanks at its ends."""
    return printable(text).strip()[:limit]


def many_lines(text: str, limit: int = NOTE_LIMIT) -> str:
    """Return ``text`` as safe text that may hold line breaks, at most ``limit`` characters."""
    return printable(text, lines=True).strip()[:limit]


def spreadsheet_safe(text: str) -> str:
    """Return ``text`` so that no spreadsheet program runs it as a formula when it opens a CSV.

    A leading apostrophe is put before a text that starts like a formula (common practice, no standard).
    `from_spreadsheet` takes it off again.
    """
    return f"'{text}" if text.startswith(_FORMULA_STARTS) else text


def from_spreadsheet(text: str) -> str:
    """Undo `spreadsheet_safe`."""
    return text[1:] if text[:1] == "'" and text[1:].startswith(_FORMULA_STARTS) else text
