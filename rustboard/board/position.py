"""Places on a board: a row letter and a column number as seen facing it; A1 is top left."""

from __future__ import annotations

import re
from typing import NamedTuple

from rustboard.support.problems import InputError
from rustboard.support.text import one_line

MOST_ROWS = 60
MOST_COLUMNS = 60

_LABEL = re.compile(r"([A-Za-z]{1,2})\s*0*([1-9][0-9]{0,2})")


class Position(NamedTuple):
    """One place on the board.

    Attributes:
        row: 0 at the top.
        column: 0 at the left.
    """

    row: int
    column: int

    @property
    def label(self) -> str:
        """The name of the place: ``A1``; after row Z comes AA."""
        return f"{row_letters(self.row)}{self.column + 1}"


def row_letters(row: int) -> str:
    """Return the letters of a row: 0 is A, 25 is Z, 26 is AA."""
    letters = ""
    number = row + 1
    while number:
        number, rest = divmod(number - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters


def parse_position(text: str) -> Position:
    """Return the position that a label such as ``B3`` names.

    Raises:
        InputError: the text is not a row letter and a column number.
    """
    if not text.strip():
        raise InputError("The position is missing; write a row letter and a column number, such as B3.")
    found = _LABEL.fullmatch(text.strip())
    if found is None:
        raise InputError(
            f"“{one_line(text, 40)}” is not a position; write a row letter and a column number, such as B3."
        )
    row = 0
    for letter in found[1].upper():
        row = row * 26 + ord(letter) - ord("A") + 1
    return Position(row - 1, int(found[2]) - 1)
