"""A workbook's sheet as a table of texts: what a stranger's .xlsx says, within limits.

A workbook is a zip file of XML and may claim anything. Sizes are looked at before anything is unpacked, cells are
counted while they are read, and whatever the reader of workbooks cannot make sense of becomes a sentence.
"""

from __future__ import annotations

import io
import lzma
import math
import struct
import warnings
import zipfile
import zlib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta
from typing import TYPE_CHECKING, Any, Final

from rustboard.board.problem_list import ProblemList
from rustboard.board.table_rows import MOST_ROWS_OF_A_SHEET, Layout, Table, known_columns, table_under
from rustboard.support.text import counted

if TYPE_CHECKING:
    from openpyxl.workbook import Workbook

MOST_PARTS: Final = 5_000
MOST_UNPACKED_BYTES: Final = 48 * 1024 * 1024
MOST_SHEETS: Final = 100
MOST_CELLS: Final = 1_000_000
MOST_PIECES_OF_CELLS: Final = 1_000_000
"""Tags and attributes of sheets and shared texts: more than 100,000 cells, each of up to nine."""
MOST_OTHER_PIECES: Final = 200_000
"""The same of formats and all else, which takes the reader far more time and room for each."""
LONGEST_CELL: Final = 32_767
"""What a spreadsheet allows in one cell (common practice, no source)."""

_OLD_OR_LOCKED: Final = b"\xd0\xcf\x11\xe0"
_DOCUMENT_TYPES: Final = tuple("<!DOCTYPE".encode(each) for each in ("utf-8", "utf-16-le", "utf-16-be"))
_OVERLAP: Final = max(map(len, _DOCUMENT_TYPES)) - 1
_PICTURES: Final = (b"\x89PNG\r\n\x1a\n", b"\xff\xd8\xff")
_MIGHT_GROW: Final = (
    "This workbook holds what no {0} needs and what might grow without end; copy the {0}'s cells into a new workbook."
)
_TOO_MANY_PIECES: Final = (
    "The workbook holds far more cells, texts or formats than a {0}; copy the {0}'s cells into a new workbook."
)
_MEND_WIDE: Final = "name their columns in the header, or empty the cells that are too many"
_ERROR: Final = "The cell shows the error {0} and no value; mend its formula."
_NO_RESULT: Final = "The file has no result for this cell's formula; save it once in a spreadsheet program."
_DAMAGED: Final = (
    zipfile.BadZipFile, zipfile.LargeZipFile, OSError, ValueError, EOFError, zlib.error, lzma.LZMAError, struct.error,
    RuntimeError,  # a part is locked with a password
    NotImplementedError,  # packed in an unusual way
)  # fmt: skip
"""What reading a zip file may raise."""
_WHOLE_UP_TO: Final = 1e15


@dataclass(frozen=True, slots=True)
class Limits:
    """How large a workbook may be.

    Attributes:
        unpacked_bytes: of all parts.
        pieces_of_cells: tags and attributes of sheets. pieces_of_texts: of shared texts. other_pieces: of all else.
        thing: what a workbook is larger than, for the sentences.
    """

    unpacked_bytes: int = MOST_UNPACKED_BYTES
    pieces_of_cells: int = MOST_PIECES_OF_CELLS
    pieces_of_texts: int = MOST_PIECES_OF_CELLS
    other_pieces: int = MOST_OTHER_PIECES
    thing: str = "plan"


OF_A_PLAN: Final = Limits()


@dataclass(slots=True)
class _Sheet:
    """The filled rows of one sheet by number, and sentences about single cells by row number and place."""

    rows: dict[int, list[str]] = field(default_factory=dict)
    faults: dict[tuple[int, int], str] = field(default_factory=dict)

    @property
    def header(self) -> tuple[int, list[str]]:
        return next(iter(self.rows.items()))


