"""The user's family of errors: what is wrong with a file or an input, where, and how to mend it.

The other family, our own bugs, is every other exception; those go to the crash file.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong with the user's input.

    Attributes:
        what: what is wrong and how to mend it, one plain sentence ending in a full stop.
        file: name of the file it is in (no folder), or empty.
        row: row or line as a person counts them in that file (1 is the first), or None.
        column: name of the column, key or field, or empty.
    """

    what: str
    file: str = ""
    row: int | None = None
    column: str = ""

    def sentence(self) -> str:
        """Return the whole message: where, then what."""
        places = [self.file] if self.file else []
        if self.row is not None:
            places.append(f"row {self.row}")
        if self.column:
            places.append(f"column {self.column}")
        if not places:
            return self.what
        return f"{', '.join(places)}: {self.what}"


class InputError(Exception):
    """The user's file or input cannot be used; ``problem`` says what, where and how to mend it."""

    def __init__(self, what: str, *, file: str = "", row: int | None = None, column: str = "") -> None:
        self.problem = Problem(what, file, row, column)
        super().__init__(self.problem.sentence())

    def located(self, *, file: str = "", row: int | None = None, column: str = "") -> InputError:
        """Return the same error with the places that it does not name yet filled in."""
        old = self.problem
        return InputError(
            old.what,
            file=old.file or file,
            row=row if old.row is None else old.row,
            column=old.column or column,
        )
