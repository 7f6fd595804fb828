"""The few facts of a board that its card on the shelf shows, read without reading the whole board."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Final

from rustboard.board.grade import GRADES
from rustboard.board.inspection_days import InspectionDays
from rustboard.board.model import MOST_COUPONS, Board, Treatment
from rustboard.board.position import Position
from rustboard.board.shelving import MOST_TAGS
from rustboard.store import values
from rustboard.store.database import database_problem, for_looking
from rustboard.store.folder import board_file_of, photo_path
from rustboard.store.plan_tables import CALENDARS
from rustboard.store.reading import MOST_INSPECTIONS
from rustboard.store.shelving_tables import FORERUNNERS, SHELVINGS, TAGS
from rustboard.store.tables import BOARD, TREATMENTS
from rustboard.support.files import disk_problem, shown_name
from rustboard.support.problems import InputError

_MOST_WALKED: Final = 20_000
"""Inspections gone through for the last grades."""
_MOST_PHOTOS_TRIED: Final = 20
MOST_STEELS: Final = 50
"""Steels of one board that its card knows."""
MOST_TREATMENTS_KNOWN: Final = 200
"""Treatments of one board that its card knows."""
_MOST_COPIED: Final = 64 << 20
"""Bytes of a file that is copied to be looked at: a shelf of such files must still come up."""

Place = tuple[int, int, int | None]
"""Row, column and last grade of one coupon on the board."""


@dataclass(frozen=True, slots=True)
class ShelfPhoto:
    """A photo that a card can show.

    Attributes:
        path: of the file, inside the board folder.
        sha256: of its bytes, as the board recorded it.
        mm_to_px: homography from board millimetres to pixels of the upright picture, 9 numbers row by row.
    """

    path: Path
    sha256: str
    mm_to_px: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class ShelfFacts:
    """What a board is found again by.

    Attributes:
        steels: of the coupons, each once.
        treatments: their names (the id where one has no name), each once; none while an inspection is hidden.
        kinds: families, finishes and protectants of the treatments, each once; none while an inspection is hidden.
        tags: in the order in which they were given.
        archived: whether the shelf shows the board only when asked.
        forerunner: name of the earlier board that it follows, or empty.
    """

    steels: tuple[str, ...] = ()
    treatments: tuple[str, ...] = ()
    kinds: tuple[str, ...] = ()
    tags: tuple[str, ...] = ()
    archived: bool = False
    forerunner: str = ""


NO_FACTS: Final = ShelfFacts()


@dataclass(frozen=True, slots=True)
class ShelfRow:
    """What a board says about itself.

    Attributes:
        first_inspection, last_inspection: None where nobody has been there yet.
        places: the coupons on the board, those taken off left out.
        photo: the newest placed photo whose file is there, or None.
        calendar: the planned inspections, or None where nobody planned any.
        hidden: whether an inspection is being graded blind: no place then has a grade, and there is no photo.
    """

    name: str
    site: str
    rows: int
    columns: int
    width_mm: float
    height_mm: float
    started: datetime | None
    first_inspection: datetime | None
    last_inspection: datetime | None
    inspections: int
    places: tuple[Place, ...]
    photo: ShelfPhoto | None
    calendar: InspectionDays | None
    hidden: bool = False
    customer: str = ""
    facts: ShelfFacts = NO_FACTS


def read_shelf_row(folder: Path) -> ShelfRow:
    """Return what the card of a board shows; nothing is locked, and nothing is written in the folder.

    Raises:
        InputError: there is no sound board.
    """
    file = board_file_of(folder)
    try:
        with for_looking(file, _MOST_COPIED) as connection:
            return _row(connection, folder)
    except sqlite3.Error as error:
        raise database_problem(error, file) from error
    except OSError as error:
        raise disk_problem(error, file) from error
    except InputError as error:
        raise error.located(file=shown_name(file)) from error
    except (ValueError, TypeError, OverflowError, RecursionError) as error:
        raise InputError(
            "A row of this board is damaged; restore a copy from the backups folder.", file=shown_name(file)
        ) from error


def _row(connection: sqlite3.Connection, folder: Path) -> ShelfRow:
    # Every value goes through the checks of the board's own reading: a card must not believe what a board would not.
    found = connection.execute(f"{BOARD.select} WHERE key = 1").fetchone()
    if found is None:
        raise ValueError("no board")
    board = BOARD.read(found).board
    hidden = _is_hidden(connection)
    first, last, count = connection.execute("SELECT min(at), max(at), count(*) FROM inspection").fetchone()
    return ShelfRow(
        name=board.name,
        site=board.site,
        rows=board.rows,
        columns=board.columns,
        width_mm=board.width_mm,
        height_mm=board.height_mm,
        started=board.started,
        first_inspection=values.moment_or_none(first),
        last_inspection=values.moment_or_none(last),
        inspections=values.whole(count, 0, MOST_INSPECTIONS),
        places=tuple((row, column, None if hidden else grade) for row, column, grade in _places(connection, board)),
        photo=None if hidden else _newest_photo(connection, folder),
        calendar=_calendar(connection),
        hidden=hidden,
        customer=board.customer,
        facts=_facts(connection, hidden=hidden),
    )


def _facts(connection: sqlite3.Connection, *, hidden: bool) -> ShelfFacts:
    steels = connection.execute(
        "SELECT DISTINCT substrate FROM coupon WHERE substrate <> '' LIMIT ?", (MOST_STEELS,)
    ).fetchall()
    tags = connection.execute(f"{TAGS.select} ORDER BY key LIMIT ?", (MOST_TAGS + 1,)).fetchall()
    values.whole(len(tags), 0, MOST_TAGS)
    shelving = connection.execute(f"{SHELVINGS.select} LIMIT 1").fetchone()
    forerunner = connection.execute(f"{FORERUNNERS.select} LIMIT 1").fetchone()
    treatments = [] if hidden else _treatments(connection)
    return ShelfFacts(
        steels=_once(values.line(each) for (each,) in steels),
        treatments=_once(each.title for each in treatments),
        kinds=_once(kind for each in treatments for kind in (each.family, each.finish, each.protectant)),
        tags=tuple(TAGS.read(each).word for each in tags),
        archived=shelving is not None and SHELVINGS.read(shelving).archived,
        forerunner="" if forerunner is None else FORERUNNERS.read(forerunner).name,
    )


def _treatments(connection: sqlite3.Connection) -> list[Treatment]:
    rows = connection.execute(f"{TREATMENTS.select} ORDER BY key LIMIT ?", (MOST_TREATMENTS_KNOWN,)).fetchall()
    return [TREATMENTS.read(each) for each in rows]


def _once(texts: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(each for each in texts if each))


def _is_hidden(connection: sqlite3.Connection) -> bool:
    (found,) = connection.execute("SELECT EXISTS (SELECT 1 FROM blind_inspection WHERE revealed IS NULL)").fetchone()
    return values.flag(found)


def _calendar(connection: sqlite3.Connection) -> InspectionDays | None:
    found = connection.execute(f"{CALENDARS.select} LIMIT 2").fetchall()
    return CALENDARS.read(found[0]) if values.whole(len(found), 0, 1) else None


def _places(connection: sqlite3.Connection, board: Board) -> Iterator[Place]:
    coupons = connection.execute(
        "SELECT key, row_number, column_number, EXISTS (SELECT 1 FROM grading WHERE coupon = coupon.key"
        " AND state = 'current') FROM coupon WHERE row_number IS NOT NULL AND column_number IS NOT NULL"
        " ORDER BY row_number, column_number LIMIT ?",
        (MOST_COUPONS + 1,),
    ).fetchall()
    values.whole(len(coupons), 0, MOST_COUPONS)
    grades = _last_grades(connection, {key for key, _, _, graded in coupons if graded})
    for key, row, column, _ in coupons:
        if not board.has(Position(row, column)):
            raise ValueError("a coupon hangs beyond the board")
        yield row, column, grades.get(key)


def _last_grades(connection: sqlite3.Connection, wanted: set[int]) -> dict[int, int]:
    """Return the newest grade of each coupon; inspections are walked from the newest until all are found."""
    grades: dict[int, int] = {}
    inspections = connection.execute(
        "SELECT key FROM inspection ORDER BY at DESC, key DESC LIMIT ?", (_MOST_WALKED,)
    ).fetchall()
    for (inspection,) in inspections:
        if len(grades) == len(wanted):
            break
        for coupon, grade in connection.execute(
            "SELECT coupon, grade FROM grading WHERE inspection = ? AND state = 'current'", (inspection,)
        ).fetchall():
            if coupon in wanted:
                grades.setdefault(coupon, values.whole(grade, GRADES[0], GRADES[-1]))
    return grades


def _newest_photo(connection: sqlite3.Connection, folder: Path) -> ShelfPhoto | None:
    rows = connection.execute(
        "SELECT photo.file, photo.sha256, photo.mm_to_px, coalesce(inspection.at, photo.taken) AS at"
        " FROM photo LEFT JOIN inspection ON inspection.key = photo.inspection"
        " WHERE photo.mm_to_px <> '[]' AND coalesce(inspection.at, photo.taken) IS NOT NULL"
        " ORDER BY at DESC, photo.key DESC LIMIT ?",
        (_MOST_PHOTOS_TRIED,),
    ).fetchall()
    for file, sha256, placed, _ in rows:
        path = photo_path(folder, values.line(file))
        mm_to_px = values.homography(placed)
        if path is not None and mm_to_px and path.is_file():
            return ShelfPhoto(path, values.line(sha256), mm_to_px)
    return None
