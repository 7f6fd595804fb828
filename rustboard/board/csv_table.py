"""A CSV file from any spreadsheet program, row by row, with the row numbers that the spreadsheet shows.

What is guessed is what the file itself settles: the encoding (UTF-8, UTF-16 with its mark, else Windows' Western
code page), and the delimiter (the one of ``,`` ``;`` tab under which the header names the most known columns).
"""

from __future__ import annotations

import csv
import io
import re
import unicodedata
from codecs import BOM_UTF8, BOM_UTF16_BE, BOM_UTF16_LE
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Final, TypeVar

from rustboard.board.cells import quoted
from rustboard.board.problem_list import ProblemList
from rustboard.support.problems import InputError
from rustboard.support.text import from_spreadsheet, many_lines, one_line

DELIMITERS: Final = (",", ";", "\t")
MOST_ROWS_IN_FILE: Final = 200_000
MOST_ROWS_OF_A_SHEET: Final = 1_048_576
"""What a spreadsheet has, and so the most rows, mostly empty ones, that it writes (common practice, no source)."""
MOST_COLUMNS_IN_FILE: Final = 1_000
MOST_BYTES: Final = 32 * 1024 * 1024

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


class Row:
    """One row under the header.

    Attributes:
        number: as a spreadsheet shows it; the first row of the file is 1.
        failed: whether a cell could not be read.
    """

    __slots__ = ("_problems", "_table", "_values", "failed", "number")

    def __init__(self, number: int, values: list[str], table: Table, problems: ProblemList) -> None:
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
    """A CSV file whose header has been read.

    Attributes:
        columns: plain name -> place in the row, for the columns with a meaning.
        spellings: plain name -> the name in the file, where that is another one.
        extras: place and title of the columns without a meaning.
        width: number of columns in the header.
        header_row: row number of the header.
    """

    text: str
    delimiter: str
    columns: Mapping[str, int]
    spellings: Mapping[str, str]
    extras: tuple[tuple[int, str], ...]
    width: int
    header_row: int

    def spelling(self, column: str) -> str:
        """Return the name that the file itself gives a column."""
        return self.spellings.get(column, column)

    def rows(self, problems: ProblemList) -> Iterator[Row]:
        """Yield the rows that are not empty; rows with more cells than the header are noted and left out.

        Raises:
            InputError: more than `MOST_ROWS_IN_FILE` rows, or quotation marks that do not close.
        """
        filled = 0
        for number, values in _records(self.text, self.delimiter, problems):
            empty = number <= self.header_row or not any(value.strip() for value in values)
            filled += not empty
            if filled > MOST_ROWS_IN_FILE or number > MOST_ROWS_OF_A_SHEET:
                raise problems.refusal(
                    f"The file has more than {MOST_ROWS_IN_FILE} rows; split it into several files."
                )
            if empty:
                continue
            if any(value.strip() for value in values[self.width :]):
                problems.add(
                    f"This row has {len(values)} cells and the header names {self.width}; put quotation marks "
                    "around a text or number that holds the separator.",
                    row=number,
                )
                continue
            yield Row(number, values, self, problems)


def open_table(data: bytes, layout: Layout, problems: ProblemList) -> Table:
    """Read the header of a CSV file.

    Raises:
        InputError: empty, too large, not text, no header, or a needed column missing or there twice.
    """
    text = decode(data, problems)
    if re.match(r"sep=[,;\t]\r?\n", text):  # a hint to spreadsheet programs, which do not show it as a row
        text = text.split("\n", 1)[1]
    delimiter, header_row, header = _header(text, layout)
    if len(header) > MOST_COLUMNS_IN_FILE:
        raise problems.refusal(
            f"The file has more than {MOST_COLUMNS_IN_FILE} columns; delete those that are not used."
        )
    columns: dict[str, int] = {}
    spellings: dict[str, str] = {}
    extras: list[tuple[int, str]] = []
    for index, title in enumerate(header):
        name = plain_name(title)
        plain = layout.aliases.get(name, name)
        if plain in columns:
            raise problems.refusal(f"The column {quoted(plain)} is there twice; keep one of them.", row=header_row)
        if plain in layout.known:
            columns[plain] = index
            if plain != name:
                spellings[plain] = name
        elif plain not in layout.ignored:
            extras.append((index, one_line(title) or f"column {index + 1}"))
    _require(layout, columns, header, header_row, problems)
    return Table(text, delimiter, columns, spellings, tuple(extras), len(header), header_row)


def decode(data: bytes, problems: ProblemList) -> str:
    """Return the text of a file.

    Raises:
        InputError: empty, larger than `MOST_BYTES`, or not text.
    """
    if len(data) > MOST_BYTES:
        raise problems.refusal(f"The file is larger than {MOST_BYTES // 2**20} MB; split it into several files.")
    if data.startswith(b"PK\x03\x04"):
        raise problems.refusal("This is a workbook and not a CSV file; save it as CSV from the spreadsheet program.")
    try:
        text = _decoded(data)
    except UnicodeDecodeError:
        text = "\0"
    if "\0" in text:
        raise problems.refusal("This is not a text file; save it as CSV (UTF-8) from the spreadsheet program.")
    if not text.strip():
        raise problems.refusal("The file is empty.")
    return text


def _decoded(data: bytes) -> str:
    if data.startswith((BOM_UTF16_LE, BOM_UTF16_BE)):
        return data.decode("utf-16")
    if data.startswith(BOM_UTF8):
        return data.decode("utf-8-sig")
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError:
        return data.decode("cp1252", errors="replace")


def plain_name(title: str) -> str:
    """Return the plain name of a column: small letters, ``_`` for blanks and hyphens, ``2`` for ``²``."""
    folded = unicodedata.normalize("NFKC", one_line(title)).casefold()
    return re.sub(r"[\s_-]+", "_", folded).strip("_")


def _header(text: str, layout: Layout) -> tuple[str, int, list[str]]:
    best: tuple[int, str, int, list[str]] | None = None
    for delimiter in DELIMITERS:
        number, titles = _first_record(text, delimiter)
        names = {plain_name(title) for title in titles[:MOST_COLUMNS_IN_FILE]}
        score = sum(layout.aliases.get(name, name) in layout.known for name in names)
        if best is None or score > best[0]:
            best = (score, delimiter, number, titles)
    assert best is not None  # there are delimiters
    _, delimiter, number, titles = best
    while titles and not titles[-1].strip():
        titles.pop()
    return delimiter, number, titles


def _first_record(text: str, delimiter: str) -> tuple[int, list[str]]:
    """Return the first row that is not empty; quotation marks are not judged while the delimiter is a guess."""
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, skipinitialspace=True)
    try:
        for number, values in enumerate(reader, 1):
            if any(value.strip() for value in values):
                return number, values
    except csv.Error:
        pass
    return 1, []


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


def _records(text: str, delimiter: str, problems: ProblemList) -> Iterator[tuple[int, list[str]]]:
    """Yield the records with their numbers; a cell with line breaks is still one row, as in a spreadsheet."""
    number = 0
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, skipinitialspace=True, strict=True)
    while True:
        number += 1
        try:
            values = next(reader)
        except StopIteration:
            return
        except csv.Error as error:
            raise problems.refusal(_csv_sentence(error), row=number) from None
        yield number, values


def _csv_sentence(error: csv.Error) -> str:
    if "field larger" in str(error):
        return (
            "A cell in this row is longer than any spreadsheet allows; look for a quotation mark that is not closed."
        )
    return "A quotation mark in this row is not closed, or text follows a closing one; mend the quotation marks."
