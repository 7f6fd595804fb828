"""Looking a board over without writing anything: is the file sound, and are the photos the ones that were added?"""

from __future__ import annotations

import hashlib
import sqlite3
from dataclasses import dataclass, field
from pathlib import Path

from rustboard.board.record import BoardRecord
from rustboard.store.database import database_problem, for_looking, hot_journal
from rustboard.store.folder import board_file_of, photo_path
from rustboard.store.reading import read_record
from rustboard.support.problems import InputError


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
    if hot_journal(file) is not None:
        result.notes.append("The last write was cut off; it will be taken back when the board is next opened.")
    with for_looking(file) as connection:
        try:
            _look_at_file(connection, result)
            record = read_record(connection)
        except sqlite3.Error as error:
            raise database_problem(error, file) from error
        except InputError as error:
            result.problems.append(str(error.located(file=file.name)))
            return result
        _look_at_rules(connection, record, result)
    _look_at_photos(file.parent, record, result)
    return result


def _look_at_file(connection: sqlite3.Connection, result: CheckResult) -> None:
    lines = [str(row[0]) for row in connection.execute("PRAGMA integrity_check(20)").fetchall()]
    if lines != ["ok"]:
        result.problems.extend(f"The board file is damaged: {line}." for line in lines)
    for table, key, parent, _ in connection.execute("PRAGMA foreign_key_check").fetchmany(20):
        result.problems.append(f"Row {key} of {table} points at a {parent} that is not there.")


def _look_at_rules(connection: sqlite3.Connection, record: BoardRecord, result: CheckResult) -> None:
    result.board = record.board.name
    for coupon in record.coupons.values():
        if coupon.position is not None and not record.board.has(coupon.position):
            result.problems.append(
                f"Coupon {coupon.id} is at {coupon.position.label}, which the board does not have."
            )
    lettered = connection.execute(
        "SELECT count(*) FROM grading WHERE distribution != '' AND grade IN (0, 10)"
    ).fetchone()[0]
    if lettered:
        result.problems.append(f"{lettered} gradings of 10 or 0 carry a distribution letter.")
    for name in ("coupon", "treatment", "inspection", "grading", "photo", "audit"):
        (result.counts[name],) = connection.execute(f"SELECT count(*) FROM {name}").fetchone()


def _look_at_photos(folder: Path, record: BoardRecord, result: CheckResult) -> None:
    for photo in record.photos.values():
        path = photo_path(folder, photo.file)
        if path is None:
            result.problems.append(f"The photo “{photo.file[:80]}” is recorded outside the photos folder.")
        elif not path.is_file():
            result.problems.append(f"The photo {photo.file} is missing from the photos folder.")
        elif _sha256(path) != photo.sha256:
            result.problems.append(f"The photo {photo.file} is not the one that was added; its content differs.")


def _sha256(path: Path) -> str:
    try:
        with path.open("rb") as stream:
            return hashlib.file_digest(stream, "sha256").hexdigest()
    except OSError:
        return ""
