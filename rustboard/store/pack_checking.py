"""A board file that came in a packed board, looked over as a stranger's before anybody works with it."""

from __future__ import annotations

import hashlib
import sqlite3
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from rustboard.board.record import BoardRecord
from rustboard.store.check import CheckResult, broken_rules, look_at_rows
from rustboard.store.database import database_problem, for_looking
from rustboard.store.folder import PHOTOS
from rustboard.store.pack_format import Leaf, altered
from rustboard.store.values import LARGEST_KEY
from rustboard.support.problems import InputError

_NOT_CONTENT: Final = frozenset({"journal", "journal_row", "sqlite_sequence", "shelving"})
"""How a board stands on a shelf is no more content than what can be taken back."""


@dataclass(frozen=True, slots=True)
class LookedOver:
    """A board that can be opened.

    Attributes:
        doubts: sentences about what is damaged in it and does not keep it from being opened.
        missing: photos that the board names and that did not travel.
        digest: of its rows; see `content_digest`.
    """

    record: BoardRecord
    doubts: tuple[str, ...]
    missing: int
    digest: str


def look_over(file: Path, leaf: Leaf) -> LookedOver:
    """Look a received board file over; nothing is written.

    Raises:
        InputError: it cannot be opened safely.
    """
    try:
        with for_looking(file) as connection:
            looked = _looked_over(connection, leaf)
    except sqlite3.Error as error:
        raise _refused(database_problem(error, file)) from error
    except (ValueError, TypeError, OverflowError, RecursionError) as error:
        raise altered("a row of its board is damaged") from error
    except InputError as error:
        raise _refused(error) from error
    return looked


def _looked_over(connection: sqlite3.Connection, leaf: Leaf) -> LookedOver:
    if any(_has_rows(connection, table) for table in ("journal", "journal_row")):
        raise InputError("The board holds steps of undo, which Rustboard never packs.")
    broken = broken_rules(connection)
    if broken:
        raise InputError(broken[0])
    if _numbers_are_used_up(connection):
        raise InputError("The board's rows can take no more numbers.")
    result = CheckResult()
    record = look_at_rows(connection, result)
    if record.board.name != leaf.board:
        raise InputError("The board has another name than its packed file says.")
    return LookedOver(record, tuple(result.problems), _missing(record, leaf), content_digest(connection))


def _has_rows(connection: sqlite3.Connection, table: str) -> bool:
    return connection.execute(f"SELECT 1 FROM {table} LIMIT 1").fetchone() is not None


def _numbers_are_used_up(connection: sqlite3.Connection) -> bool:
    """Return whether no new row can be added: such a board opens, and then calls the disk full at every change."""
    query = "SELECT 1 FROM sqlite_sequence WHERE typeof(seq) <> 'integer' OR seq NOT BETWEEN 0 AND ? LIMIT 1"
    return connection.execute(query, (LARGEST_KEY,)).fetchone() is not None


def _missing(record: BoardRecord, leaf: Leaf) -> int:
    """Return how many photos of the board did not travel; each that did must be one that the board names."""
    named = {f"{PHOTOS}/{each.file}": each.sha256 for each in record.photos.values()}
    for each in leaf.members[1:]:
        if named.get(each.name) != each.sha256:
            raise InputError("A photo travelled with it that the board does not name.")
    return len(named) - (len(leaf.members) - 1)


def _refused(error: InputError) -> InputError:
    """Return a refusal in the words of a packed board: there are no backups beside it to restore."""
    what = error.problem.what
    if "newer version" in what or what.startswith("This packed board"):
        return InputError(what)
    reason = what.partition(";")[0].rstrip(".")
    return altered(reason[:1].lower() + reason[1:])


def content_digest(connection: sqlite3.Connection) -> str:
    """Return a hash of all rows of a board but its steps of undo and its place on the shelf.

    Two boards with the same hash are the same. It does not change with packing, whatever pages the file is made of
    and whichever SQLite wrote them.
    """
    digest = hashlib.sha256()
    names = connection.execute("SELECT name FROM sqlite_schema WHERE type = 'table' ORDER BY name").fetchall()
    for (name,) in names:
        if name in _NOT_CONTENT:
            continue
        digest.update(f"\n{name}\n".encode())
        for row in connection.execute(f"SELECT * FROM {name} ORDER BY 1, 2"):
            digest.update(repr(row).encode("utf-8", "backslashreplace"))
    return digest.hexdigest()
