"""What people type into one cell, and what it means: numbers, grades, roles.

Every function takes the text of one cell and raises `InputError` with a sentence that says how to mend it; the
caller adds the file, the row and the column.
"""

from __future__ import annotations

import math
import re
import unicodedata
from typing import Final

from rustboard.board.grade import DISTRIBUTIONS, GRADES, check_grade
from rustboard.board.model import Role
from rustboard.support.problems import InputError
from rustboard.support.text import one_line

_DECIMAL: Final = re.compile(r"[+-]?(?:[0-9]+(?:[.,][0-9]*)?|[.,][0-9]+)(?:[eE][+-]?[0-9]{1,3})?")
_GRADE: Final = re.compile(r"([+-]?[0-9]+(?:[.,][0-9]*)?)\s*-?\s*([A-Za-z])?")
_TWO_GRADES: Final = re.compile(r"[0-9]+[\s-]*[A-Za-z]?\s*[/;|&]\s*[0-9]+[\s-]*[A-Za-z]?")
_NO_GRADE: Final = frozenset({"n/a", "na", "n.a.", "-", "–", "—", "?", "x", "none", "null", "nan", "not graded"})
_MINUS_SIGNS: Final = str.maketrans({"−": "-", "‐": "-", "‑": "-", "–": "-"})
_DISTRIBUTION_WORDS: Final = {"spot": "S", "general": "G", "pinpoint": "P", "hybrid": "H"}


def quoted(text: str, limit: int = 40) -> str:
    """Return ``text`` in quotation marks as a sentence shows it: one line, cut when long."""
    shown = one_line(text)
    return f"“{shown[:limit]}…”" if len(shown) > limit else f"“{shown}”"


def identity(text: str) -> str:
    """Return the form in which two ids count as the same.

    Upper and lower case, wide and narrow forms, and characters that take no room make no difference (Unicode
    NFKC and case folding): nobody could tell such ids apart on a board.
    """
    if text.isascii():  # the usual case
        return text.casefold()
    plain = unicodedata.normalize("NFKC", text).casefold()
    return "".join(char for char in plain if unicodedata.category(char) != "Cf")


def read_needed(text: str) -> str:
    """Return the text of a cell that must not be empty."""
    if not text:
        raise InputError("This must not be left empty.")
    return text


def read_decimal(text: str) -> float:
    """Return a number written with a decimal point or a decimal comma.

    Raises:
        InputError: no number, two separators such as ``1,234.5``, or too large.
    """
    if _DECIMAL.fullmatch(text) is None:
        raise InputError(
            f"{quoted(text)} is not a number; write digits with one decimal point or comma, such as 2.5."
        )
    value = float(text.replace(",", "."))
    if not math.isfinite(value):
        raise InputError(f"{quoted(text)} is too large a number; mend it.")
    return value


def read_whole(text: str) -> int:
    """Return a whole number; ``2.0`` is one as well."""
    value = read_decimal(text)
    if not value.is_integer():
        raise InputError(f"{quoted(text)} is not a whole number; write digits only, such as 2.")
    return int(value)


def read_role(text: str) -> Role:
    """Return the role that a cell names; an empty cell is ``test``."""
    match text.casefold():
        case "" | "test":
            return "test"
        case "control":
            return "control"
    raise InputError(f"{quoted(text)} is not a role; write test or control.")


def read_distribution(text: str) -> str:
    """Return the distribution letter that a cell names by letter or by word; empty stays empty."""
    letter = _DISTRIBUTION_WORDS.get(text.casefold(), text.upper())
    if letter and letter not in DISTRIBUTIONS:
        raise InputError(f"{quoted(text)} is not a distribution letter; write S, G, P or H, or leave it out.")
    return letter


def read_percent(text: str) -> float | None:
    """Return the % rusted that a cell states, with or without a % sign; None for an empty cell."""
    if not text:
        return None
    value = read_decimal(text.removesuffix("%").rstrip())
    if not 0 <= value <= 100:
        raise InputError(f"{quoted(text)} is not a percentage of a surface; percent rusted is from 0 to 100.")
    return value


def read_grade(text: str) -> tuple[int, str]:
    """Return the grade in a cell and the distribution letter behind it (empty when there is none).

    ``7``, ``7-S``, ``7 S``, ``7s``, ``7.0`` and ``7,0`` are grade 7.

    Raises:
        InputError: the cell is empty, names two grades, lies between two grades or outside 0-10, carries a letter
            that the scale does not give this grade, or is no grade at all.
    """
    if not text:
        raise InputError("The grade is missing; write it, or leave the row out if the coupon was not graded.")
    found = _GRADE.fullmatch(text.translate(_MINUS_SIGNS))
    if found is None:
        raise _not_a_grade(text)
    grade = _grade_number(found[1], text)
    letter = read_distribution(found[2] or "")
    try:
        check_grade(grade, letter)
    except InputError as error:
        raise InputError(error.problem.what) from None  # the letter stands in this cell, not in a column of its own
    return grade, letter


def _grade_number(digits: str, text: str) -> int:
    value = float(digits.replace(",", "."))
    if not GRADES[0] <= value <= GRADES[-1]:
        raise InputError(f"{quoted(text)} is not a grade; grades are whole numbers from 0 to 10.")
    if not value.is_integer():
        raise InputError(f"{quoted(text)} lies between two grades; write the whole grade that fits better.")
    return int(value)


def _not_a_grade(text: str) -> InputError:
    if _TWO_GRADES.fullmatch(text):
        return InputError(f"{quoted(text)} names two grades; write one grade in each row.")
    if text.casefold() in _NO_GRADE:
        return InputError(f"{quoted(text)} is not a grade; leave the row out if the coupon was not graded.")
    return InputError(
        f"{quoted(text)} is not a grade; write a whole number from 0 to 10, with a letter S, G, P or H if you like, "
        "such as 7 or 7-S."
    )
