"""What a table of the file is: its columns, and how its rows become values and come back."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Generic, TypeVar

from rustboard.support.problems import InputError

Row = tuple[Any, ...]
T = TypeVar("T")

_DAMAGED_ROW = (ValueError, TypeError, OverflowError, RecursionError)


@dataclass(frozen=True, slots=True)
class Table(Generic[T]):
    """One table and the values it holds.

    Attributes:
        columns: all but ``key``, in the order of `to_row`.
        to_row: value to column values, without the key.
        from_row: key and column values to value; `read` tells in a sentence what it refuses.
        key_of: the key of a value.
    """

    name: str
    columns: tuple[str, ...]
    to_row: Callable[[T], Row]
    from_row: Callable[[Row], T]
    key_of: Callable[[T], int]

    @property
    def select(self) -> str:
        """``SELECT key, columns FROM table``."""
        return f"SELECT key, {', '.join(self.columns)} FROM {self.name}"

    def read(self, row: Row) -> T:
        """Return the value that a row of the file means.

        Raises:
            InputError: the row holds what no version of this program writes.
        """
        try:
            return self.from_row(row)
        except _DAMAGED_ROW as error:
            raise InputError(
                f"Row {row[0]} of the table {self.name} is damaged; restore a copy from the backups folder."
            ) from error


def real(value: float | None) -> float | None:
    """Return a number as SQLite keeps it in a REAL column, so that the journal's image of the row is the row."""
    return None if value is None else float(value)


def names(text: str) -> tuple[str, ...]:
    """Return the column names in a text, in order."""
    return tuple(text.split())


def key_of(value: Any) -> int:
    """Return the key of a value that has one."""
    key: int = value.key
    return key
