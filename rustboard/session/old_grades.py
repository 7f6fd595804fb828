"""Old tables of grades on their way onto a board: read, looked over, made into a board or added to the open one.

Reading and making are jobs: they touch nothing of a session. Nothing is written before the end.
"""

from __future__ import annotations

import os
from collections.abc import Sequence
from contextlib import closing
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Final

from rustboard.board.model import Board
from rustboard.board.old_grades.grid import Grid, read_csv_grid
from rustboard.board.old_grades.guess import doubts, guess_layout
from rustboard.board.old_grades.layout import OldLayout
from rustboard.board.old_grades.our_sheets import COUPONS, TREATMENTS, OurSheets, read_our_sheets
from rustboard.board.old_grades.past_board import PastBoard
from rustboard.board.old_grades.read import read_table
from rustboard.board.old_grades.reading import OldReading
from rustboard.operations.past_boards import TiedPhoto, import_past_board
from rustboard.scales.rust_grade import grade_from_percent
from rustboard.session.intake import IncomingPhoto, KeptPhotos, keep_photos
from rustboard.session.jobs import Progress
from rustboard.session.new_board import named_as
from rustboard.session.session import Session
from rustboard.store.board_store import create_board
from rustboard.store.copying import remove_traces
from rustboard.store.folder import fresh_folder
from rustboard.store.tables import BoardRow
from rustboard.support.clock import Clock, wall_clock
from rustboard.support.files import disk_problem, read_bounded, shown_name
from rustboard.support.problems import InputError, Problem

if TYPE_CHECKING:
    from rustboard.report.old_sheets import OldWorkbook

MOST_BYTES: Final = 64 << 20
_LOOKED_AT_ROWS: Final = 60
_MOST_SHEETS_LOOKED_AT: Final = 20


@dataclass(frozen=True, slots=True, eq=False)
class OldFile:
    """A file with old grades.

    Attributes:
        name: without its folder. sheets: names of its sheets, hidden ones last; empty for a text file.
        hidden: names of the hidden ones. likely: the sheet that most looks like grades.
    """

    name: str
    sheets: tuple[str, ...] = ()
    hidden: frozenset[str] = frozenset()
    likely: str = ""
    data: bytes = field(default=b"", repr=False)
    workbook: OldWorkbook | None = field(default=None, repr=False)


@dataclass(frozen=True, slots=True, eq=False)
class TableRequest:
    """A table to be read.

    Attributes:
        file: what `load_old_file` made of it. sheet: of it. delimiter: of a text file; empty = to be guessed.
        layout: how it is laid out, or None to guess.
        before: the same table read otherwise; its cells are not read again.
    """

    file: OldFile
    sheet: str = ""
    delimiter: str = ""
    layout: OldLayout | None = None
    before: OldReading | None = None


@dataclass(frozen=True, slots=True, eq=False)
class OldTable:
    """A table as it was read, and what the workbook says beside it where it is our own."""

    file: OldFile
    reading: OldReading
    ours: OurSheets = field(default_factory=OurSheets)


@dataclass(frozen=True, slots=True, eq=False)
class DatedPhoto:
    """A photo and the time of the inspection it belongs to; None = one of its own."""

    photo: IncomingPhoto
    at: datetime | None = None


def load_old_file(path: Path, progress: Progress) -> OldFile:
    """Read a file's bytes and list its sheets; a job.

    Raises:
        InputError: it cannot be read, is too large, or is neither a workbook nor a text.
        Cancelled: ``progress`` was asked to stop.
    """
    progress.step(0, 0)
    name = shown_name(path)
    try:
        other = os.path.exists(path) and not os.path.isfile(path)
    except (OSError, ValueError) as error:
        raise disk_problem(error, path) from error
    if other:  # to open a pipe would wait for ever
        raise InputError("This is no file; choose a workbook or a CSV file.", file=name)
    data = read_bounded(path, MOST_BYTES)
    if path.suffix.lower() == ".ods" or b"mimetypeapplication/vnd.oasis" in data[:100]:
        raise InputError("Sheets in the .ods format are not read; save the file as .xlsx or CSV.", file=name)
    is_workbook = data.startswith((b"PK\x03\x04", b"\xd0\xcf\x11\xe0"))
    if not is_workbook:
        return OldFile(name, data=data)
    from rustboard.report.old_sheets import OldWorkbook

    workbook = OldWorkbook(data, name)
    names = tuple(each.name for each in workbook.sheets)
    hidden = frozenset(each.name for each in workbook.sheets if each.hidden)
    return OldFile(name, names, hidden, _likely_sheet(workbook, names, progress), data, workbook)


