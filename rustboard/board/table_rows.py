"""A table of text cells with a header, row by row, with the row numbers that a spreadsheet shows.

Where the cells come from is the business of whoever makes the table: a CSV file or a workbook's sheet.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Final, TypeVar

from rustboard.board.cells import quoted
from rustboard.board.problem_list import ProblemList
from rustboard.support.problems import InputError
from rustboard.support.text import from_spreadsheet, many_lines, one_line

MOST_ROWS_IN_FILE: Final = 200_000
MOST_ROWS_OF_A_SHEET: Final = 1_048_576
"""What a spreadsheet has, and so the most rows, mostly empty ones, that it writes (common practice, no source)."""
MOST_COLUMNS_IN_FILE: Final = 1_000

Records = Callable[[ProblemList], Iterator[tuple[int, list[str]]]]
"""Yields every row from the first on with its number; notes or raises what makes the file unreadable."""

_Read = TypeVar("_Read")


@dataclass(frozen=True, slots=True)
class Layout:
    """The columns a kind of file has, by their plain names.

    Attributes:
        needed: columns without which the file is refused.
        known: all columns with a meaning, the needed ones among them.
        ignored: columns that may stand in the file and are not read.
        aliases: other name -> plain name.
    """

    needed: tuple[str, ...]
    known: tuple[str, ...]
    ignored: tuple[str, ...] = ()
    aliases: Mapping[str, str] = field(default_factory=dict)

    def plain(self, name: str) -> str:
        """Return the plain name of a column that may be called by another one."""
        return self.aliases.get(name, name)


class Row:
    """One row under the header.

    Attributes:
        number: as a spreadsheet shows it; the first row of the file is 1.
        failed: whether a cell could not be read.
    """

    __slots__ = ("_problems", "_table", "_values", "failed", "number")

    def __init__(self, number: int, values: Sequence[str], table: Table, problems: ProblemList) -> None:
        self.number = number
        self.failed = False
        self._values = values
        self._table = table
        self._problems = problems

    def text(self, column: str) -> str:
        """Return a cell as one safe line; empty when the row or the file has no such cell."""
        return one_line(self._raw(column))

    def lines(self, column: str) -> str:
        """Return a cell as safe text with its line breaks."""
        return many_lines(self._raw(column))

    def read(self, column: str, reader: Callable[[str], _Read], otherwise: _Read) -> _Read:
        """Return what ``reader`` makes of a cell; a cell that it refuses is noted, and the row has failed."""
        try:
            return reader(self.text(column))
        except InputError as error:
            self.refuse(error, column)
            return otherwise

    def refuse(self, error: InputError, column: str) -> None:
        """Note a problem with this row; it has failed."""
        self.failed = True
        self._problems.add_error(error, row=self.number, column=self._table.spelling(column))

    def note(self) -> str:
        """Return the note of this row: its ``note`` cell, then each cell of a column without a meaning by name."""
        parts = [self.lines("note")]
        for index, title in self._table.extras:
            value = many_lines(from_spreadsheet(self._values[index])) if index < len(self._values) else ""
            if value:
                parts.append(f"{title}: {value}")
        return many_lines("\n".join(part for part in parts if part))

    def _raw(self, column: str) -> str:
        index = self._table.columns.get(column)
        if index is None or index >= len(self._values):
            return ""
        return from_spreadsheet(self._values[index])


@dataclass(frozen=True, slots=True)
class Table:
    """A table whose header has been read.

    Attributes:
        records: the rows.
        titles: the header's cells as they stand.
        columns: plain name -> place in the row, for the columns with a meaning.
        spellings: plain name -> the name in the file, where that is another one.
        extras: place and title of the columns without a meaning.
        header_row: row number of the header.
        mend_wide: how a row with more cells than the header is mended, as the sentence about it ends.
        faults: sentences about single cells by row number and place; such a row is left out.
    """

    records: Records
    titles: tuple[str, ...]
    columns: Mapping[str, int]
    spellings: Mapping[str, str]
    extras: tuple[tuple[int, str], ...]
    header_row: int
    mend_wide: str
    faults: Mapping[tuple[int, int], str] = field(default_factory=dict)

    def spelling(self, column: str) -> str:
        """Return the name that the file itself gives a column."""
        return self.spellings.get(column, column)

    def place_of(self, name: str) -> int | None:
        """Return the place of a column by its plain name or its name in the file; None for a name of neither kind."""
        if name in self.columns:
            return self.columns[name]
        return next((self.columns[plain] for plain, spelled in self.spellings.items() if spelled == name), None)

    def filled(self, problems: ProblemList) -> Iterator[tuple[int, list[str]]]:
        """Yield number and cells of the rows under the header that are not empty.

        Raises:
            InputError: more than `MOST_ROWS_IN_FILE` rows, or the file cannot be read on.
        """
        filled = 0
        for number, values in self.records(problems):
            empty = number <= self.header_row or not any(value.strip() for value in values)
            filled += not empty
            if filled > MOST_ROWS_IN_FILE or number > MOST_ROWS_OF_A_SHEET:
                raise problems.refusal(
                    f"The file has more than {MOST_ROWS_IN_FILE} rows; split it into several files."
                )
            if not empty:
                yield number, values

    def rows(self, problems: ProblemList) -> Iterator[Row]:
        """Yield the rows that are not empty; those with more cells than the header or a fault are noted and left out.

        Raises:
            InputError: as `filled`.
        """
        width = len(self.titles)
        for number, values in self.filled(problems):
            if any(value.strip() for value in values[width:]):
                problems.add(
                    f"This row has {len(values)} cells and the header names {width}; {self.mend_wide}.", row=number
                )
            elif not self._faulty(number, problems):
                yield Row(number, values, self, problems)

    def _faulty(self, number: int, problems: ProblemList) -> bool:
        """Note the faults of a row's cells with a meaning; return whether there are any."""
        found = False
        for plain, index in self.columns.items() if self.faults else ():
            fault = self.faults.get((number, index))
            if fault is not None:
                problems.add(fault, row=number, column=self.spelling(plain))
                found = True
        return found


