"""Looking a board over without writing anything: is the file sound, and are the photos the ones that were added?"""

from __future__ import annotations

import hashlib
import sqlite3
from dataclasses import dataclass, field
from pathlib import Path

from rustboard.board.record import BoardRecord
from rustboard.store.database import looking
from rustboard.store.folder import PHOTOS, board_file_of, photo_path
from rustboard.store.journal import count_damaged
from rustboard.store.reading import read_record
from rustboard.store.weather_content import read_content
from rustboard.support.files import shown_name
from rustboard.support.problems import InputError

_MOST_LISTED = 20
_COUNTED = (
    "coupon",
    "treatment",
    "inspection",
    "grading",
    "photo",
    "measurement",
    "stroke",
    "disturbance",
    "recipe",
    "question",
    "lot",
    "weather_file",
    "day_note",
    "weighing",
    "audit",
)


@dataclass(slots=True)
class CheckResult:
    """What a look at a board found.

    Attributes:
        problems: sentences; none when the board is sound.
        notes: things worth knowing that are not wrong.
        counts: rows by kind.
    """

    board: str = ""
    problems: list[str] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    counts: dict[str, int] = field(default_factory=dict)


def check_board(path: Path) -> CheckResult:
    """Look a board over.

    Raises:
        InputError: it cannot be opened at all.
    """
    file = board_file_of(path)
    result = CheckResult()
    with looking(file) as look:
        if look.interrupted:
            result.notes.append("The last write was cut off; it will be taken back when the board is next opened.")
        try:
            result.problems.extend(broken_rules(look.connection))
            record = look_at_rows(look.connection, result)
        except InputError as error:
            result.problems.append(str(error.located(file=shown_name(file))))
            return result
    _look_at_photos(file.parent, record, result)
    return result


def broken_rules(connection: sqlite3.Connection) -> list[str]:
    """Return what is wrong with the file as a database, a sentence each."""
    lines = [str(row[0]) for row in connection.execute(f"PRAGMA integrity_check({_MOST_LISTED})").fetchall()]
    problems = [] if lines == ["ok"] else [f"The board file is damaged: {line}." for line in lines]
    for table, key, parent, _ in connection.execute("PRAGMA foreign_key_check").fetchmany(_MOST_LISTED):
        problems.append(f"Row {key} of {table} points at a row of {parent} that is not there.")
    return problems


def look_at_rows(connection: sqlite3.Connection, result: CheckResult) -> BoardRecord:
    """Read a board and add to ``result`` what is wrong with rows that it can be opened without.

    Raises:
        InputError: it cannot be read at all.
    """
    record = read_record(connection)
    result.board = record.board.name
    (lettered,) = connection.execute(
        "SELECT count(*) FROM grading WHERE distribution != '' AND grade IN (0, 10)"
    ).fetchone()
    if lettered:
        result.problems.append(f"Gradings of 10 or 0 with a distribution letter, which the scale lacks: {lettered}.")
    steps, audited = count_damaged(connection)
    if steps:
        result.problems.append(f"Steps whose record is damaged, so that they cannot be taken back: {steps}.")
    if audited:
        result.problems.append(f"Lines of the record of changes that are damaged: {audited}.")
    for each in record.weather_files.values():
        try:
            read_content(connection, each.content)
        except InputError as error:
            result.problems.append(f"{each.name[:80]}: {error}")
    for name in _COUNTED:
        (result.counts[name],) = connection.execute(f"SELECT count(*) FROM {name}").fetchone()
    return record


def _look_at_photos(folder: Path, record: BoardRecord, result: CheckResult) -> None:
    for photo in record.photos.values():
        problem = _photo_problem(photo_path(folder, photo.file), photo.sha256)
        if problem:
            result.problems.append(f"The photo {photo.file[:80]} {problem}.")
    unnamed = _unnamed_photos(folder, {photo.file for photo in record.photos.values()})
    if unnamed:
        result.notes.append(
            f"Files in the photos folder that the board does not name, such as photos added and undone: {unnamed}."
        )


def _unnamed_photos(folder: Path, named: set[str]) -> int:
    photos = folder / PHOTOS
    try:
        return sum(each.is_file() and each.name not in named for each in photos.iterdir())
    except OSError:  # none was added yet, or the missing ones have been told
        return 0


def _photo_problem(path: Path | None, sha256: str) -> str:
    if path is None:
        return "is recorded outside the photos folder"
    try:
        if not path.is_file():
            return "is missing from the photos folder"
        with path.open("rb") as stream:
            found = hashlib.file_digest(stream, "sha256").hexdigest()
    except OSError:
        return "cannot be read; check the permissions of the photos folder"
    return "" if found == sha256 else "is not the one that was added; its content differs"
