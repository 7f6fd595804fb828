"""The few facts of a board that its card on the shelf shows, read without reading the whole board."""

from __future__ import annotations

import json
import math
import sqlite3
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any, Final

from rustboard.board.model import MOST_COUPONS
from rustboard.store.database import database_problem, for_looking
from rustboard.store.folder import board_file_of, photo_path
from rustboard.support.files import disk_problem, shown_name
from rustboard.support.problems import InputError

_MOST_INSPECTIONS: Final = 20_000
_MOST_PHOTOS_TRIED: Final = 20

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
class ShelfRow:
    """What a board says about itself.

    Attributes:
        first_inspection, last_inspection: None where nobody has been there yet.
        places: the coupons on the board, those taken off left out.
        photo: the newest placed photo whose file is there, or None.
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


def read_shelf_row(folder: Path) -> ShelfRow:
    """Return what the card of a board shows; nothing is locked, and nothing is written in the folder.

    Raises:
        InputError: there is no sound board.
    """
    file = board_file_of(folder)
    try:
        with for_looking(file) as connection:
            return _row(connection, folder)
    except sqlite3.Error as error:
        raise database_problem(error, file) from error
    except OSError as error:
        raise disk_problem(error, file) from error
    except (ValueError, TypeError, OverflowError, RecursionError) as error:
        raise InputError(
            "A row of this board is damaged; restore a copy from the backups folder.", file=shown_name(file)
        ) from error


def _row(connection: sqlite3.Connection, folder: Path) -> ShelfRow:
    found = connection.execute(
        "SELECT name, site, row_count, column_count, width_mm, height_mm, started FROM board WHERE key = 1"
    ).fetchone()
    if found is None:
        raise ValueError("no board")
    name, site, rows, columns, width, height, started = found
    first, last, count = connection.execute("SELECT min(at), max(at), count(*) FROM inspection").fetchone()
    return ShelfRow(
        name=name,
        site=site,
        rows=rows,
        columns=columns,
        width_mm=width,
        height_mm=height,
        started=_time(started),
        first_inspection=_time(first),
        last_inspection=_time(last),
        inspections=count,
        places=tuple(_places(connection)),
        photo=_newest_photo(connection, folder),
    )


def _time(text: str | None) -> datetime | None:
    return None if text is None else datetime.fromisoformat(text).replace(tzinfo=None)


def _places(connection: sqlite3.Connection) -> Iterator[Place]:
    coupons = connection.execute(
        "SELECT key, row_number, column_number, EXISTS (SELECT 1 FROM grading WHERE coupon = coupon.key"
        " AND state = 'current') FROM coupon WHERE row_number IS NOT NULL AND column_number IS NOT NULL"
        " ORDER BY row_number, column_number LIMIT ?",
        (MOST_COUPONS,),
    ).fetchall()
    grades = _last_grades(connection, {key for key, _, _, graded in coupons if graded})
    for key, row, column, _ in coupons:
        yield row, column, grades.get(key)


def _last_grades(connection: sqlite3.Connection, wanted: set[int]) -> dict[int, int]:
    """Return the newest grade of each coupon; inspections are walked from the newest until all are found."""
    grades: dict[int, int] = {}
    inspections = connection.execute(
        "SELECT key FROM inspection ORDER BY at DESC, key DESC LIMIT ?", (_MOST_INSPECTIONS,)
    ).fetchall()
    for (inspection,) in inspections:
        if len(grades) == len(wanted):
            break
        for coupon, grade in connection.execute(
            "SELECT coupon, grade FROM grading WHERE inspection = ? AND state = 'current'", (inspection,)
        ).fetchall():
            if coupon in wanted:
                grades.setdefault(coupon, grade)
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
        path = photo_path(folder, file)
        if path is not None and path.is_file():
            return ShelfPhoto(path, sha256, _homography(json.loads(placed)))
    return None


def _homography(numbers: Any) -> tuple[float, ...]:
    if not isinstance(numbers, list) or len(numbers) != 9:
        raise ValueError("a photo's placing is damaged")
    placed = tuple(float(each) for each in numbers)
    if not all(map(math.isfinite, placed)):
        raise ValueError("a photo's placing is damaged")
    return placed
