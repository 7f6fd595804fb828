"""Boards on disk for the tests of the store, and looks at them that go past the program."""

from __future__ import annotations

import hashlib
import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from rustboard.board.model import Board, Coupon, Inspection, Photo, Treatment
from rustboard.board.position import Position
from rustboard.operations.boards import label_axis
from rustboard.operations.coupons import add_coupon
from rustboard.operations.grading import GivenGrade, grade_coupon
from rustboard.operations.inspections import add_inspection
from rustboard.operations.photos import add_photo
from rustboard.operations.treatments import add_treatment
from rustboard.store.board_store import BoardStore, create_board
from rustboard.store.check import check_board
from rustboard.store.photos import keep_photo
from rustboard.store.tables import BoardRow
from rustboard.support.problems import InputError

NOW = datetime(2026, 3, 2, 9)
PHOTO_BYTES = b"\xff\xd8 not much of a picture"


def empty_board(folder: Path) -> Path:
    """Make an empty board of 3 rows of 7; return its folder."""
    create_board(folder, BoardRow(Board("Harbour wall")))
    return folder


def graded_board(folder: Path, *, coupons: int = 3, inspections: int = 2) -> Path:
    """Make a board with coupons, a treatment, a label, a photo and a grade for each coupon at each inspection."""
    empty_board(folder)
    with opened(folder) as store:
        do(store, add_treatment, Treatment("T1", "beeswax", cost_per_m2=3.1))
        do(store, label_axis, "row", 0, "under the eaves")
        for number in range(coupons):
            outline = ((0.0, 0.0), (60.0, 0.0), (60.0, 120.0))
            place = Position(number // 7, number % 7)
            do(store, add_coupon, Coupon(f"C{number + 1:02}", place, 1, outline_mm=outline))
        for number in range(inspections):
            do(store, add_inspection, Inspection(NOW + timedelta(days=7 * number), "Ann"))
            for coupon in range(coupons):
                do(store, grade_coupon, GivenGrade(coupon + 1, number + 1, 9 - number, "S", grader="Ann"))
        file, digest = keep_photo(folder, "IMG_0001.jpg", PHOTO_BYTES, NOW)
        do(store, add_photo, Photo("IMG_0001.jpg", file, digest, 4000, 3000, NOW, 1))
    return folder


@contextmanager
def opened(path: Path, *, now: datetime = NOW, read_only: bool = False) -> Iterator[BoardStore]:
    """Open a board for the length of a block."""
    store = BoardStore(path, now=now, read_only=read_only)
    try:
        yield store
    finally:
        store.close()


def do(store: BoardStore, operation, *arguments) -> None:
    store.apply(operation, *arguments, now=NOW, who="tester")


@contextmanager
def raw(folder: Path) -> Iterator[sqlite3.Connection]:
    """Give the bare database, foreign keys off and rules unlooked-at where SQLite allows it; commits at the end."""
    with closing(sqlite3.connect(folder / "board.rustboard", isolation_level=None)) as connection:
        connection.execute("PRAGMA ignore_check_constraints = ON")
        yield connection


def plant(folder: Path, *statements: str) -> None:
    """Run bare SQL on a board file."""
    with raw(folder) as connection:
        for statement in statements:
            connection.execute(statement)


def tables_of(
    folder: Path, *, but: frozenset[str] = frozenset({"journal", "journal_row", "audit", "sqlite_sequence"})
):
    """Return all rows of all tables, by table, as the file holds them."""
    with closing(sqlite3.connect(f"file:{folder / 'board.rustboard'}?mode=ro", uri=True)) as connection:
        names = [name for (name,) in connection.execute("SELECT name FROM sqlite_schema WHERE type = 'table'")]
        return {
            name: sorted(connection.execute(f"SELECT * FROM {name}").fetchall(), key=repr)
            for name in names
            if name not in but
        }


def refusal_of_reading(folder: Path) -> str:
    """Return the sentence with which the board is refused, which the check must give as well."""
    with pytest.raises(InputError) as caught, opened(folder) as store:
        store.read()
    what = caught.value.problem.what
    assert any(what in problem for problem in problems_told(folder))
    return what


def problems_told(folder: Path) -> list[str]:
    """Return what the check says, be it that the board cannot be opened at all."""
    try:
        return check_board(folder).problems
    except InputError as error:
        return [str(error)]


def damaged(table: str, key: int = 1) -> str:
    """Return the sentence for a row that holds what no version writes."""
    return f"Row {key} of the table {table} is damaged; restore a copy from the backups folder."


def folder_state(folder: Path) -> dict[str, tuple[str, int]]:
    """Return content and time of change of everything in a folder, and of the folder itself."""
    return {
        str(path.relative_to(folder)): (
            hashlib.sha256(path.read_bytes()).hexdigest() if path.is_file() else "folder",
            path.stat().st_mtime_ns,
        )
        for path in (folder, *sorted(folder.rglob("*")))
    }


def interrupted_copy(folder: Path, target: Path) -> Path:
    """Copy a board as a crash in the middle of a commit leaves it: pages half written, the journal beside them."""
    with raw(folder) as connection:
        connection.execute("PRAGMA journal_mode = DELETE")
        connection.execute("PRAGMA cache_size = 1")  # so that pages reach the file before the commit
        connection.execute("BEGIN IMMEDIATE")
        connection.execute("UPDATE coupon SET note = hex(randomblob(3000))")
        connection.execute("UPDATE grading SET note = hex(randomblob(3000))")
        shutil.copytree(folder, target)
        connection.execute("ROLLBACK")
    return target
