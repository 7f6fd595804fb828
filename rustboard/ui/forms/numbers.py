"""Numbers in fields: shown in the user's format, read with a decimal point or a decimal comma."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from PySide6.QtCore import QLocale
from PySide6.QtWidgets import QLineEdit

from rustboard.board.cells import read_decimal, read_whole
from rustboard.ui.forms.form import blamed_on, line_field, text_of

T = TypeVar("T", int, float)


def shown_number(value: float | None) -> str:
    """Return a number with the user's decimal mark, exactly; an empty text for None."""
    if value is None:
        return ""
    return repr(float(value)).removesuffix(".0").replace(".", QLocale().decimalPoint())


def number_field(value: float | None, *, hint: str = "", letters: int | None = None) -> QLineEdit:
    """Return a field for one number; empty means not given.

    Args:
        value: what is in it at first.
        hint: shown while it is empty.
        letters: how many it has room for at least; None = as many as any field for one line.
    """
    field = line_field(shown_number(value), hint=hint, limit=40)
    if letters is not None:
        field.setMinimumWidth(field.fontMetrics().averageCharWidth() * letters)
    return field


def number_in(field: QLineEdit) -> float | None:
    """Return the number in a field, or None when it is empty.

    Raises:
        WrongFieldError: there is no number in it.
    """
    return _read(field, read_decimal)


def whole_in(field: QLineEdit) -> int | None:
    """Return the whole number in a field, or None when it is empty.

    Raises:
        WrongFieldError: there is no whole number in it.
    """
    return _read(field, read_whole)


def _read(field: QLineEdit, read: Callable[[str], T]) -> T | None:
    text = text_of(field)
    if not text:
        return None
    with blamed_on(field):
        return read(text)