def read_sheet(data: bytes, layout: Layout, problems: ProblemList) -> Table:
    """Return the first sheet whose header has the needed columns, as a table.

    Numbers are as a person writes them (``2``, not ``2.0``), dates ISO dates. A row with a cell that shows an error,
    or whose formula has no result in the file, is left out and named.

    Args:
        data: the file's bytes.
        layout: the columns that the table should have.
        problems: gathers what cannot be used, and names the file.

    Raises:
        InputError: no workbook, a locked or an old one, too large, unreadable, empty, or no sheet with the columns.
    """
    look_at_parts(data, problems)
    sheets = _filled_sheets(data, layout, problems)
    if not sheets:
        raise problems.refusal("The workbook is empty.")
    fitting = (each for each in sheets if set(layout.needed) <= known_columns(each.header[1], layout))
    sheet = next(fitting, sheets[0])
    number, titles = sheet.header
    records = _Records(sheet.rows)
    return table_under(records, number, titles, layout, problems, mend_wide=_MEND_WIDE, faults=sheet.faults)


class _Records:
    """The rows of a sheet, to be gone through more than once."""

    def __init__(self, rows: Mapping[int, list[str]]) -> None:
        self._rows = rows

    def __call__(self, problems: ProblemList) -> Iterator[tuple[int, list[str]]]:
        return iter(self._rows.items())


def look_at_parts(data: bytes, problems: ProblemList, limits: Limits = OF_A_PLAN) -> None:
    """Refuse what is no workbook, or one that is too large or would grow without end while it is read.

    Raises:
        InputError: a sentence that says which.
    """
    if data.startswith(_OLD_OR_LOCKED):
        raise problems.refusal(
            "This is an old workbook (.xls) or one locked with a password; save it as .xlsx without a password."
        )
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            parts = archive.infolist()
            names = {each.filename for each in parts}
            if "xl/workbook.xml" not in names:
                raise problems.refusal("This is not an .xlsx workbook; save it as .xlsx or CSV.")
            _look_at_sizes(parts, problems, limits)
            _look_inside(archive, parts, problems, limits)
    except _DAMAGED:
        raise problems.refusal("This is not an .xlsx workbook, or a damaged one; save it anew as .xlsx.") from None


def _look_at_sizes(parts: Sequence[zipfile.ZipInfo], problems: ProblemList, limits: Limits) -> None:
    # A part never unpacks to more than it claims here: the zip reader stops there. Pictures count too: by its name
    # alone no part is one, and those that a workbook usually holds hardly grow when unpacked.
    if len(parts) > MOST_PARTS or sum(each.file_size for each in parts) > limits.unpacked_bytes:
        raise problems.refusal(
            f"The workbook unpacks to more than {limits.unpacked_bytes >> 20} MB; a {limits.thing} is far smaller. "
            f"Copy the {limits.thing}'s cells into a new workbook."
        )


def _look_inside(
    archive: zipfile.ZipFile, parts: Iterable[zipfile.ZipInfo], problems: ProblemList, limits: Limits
) -> None:
    """Refuse what would grow while it is read: many tiny pieces, or a document type, which can repeat without end.

    Every part is looked at, because any may be named as one that is read, in UTF-8 or UTF-16.
    """
    most = {
        "xl/worksheets/": limits.pieces_of_cells,
        "xl/sharedStrings.xml": limits.pieces_of_texts,
        "": limits.other_pieces,
    }
    left = dict(most)
    for part in parts:
        kind = next(each for each in most if part.filename.startswith(each))
        with archive.open(part) as stream:
            before = b""
            while chunk := stream.read(1 << 16):
                if not before and chunk.startswith(_PICTURES):
                    break  # no reader of sheets takes such bytes for a sheet
                seen = before + chunk
                if any(each in seen for each in _DOCUMENT_TYPES):
                    raise problems.refusal(_MIGHT_GROW.format(limits.thing))
                before = chunk[-_OVERLAP:]
                left[kind] -= chunk.count(b"<") + chunk.count(b"=")
                if left[kind] < 0:
                    raise problems.refusal(_TOO_MANY_PIECES.format(limits.thing))


