"""Opening a board file: with care when it is ours, with distrust when it is a stranger's."""

from __future__ import annotations

import shutil
import sqlite3
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from urllib.parse import quote

from rustboard.store import schema
from rustboard.support.problems import InputError

_MAGIC = b"SQLite format 3\x00"
_LONGEST_VALUE = 64 << 20
_SMALLEST = 512
BUSY_SECONDS = 5.0


def connect(path: Path, *, write: bool) -> sqlite3.Connection:
    """Open a board file after looking at what it is.

    Args:
        path: the ``board.rustboard`` file.
        write: whether rows may be changed.

    Raises:
        InputError: the file is not a board, is damaged, was altered, or is of a newer format.
    """
    _look_at_header(path)
    mode = "rw" if write else "ro"
    connection = None
    try:
        connection = sqlite3.connect(
            f"file:{quote(str(path.resolve()))}?mode={mode}", uri=True, isolation_level=None, timeout=BUSY_SECONDS
        )
        _harden(connection)
        _check_identity(connection, path)
        if write:
            connection.execute("PRAGMA journal_mode = DELETE").fetchone()
            connection.execute("PRAGMA synchronous = FULL")
            connection.execute("PRAGMA foreign_keys = ON")
    except sqlite3.Error as error:
        if connection is not None:
            connection.close()
        raise database_problem(error, path) from error
    except InputError:
        if connection is not None:
            connection.close()
        raise
    return connection


def _look_at_header(path: Path) -> None:
    try:
        with path.open("rb") as stream:
            start = stream.read(_SMALLEST)
    except FileNotFoundError:
        raise InputError(
            "There is no board here; choose a folder with a board.rustboard file.", file=str(path)
        ) from None
    except OSError as error:
        raise InputError(
            f"The board cannot be read ({error.strerror}); check the folder's permissions.", file=path.name
        ) from error
    if not start.startswith(_MAGIC):
        raise InputError(
            "This is not a board file; choose another, or restore a copy from the backups folder beside it.",
            file=path.name,
        )
    if len(start) < _SMALLEST:
        raise _damaged(path)


def _harden(connection: sqlite3.Connection) -> None:
    # A stranger's file must not run code of its own, and must not make us hold absurd values.
    connection.execute("PRAGMA trusted_schema = OFF")
    connection.execute("PRAGMA cell_size_check = ON")
    connection.setlimit(sqlite3.SQLITE_LIMIT_LENGTH, _LONGEST_VALUE)
    connection.setlimit(sqlite3.SQLITE_LIMIT_ATTACHED, 0)
    connection.setlimit(sqlite3.SQLITE_LIMIT_TRIGGER_DEPTH, 0)


def _check_identity(connection: sqlite3.Connection, path: Path) -> None:
    (application,) = connection.execute("PRAGMA application_id").fetchone()
    (version,) = connection.execute("PRAGMA user_version").fetchone()
    if application != schema.APPLICATION_ID:
        raise InputError(
            "This is another program's database, not a board; choose a board.rustboard file.", file=path.name
        )
    if version > schema.FORMAT:
        raise InputError(
            f"This board was written by a newer version of Rustboard (format {version}, this program reads up to "
            f"{schema.FORMAT}); install the newest Rustboard to open it.",
            file=path.name,
        )
    if version == schema.FORMAT and schema.objects_of(connection) != schema.expected_objects():
        raise InputError(
            "The tables in this file are not those of a board; it was altered by another program. "
            "Restore a copy from the backups folder beside it.",
            file=path.name,
        )


def _damaged(path: Path) -> InputError:
    return InputError(
        "The board file is damaged or cut short; restore the newest copy from the backups folder beside it.",
        file=path.name,
    )


_BY_CODE = {
    sqlite3.SQLITE_FULL: "The disk is full, so the last change was not saved; free some space and try again.",
    sqlite3.SQLITE_READONLY: "The board may not be written here; copy its folder to a place of your own.",
    sqlite3.SQLITE_BUSY: "Another program holds the board file, so the last change was not saved; try again.",
    sqlite3.SQLITE_LOCKED: "Another program holds the board file, so the last change was not saved; try again.",
    sqlite3.SQLITE_IOERR: "The disk could not be read or written, so the last change was not saved; check the disk.",
    sqlite3.SQLITE_CANTOPEN: "The board cannot be opened for writing here; check the folder's permissions.",
    sqlite3.SQLITE_PERM: "The board may not be written here; check the folder's permissions.",
    sqlite3.SQLITE_TOOBIG: "A text in the board is too long; shorten it.",
}


def database_problem(error: sqlite3.Error, path: Path) -> InputError:
    """Return the sentence for what the database or the disk under it refused."""
    code = getattr(error, "sqlite_errorcode", None)
    sentence = _BY_CODE.get(code & 0xFF) if isinstance(code, int) else None
    return InputError(sentence, file=path.name) if sentence else _damaged(path)


def hot_journal(path: Path) -> Path | None:
    """Return the rollback journal that an interrupted write left beside the file, or None."""
    journal = path.with_name(path.name + "-journal")
    return journal if journal.exists() and journal.stat().st_size > 0 else None


@contextmanager
def for_looking(path: Path) -> Iterator[sqlite3.Connection]:
    """Open a board to look at, writing nothing beside it.

    A write that was cut off is rolled back in a private copy, because doing it in place would be a write.
    """
    try:
        connection = connect(path, write=False)
    except InputError:
        # A journal that nobody is writing makes SQLite refuse to read without rolling back first.
        if hot_journal(path) is None:
            raise
    else:
        try:
            yield connection
        finally:
            connection.close()
        return
    with tempfile.TemporaryDirectory(prefix="rustboard-") as folder:
        copy = Path(folder) / path.name
        shutil.copyfile(path, copy)
        shutil.copyfile(path.with_name(path.name + "-journal"), copy.with_name(copy.name + "-journal"))
        connection = connect(copy, write=True)
        try:
            yield connection
        finally:
            connection.close()
