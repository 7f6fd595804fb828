"""The shelf: which boards the user has, and what the card of each shows."""

from __future__ import annotations

import logging
import os
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Final

from rustboard.board.grade import GRADES
from rustboard.board.inspection_calendar import NextLook, next_look
from rustboard.session.jobs import Progress
from rustboard.store.folder import BOARD_FILE
from rustboard.store.shelf_row import NO_FACTS, Place, ShelfFacts, ShelfPhoto, ShelfRow, read_shelf_row
from rustboard.support.clock import Clock, wall_clock
from rustboard.support.files import disk_problem
from rustboard.support.problems import InputError
from rustboard.support.settings import Settings

_LOG = logging.getLogger(__name__)

MOST_BOARDS: Final = 500
"""The shelf shows at most so many boards."""

_MOST_NAMES: Final = 20_000
_MOST_YEARS: Final = 60


@dataclass(frozen=True, slots=True)
class ShelfEntry:
    """One board on the shelf.

    Attributes:
        folder: the board folder.
        name: of the board; of the folder where the board cannot be opened.
        started: when exposure began: as stated, else the first inspection.
        coupons: how many are on the board.
        graded: how many of them have a grade.
        last_grades: how many coupons have each grade as their last one, grade 0 first.
        places: row, column and last grade of every coupon on the board.
        photo: the newest photo that a picture of the board can be cut from, or None.
        next_look: the planned inspection that is due or comes next; None where none is left, where no start is known,
            or where the user wants no reminders.
        being_graded_blind: whether an inspection is hidden: then there are neither last grades nor a photo here.
        problem: why the board cannot be opened, one sentence, or empty.
        facts: what it is found again by.
        years: in which it was outdoors, as far as is known, oldest first.
    """

    folder: Path
    name: str
    site: str = ""
    started: datetime | None = None
    last_inspection: datetime | None = None
    inspections: int = 0
    coupons: int = 0
    graded: int = 0
    last_grades: tuple[int, ...] = (0,) * len(GRADES)
    rows: int = 0
    columns: int = 0
    width_mm: float = 0.0
    height_mm: float = 0.0
    places: tuple[Place, ...] = ()
    photo: ShelfPhoto | None = None
    next_look: NextLook | None = None
    being_graded_blind: bool = False
    problem: str = ""
    customer: str = ""
    facts: ShelfFacts = NO_FACTS
    years: tuple[int, ...] = ()


def shelf_entries(
    settings: Settings, progress: Progress | None = None, clock: Clock = wall_clock
) -> list[ShelfEntry]:
    """Return the boards in the boards folder and those opened lately elsewhere, last inspected first.

    A board nobody has inspected yet counts by the time of its file; what cannot be opened comes last, with the
    sentence that says why. Recent folders that are gone are left out. Nothing is locked or written.

    Args:
        settings: where to look.
        progress: told after every board, and asked whether to stop.
        clock: says what is due.

    Raises:
        Cancelled: ``progress`` was asked to stop.
    """
    entries: list[ShelfEntry] = []
    folders = _within(settings.boards_path(), entries)
    wanted = list(_once([Path(each) for each in settings.recent if each] + folders))[:MOST_BOARDS]
    for number, folder in enumerate(wanted):
        if progress is not None:
            progress.step(number, len(wanted))
        entries.append(_entry(folder, clock()))
    return sorted(entries, key=_newest_first)


def _within(boards: Path, entries: list[ShelfEntry]) -> list[Path]:
    """Return the boards directly inside the boards folder; when it cannot be read, that is an entry of its own."""
    try:
        with os.scandir(boards) as found:
            names = [each.name for _, each in zip(range(_MOST_NAMES), found, strict=False)]
    except (FileNotFoundError, NotADirectoryError):
        return []
    except (OSError, ValueError) as error:
        entries.append(_broken(boards, disk_problem(error, boards)))
        return []
    folders = (boards / name for name in sorted(names, key=str.casefold) if not name.startswith("."))
    return [each for each in folders if os.path.lexists(each / BOARD_FILE)]


def _once(folders: list[Path]) -> Iterator[Path]:
    """Yield the folders that are there, each once, whatever links lead to it."""
    seen: set[Path] = set()
    for folder in folders:
        try:
            resolved = folder.resolve()
        except (OSError, RuntimeError, ValueError):
            continue
        if resolved not in seen and os.path.isdir(resolved):
            seen.add(resolved)
            yield folder


def _entry(folder: Path, now: datetime) -> ShelfEntry:
    try:
        row = read_shelf_row(folder)
    except InputError as error:
        _LOG.info("a board on the shelf cannot be opened: %s", error)
        return _broken(folder, error)
    return _described(folder, row, now)


def _broken(folder: Path, error: InputError) -> ShelfEntry:
    return ShelfEntry(folder, folder.name or str(folder), problem=error.problem.what)


def _described(folder: Path, row: ShelfRow, now: datetime) -> ShelfEntry:
    counts = Counter(grade for _, _, grade in row.places if grade is not None)
    return ShelfEntry(
        folder=folder,
        name=row.name,
        site=row.site,
        started=row.started or row.first_inspection,
        last_inspection=row.last_inspection,
        inspections=row.inspections,
        coupons=len(row.places),
        graded=counts.total(),
        last_grades=tuple(counts[grade] for grade in GRADES),
        rows=row.rows,
        columns=row.columns,
        width_mm=row.width_mm,
        height_mm=row.height_mm,
        places=row.places,
        photo=row.photo,
        next_look=_reminder(row, now),
        being_graded_blind=row.hidden,
        customer=row.customer,
        facts=row.facts,
        years=_years(row.started or row.first_inspection, row.last_inspection),
    )


def _years(first: datetime | None, last: datetime | None) -> tuple[int, ...]:
    if first is None:
        return ()
    until = first.year if last is None else max(first.year, last.year)
    return tuple(range(max(first.year, until - _MOST_YEARS + 1), until + 1))


def _reminder(row: ShelfRow, now: datetime) -> NextLook | None:
    if row.calendar is None or not row.calendar.remind:
        return None
    return next_look(row.calendar, row.started or row.first_inspection, row.last_inspection, now)


def _newest_first(entry: ShelfEntry) -> tuple[bool, float, str]:
    last = entry.last_inspection
    if last is None:
        return (bool(entry.problem), -_file_time(entry.folder), entry.name.casefold())
    return (bool(entry.problem), -(last - datetime(1970, 1, 1)).total_seconds(), entry.name.casefold())


def _file_time(folder: Path) -> float:
    """Return the local time of the board file as seconds since 1970, comparable with wall-clock times."""
    try:
        changed = datetime.fromtimestamp((folder / BOARD_FILE).stat().st_mtime)
    except (OSError, OverflowError, ValueError):
        return 0.0
    return (changed - datetime(1970, 1, 1)).total_seconds()