def _filled_sheets(data: bytes, layout: Layout, problems: ProblemList) -> list[_Sheet]:
    """Return the sheets that hold anything, up to and with the first that has the needed columns."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # about ornaments that are of no matter here
        found: list[_Sheet] = []
        budget = _Budget(problems)
        results = open_workbook(data, problems, results=True)
        for number, worksheet in enumerate(results.worksheets[:MOST_SHEETS]):
            sheet = _read_rows(worksheet, budget, problems)
            if not sheet.rows:
                continue
            found.append(sheet)
            if set(layout.needed) <= known_columns(sheet.header[1], layout):
                formulas = open_workbook(data, problems, results=False).worksheets[number]
                _note_missing_results(formulas, sheet, budget, problems)
                break
        return found


def open_workbook(data: bytes, problems: ProblemList, *, results: bool) -> Workbook:
    """Open a workbook whose parts have been looked at.

    Args:
        data: its bytes.
        problems: names the file.
        results: whether cells with formulas show their results, or the formulas.

    Raises:
        InputError: the library stumbles over it, in whatever way it does.
    """
    from openpyxl import load_workbook

    try:
        return load_workbook(io.BytesIO(data), read_only=True, data_only=results, keep_links=False)
    except Exception as error:
        raise unreadable(problems) from error


def unreadable(problems: ProblemList) -> Exception:
    """Return the refusal of a workbook that the library stumbles over, in whatever way it does."""
    return problems.refusal("The workbook cannot be read; save it anew as .xlsx, or as CSV.")


class _Budget:
    """Counts the cells of all sheets, empty ones too, against their limit."""

    def __init__(self, problems: ProblemList) -> None:
        self._left = MOST_CELLS
        self._problems = problems

    def spend(self, cells: int) -> None:
        self._left -= cells
        if self._left < 0:
            raise self._problems.refusal(
                f"The workbook has more than {counted(MOST_CELLS, 'cell')}; copy the plan's cells into a new one."
            )


def _cells(worksheet: Any, budget: _Budget, problems: ProblemList) -> Iterator[tuple[int, Sequence[Any]]]:
    """Yield the rows of a sheet with their numbers, however large the sheet claims to be."""
    worksheet.reset_dimensions()  # what the file claims would be filled up with empty cells
    rows = worksheet.iter_rows()
    number = 0
    while number < MOST_ROWS_OF_A_SHEET:
        number += 1
        try:
            row = next(rows)
        except StopIteration:
            return
        except Exception as error:
            raise unreadable(problems) from error
        budget.spend(len(row))
        yield number, row


def _read_rows(worksheet: Any, budget: _Budget, problems: ProblemList) -> _Sheet:
    sheet = _Sheet()
    for number, row in _cells(worksheet, budget, problems):
        texts = [_text(cell.value) for cell in row]
        while texts and not texts[-1].strip():
            texts.pop()
        if not texts:
            continue
        sheet.rows[number] = texts
        for index, cell in enumerate(row):
            if getattr(cell, "data_type", "") == "e":
                sheet.faults[number, index] = _ERROR.format(texts[index])
    return sheet


def _note_missing_results(worksheet: Any, sheet: _Sheet, budget: _Budget, problems: ProblemList) -> None:
    for number, row in _cells(worksheet, budget, problems):
        for index, cell in enumerate(row):
            if getattr(cell, "data_type", "") != "f":
                continue
            texts = sheet.rows.setdefault(number, [])
            texts.extend([""] * (index + 1 - len(texts)))
            if not texts[index]:
                texts[index] = _formula(cell.value)
                sheet.faults[number, index] = _NO_RESULT
    sheet.rows = dict(sorted(sheet.rows.items()))


def _formula(value: object) -> str:
    """Return a formula as the cell holds it; those over many cells come as objects."""
    return str(getattr(value, "text", None) or value)[:LONGEST_CELL]


def _text(value: object) -> str:
    """Return a cell's value as a person would have typed it."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, float):
        return _number(value)
    if isinstance(value, datetime):
        return value.date().isoformat() if value.time() == time() else value.isoformat(" ", "minutes")
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, time):
        return value.isoformat("minutes")
    if isinstance(value, timedelta):
        return str(value)
    return str(value)[:LONGEST_CELL]


def _number(value: float) -> str:
    if math.isfinite(value) and value.is_integer() and abs(value) < _WHOLE_UP_TO:
        return str(int(value))
    return f"{value:.15g}"