def table_under(
    records: Records,
    header_row: int,
    header: Sequence[str],
    layout: Layout,
    problems: ProblemList,
    *,
    mend_wide: str,
    faults: Mapping[tuple[int, int], str] | None = None,
) -> Table:
    """Return the table whose header this is.

    Raises:
        InputError: too many columns, or a column with a meaning missing or there twice.
    """
    titles = list(header)
    while titles and not titles[-1].strip():
        titles.pop()
    if len(titles) > MOST_COLUMNS_IN_FILE:
        raise problems.refusal(
            f"The file has more than {MOST_COLUMNS_IN_FILE} columns; delete those that are not used."
        )
    columns: dict[str, int] = {}
    spellings: dict[str, str] = {}
    extras: list[tuple[int, str]] = []
    for index, title in enumerate(titles):
        name = plain_name(title)
        plain = layout.plain(name)
        if plain in columns:
            raise problems.refusal(f"The column {quoted(plain)} is there twice; keep one of them.", row=header_row)
        if plain in layout.known:
            columns[plain] = index
            if plain != name:
                spellings[plain] = name
        elif plain not in layout.ignored:
            extras.append((index, one_line(title) or f"column {index + 1}"))
    _require(layout, columns, titles, header_row, problems)
    return Table(records, tuple(titles), columns, spellings, tuple(extras), header_row, mend_wide, faults or {})


def known_columns(titles: Sequence[str], layout: Layout) -> set[str]:
    """Return the plain names of the columns with a meaning that a header names."""
    names = {layout.plain(plain_name(title)) for title in titles[:MOST_COLUMNS_IN_FILE]}
    return names & set(layout.known)


def plain_name(title: str) -> str:
    """Return the plain name of a column: small letters, ``_`` for blanks and hyphens, ``2`` for ``²``."""
    folded = unicodedata.normalize("NFKC", one_line(title)).casefold()
    return re.sub(r"[\s_-]+", "_", folded).strip("_")


def _require(
    layout: Layout, columns: Mapping[str, int], header: list[str], header_row: int, problems: ProblemList
) -> None:
    missing = [name for name in layout.needed if name not in columns]
    if not missing:
        return
    noun, verb, them = ("columns", "are", "them") if len(missing) > 1 else ("column", "is", "it")
    found = ", ".join(one_line(title, 40) for title in header[:20]) or "nothing"
    raise problems.refusal(
        f"The {noun} {_listed(missing)} {verb} missing; name {them} in the first row, which holds: {found}.",
        row=header_row,
    )


def _listed(names: list[str]) -> str:
    marked = [quoted(name) for name in names]
    return marked[0] if len(marked) == 1 else f"{', '.join(marked[:-1])} and {marked[-1]}"
