"""Text from strangers made safe to keep, show and hand to a spreadsheet."""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence

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
    for char in text.replace("\r\n", "\n"):
        if char in "\n\t" and lines:
            shown.append(char)
        elif char in "\n\r\t\u2028\u2029":
            shown.append("\n" if lines else " ")
        elif _cannot_be_shown(char):
            shown.append("\ufffd")
        else:
            shown.append(char)
    return "".join(shown)


def _cannot_be_shown(char: str) -> bool:
    code = ord(char)
    non_character = code & 0xFFFE == 0xFFFE or 0xFDD0 <= code <= 0xFDEF  # Unicode, section 23.7 (from memory)
    return non_character or char in _DIRECTION_MARKS or unicodedata.category(char) in {"Cc", "Cs"}


def one_line(text: str, limit: int = NAME_LIMIT) -> str:
    """Return ``text`` as one safe line of at most ``limit`` characters, without blanks at its ends."""
    return printable(text).strip()[:limit].rstrip()


def many_lines(text: str, limit: int = NOTE_LIMIT) -> str:
    """Return ``text`` as safe text that may hold line breaks, at most ``limit`` characters."""
    return printable(text, lines=True).strip()[:limit].rstrip()


def spreadsheet_safe(text: str) -> str:
    """Return ``text`` so that no spreadsheet program runs it as a formula when it opens a CSV.

    A leading apostrophe is put before a text that starts like a formula (common practice, no standard).
    `from_spreadsheet` takes it off again, and so it is put as well before a text that has apostrophes there already.
    """
    return f"'{text}" if _starts_like_formula(text) else text


def from_spreadsheet(text: str) -> str:
    """Undo `spreadsheet_safe`."""
    return text[1:] if text.startswith("'") and _starts_like_formula(text) else text


def _starts_like_formula(text: str) -> bool:
    return text.lstrip("'").startswith(_FORMULA_STARTS)


def counted(number: int, thing: str) -> str:
    """Return a number with its noun: ``1 coupon``, ``21 coupons``."""
    return f"{number} {thing}" if number == 1 else f"{number} {thing}s"


def some_of(names: Sequence[str], most: int) -> str:
    """Return the first names of many in a list: ``A, B, …``; all of them when there are at most ``most``."""
    return ", ".join([*names[:most], *(["…"] if len(names) > most else [])])