def _likely_sheet(workbook: OldWorkbook, names: Sequence[str], progress: Progress) -> str:
    best, points = names[0] if names else "", -1.0
    for number, each in enumerate(names[:_MOST_SHEETS_LOOKED_AT]):
        progress.step(number, len(names))
        score = _points(workbook.grid(each, _LOOKED_AT_ROWS))
        if score > points:
            best, points = each, score
    return best


def _points(grid: Grid) -> float:
    layout = guess_layout(grid)
    missing = {each.about for each in doubts(grid, layout)} & {"coupon", "grade"}
    known = sum(each.meaning != "nothing" for each in layout.columns)
    return known + 100 * layout.ours - 50 * len(missing) if grid.rows else -200


def read_old_table(request: TableRequest, progress: Progress) -> OldTable:
    """Read one table of a file; a job.

    Raises:
        InputError: the table is empty, too large, or cannot be read.
        Cancelled: ``progress`` was asked to stop.
    """
    progress.step(0, 3)
    file = request.file
    sheet = request.sheet or file.likely
    grid = _grid(request, sheet)
    if not grid.rows:
        raise InputError("There is nothing in this table; choose another sheet or file.", file=grid.where)
    progress.step(1, 3)
    layout = request.layout or guess_layout(grid)
    reading = read_table(grid, layout, grade_from_percent)
    progress.step(2, 3)
    return OldTable(file, reading, _our_sheets(file) if layout.ours else OurSheets())


def _grid(request: TableRequest, sheet: str) -> Grid:
    before = request.before
    if before is not None and before.grid.sheet == sheet and request.delimiter in ("", before.grid.delimiter):
        return before.grid
    if request.file.workbook is None:
        return read_csv_grid(request.file.data, request.file.name, request.delimiter)
    if sheet not in request.file.sheets:
        names = ", ".join(request.file.sheets[:12])
        raise InputError(f"There is no sheet “{sheet[:60]}”; the sheets are {names}.", file=request.file.name)
    return request.file.workbook.grid(sheet)


def _our_sheets(file: OldFile) -> OurSheets:
    workbook = file.workbook
    if workbook is None:
        return OurSheets()
    coupons, treatments = (workbook.grid(each) if each in file.sheets else None for each in (COUPONS, TREATMENTS))
    return read_our_sheets(coupons, treatments)


# ---- making and adding


def make_past_board(
    folder: Path,
    past: PastBoard,
    photos: Sequence[DatedPhoto],
    who: str,
    progress: Progress,
    clock: Clock = wall_clock,
) -> tuple[Path, tuple[Problem, ...]]:
    """Make a board folder from an old table and photos; a job. It appears whole or not at all.

    Returns:
        The folder, and why photos were left out.

    Raises:
        InputError: the folder holds something already, the table names what cannot be, or the disk refused.
        Cancelled: ``progress`` was asked to stop.
    """
    empty = Board(past.board.name, past.board.rows, past.board.columns)
    with fresh_folder(folder) as part, named_as(part, folder):
        create_board(part, BoardRow(empty))
        kept = keep_photos(part, [each.photo for each in photos], progress)
        with closing(Session(part, who=who, clock=clock)) as session:
            session.do(import_past_board, past, tied(kept, photos))
        progress.step(1, 1)
        remove_traces(part)
    return folder, kept.problems


def tied(kept: KeptPhotos, photos: Sequence[DatedPhoto]) -> tuple[TiedPhoto, ...]:
    """Return kept photos, each with the time of the inspection it was tied to."""
    at = {each.photo.sha256: each.at for each in photos}
    return tuple(TiedPhoto(each, at.get(each.sha256)) for each in kept.photos)
