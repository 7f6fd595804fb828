"""A CSV file from any spreadsheet program as a table.

What is guessed is what the file itself settles: the encoding (UTF-8, UTF-16 with its mark, else Windows' Western
code page), and the delimiter (the one of ``,`` ``;`` tab under which the header names the most known columns).
"""

from __future__ import annotations

import csv
import io
import re
from codecs import BOM_UTF8, BOM_UTF16_BE, BOM_UTF16_LE
from collections.abc import Iterator
from typing import Final

from rustboard.board.problem_list import ProblemList
from rustboard.board.table_rows import Layout, Table, known_columns, table_under

DELIMITERS: Final = (",", ";", "\t")
MOST_BYTES: Final = 32 * 1024 * 1024
_MEND_WIDE: Final = "put quotation marks around a text or number that holds the separator"


def open_table(data: bytes, layout: Layout, problems: ProblemList) -> Table:
    """Read the header of a CSV file.

    Raises:
        InputError: empty, too large, not text, no header, or a needed column missing or there twice.
    """
    text = decode(data, problems)
    if re.match(r"sep=[,;\t]\r?\n", text):  # a hint to spreadsheet programs, which do not show it as a row
        text = text.split("\n", 1)[1]
    delimiter, header_row, header = _header(text, layout)

    def records(noted: ProblemList) -> Iterator[tuple[int, list[str]]]:
        return _records(text, delimiter, noted)

    return table_under(records, header_row, header, layout, problems, mend_wide=_MEND_WIDE)


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


def _header(text: str, layout: Layout) -> tuple[str, int, list[str]]:
    best: tuple[int, str, int, list[str]] | None = None
    for delimiter in DELIMITERS:
        number, titles = _first_record(text, delimiter)
        score = len(known_columns(titles, layout))
        if best is None or score > best[0]:
            best = (score, delimiter, number, titles)
    assert best is not None  # there are delimiters
    return best[1:]


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
