"""Several numbers in one line: masses, openings, depths."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

from PySide6.QtWidgets import QLineEdit

from rustboard.board.cells import read_decimal
from rustboard.ui.forms.form import blamed_on, line_field
from rustboard.ui.forms.numbers import shown_number

_MOST_LETTERS: Final = 20_000
_BETWEEN: Final = re.compile(r"[;\s]+|,\s+")


def list_field(values: Sequence[float] = (), *, hint: str = "") -> QLineEdit:
    """Return a field for several numbers with spaces between them."""
    field = line_field(hint=hint, limit=_MOST_LETTERS)
    field.setText(list_text(values))
    field.setCursorPosition(0)
    return field


def list_text(values: Sequence[float]) -> str:
    """Return numbers with spaces between them, with the user's decimal mark."""
    return " ".join(shown_number(each) for each in values)


def list_in(field: QLineEdit) -> tuple[float, ...]:
    """Return the numbers in a field; a comma without a space after it is a decimal comma.

    Raises:
        WrongFieldError: something in it is no number.
    """
    with blamed_on(field):
        return tuple(read_decimal(each) for each in _BETWEEN.split(field.text().strip(" ,;")) if each)
