"""Opening a board file: with care when it is ours, with distrust when it is a stranger's."""

from __future__ import annotations

import os
import sqlite3
import stat
import tempfile
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from typing import NamedTuple
from urllib.parse import quote

from rustboard.store import schema
from rustboard.store.handles import guard_of, snapshot
from rustboard.store.migrate import migrate
from rustboard.support.files import copy_whole, disk_problem, shown_name
from rustboard.support.problems import InputError

BUSY_SECONDS = 5.0
DATABASE_ERRORS = (sqlite3.Error, UnicodeDecodeError)
"""What a damaged file can raise: Python decodes SQLite's own messages too, which may quote bytes that are no text."""

_MAGIC = b"SQLite format 3\x00"
_SMALLEST = 512
_LONGEST_VALUE = 4 << 20
"""Bytes of the longest value or row; the longest that this program writes is a journal row of about 0.3 MB."""
_COMPANIONS = ("-journal", "-wal", "-shm")

MOST_COPIED = 512 << 20
"""Bytes of a board file that are copied at most to look at it; a whole board is seldom above 50 MB."""


class Header(NamedTuple):
    """What the first bytes of a database file say (SQLite's file format, section 1.3).

    Attributes:
        application: whose file it is.
        write_ahead: whether changes may still lie in a file beside it; this program never writes so.
        version: of the format.
    """

    application: int
    write_ahead: bool
    version: int


def look_at_header(path: Path) -> Header:
    """Look at what a file is without any database at work; nothing is written beside it.

    Raises:
        InputError: there is no file, it cannot be read, or it is not a board.
    """
    try:
        if not stat.S_ISREG(path.stat().st_mode) or any(map(_is_special, _companions(path))):
            raise _no_board_file(path)  # a pipe would be waited for without end
        with guard_of(path), path.open("rb") as stream:
            start = stream.read(_SMALLEST)
            size = os.fstat(stream.fileno()).st_size
    except FileNotFoundError:
        raise InputError(
            "There is no board here; choose a folder with a board.rustboard file.", file=shown_name(path)
        ) from None
    except (OSError, ValueError) as error:
        raise disk_problem(error, path) from error
    if not start.startswith(_MAGIC):
        raise _no_board_file(path)
    if len(start) < _SMALLEST:
        raise _damaged(path)
    header = Header(_number(start, 68), 2 in start[18:20], _number(start, 60))
    if header.application != schema.APPLICATION_ID:
        raise InputError(
            "This is another program's database, not a board; choose a board.rustboard file.", file=shown_name(path)
        )
    if size < _least_size(start) and not header.write_ahead and hot_journal(path) is None:
        raise _damaged(path)
    return header


def _number(start: bytes, at: int, length: int = 4) -> int:
    return int.from_bytes(start[at : at + length], "big")


def _least_size(start: bytes) -> int:
    """Return the bytes the file must have by its own account; SQLite itself fills up a last page that was cut."""
    counted = _number(start, 24) == _number(start, 92)  # else the number of pages is not to be relied on
    page = _number(start, 16, 2)
    return (65_536 if page == 1 else page) * _number(start, 28) if counted else 0


def _companions(path: Path) -> list[Path]:
    return [path.with_name(path.name + ending) for ending in _COMPANIONS]


def _is_special(path: Path) -> bool:
    try:
        return not stat.S_ISREG(path.stat().st_mode)
    except OSError:
        return False


def _no_board_file(path: Path) -> InputError:
    return InputError(
        "This is not a board file; choose another, or restore a copy from the backups folder beside it.",
        file=shown_name(path),
    )


def connect(path: Path, *, write: bool, formats: schema.Formats = schema.FORMATS) -> sqlite3.Connection:
    """Open a board file after looking at what it is.

    Args:
        path: the ``board.rustboard`` file.
        write: whether rows may be changed; an older format is accepted then, for `migrate`.
        formats: those this program knows.

    Raises:
        InputError: the file is not a board, is damaged, was altered, or is of a newer format.
    """
    look_at_header(path)
    connection = None
    try:
        connection = sqlite3.connect(_address(path, write), uri=True, isolation_level=None, timeout=BUSY_SECONDS)
        _harden(connection)
        with guard_of(path), snapshot(connection):
            _check_identity(connection, path, write, formats)
        if write:
            _make_durable(connection)
    except DATABASE_ERRORS as error:
        _close(connection)
        raise database_problem(error, path) from error
    except BaseException:
        _close(connection)
        raise
    return connection


def _address(path: Path, write: bool) -> str:
    # As bytes: a folder's name need not be text.
    return f"file:{quote(os.fsencode(path.resolve()))}?mode={'rw' if write else 'ro'}"


def _close(connection: sqlite3.Connection | None) -> None:
    if connection is not None:
        connection.close()


def _harden(connection: sqlite3.Connection) -> None:
    # A stranger's file must not run code of its own, and must not make us hold absurd values.
    connection.execute("PRAGMA trusted_schema = OFF")
    connection.execute("PRAGMA cell_size_check = ON")
    connection.execute("PRAGMA temp_store = MEMORY")
    connection.setlimit(sqlite3.SQLITE_LIMIT_LENGTH, _LONGEST_VALUE)
    connection.setlimit(sqlite3.SQLITE_LIMIT_ATTACHED, 0)
    connection.setlimit(sqlite3.SQLITE_LIMIT_TRIGGER_DEPTH, 0)


def _make_durable(connection: sqlite3.Connection) -> None:
    (mode,) = connection.execute("PRAGMA journal_mode = DELETE").fetchone()
    if mode != "delete":  # somebody else reads the file with changes beside it
        raise InputError(_BY_CODE[sqlite3.SQLITE_BUSY])
    connection.execute("PRAGMA synchronous = FULL")
    connection.execute("PRAGMA foreign_keys = ON")


def _check_identity(connection: sqlite3.Connection, path: Path, write: bool, formats: schema.Formats) -> None:
    (version,) = connection.execute("PRAGMA user_version").fetchone()
    if version > formats.newest:
        raise InputError(
            f"This board was written by a newer version of Rustboard (format {version}, this program reads up to "
            f"{formats.newest}); install the newest Rustboard to open it.",
            file=shown_name(path),
        )
    if version not in formats.schemas:
        raise InputError(
            f"No version of Rustboard wrote format {version}; the file was altered. "
            "Restore a copy from the backups folder beside it.",
            file=shown_name(path),
        )
    if schema.objects_of(connection) != formats.expected_objects(version):
        raise InputError(
            "The tables in this file are not those of a board; it was altered by another program. "
            "Restore a copy from the backups folder beside it.",
            file=shown_name(path),
        )
    if version != formats.newest and not write:
        raise InputError(
            f"This board is still of format {version}, which is brought up to date only where it may be written; "
            "open it in Rustboard once, or copy its folder to a place of your own.",
            file=shown_name(path),
        )


def _damaged(path: Path) -> InputError:
    return InputError(
        "The board file is damaged or cut short; restore the newest copy from the backups folder beside it.",
        file=shown_name(path),
    )


_BY_CODE = {
    sqlite3.SQLITE_FULL: "The disk is full; free some space and try again. Nothing was changed.",
    sqlite3.SQLITE_READONLY: "The board may not be written here; copy its folder to a place of your own.",
    sqlite3.SQLITE_BUSY: "Another program holds the board file; try again in a moment. Nothing was changed.",
    sqlite3.SQLITE_LOCKED: "Another program holds the board file; try again in a moment. Nothing was changed.",
    sqlite3.SQLITE_IOERR: "The disk could not be read or written; check the disk and try again. Nothing was changed.",
    sqlite3.SQLITE_CANTOPEN: "The board cannot be opened here; check the folder's permissions.",
    sqlite3.SQLITE_PERM: "The board may not be written here; check the folder's permissions.",
    sqlite3.SQLITE_TOOBIG: "A text in the board is longer than this program ever writes; the file was altered.",
}
_MOVED = (
    "The board's folder was moved, or its file was replaced, while it was open; open it again. Nothing was changed."
)


def database_problem(error: sqlite3.Error | UnicodeDecodeError, path: Path) -> InputError:
    """Return the sentence for what the database or the disk under it refused.

    A `sqlite3.ProgrammingError` (a closed board, a wrong thread) is our own fault and goes on as it is: it must never
    be called damage.
    """
    if isinstance(error, sqlite3.ProgrammingError):
        raise error
    code = getattr(error, "sqlite_errorcode", None)
    if code == sqlite3.SQLITE_READONLY_DBMOVED:
        return InputError(_MOVED, file=shown_name(path))
    if code == sqlite3.SQLITE_IOERR_DELETE:  # a write that was cut off, in a folder where nothing can be taken away
        code = sqlite3.SQLITE_READONLY
    sentence = _BY_CODE.get(code & 0xFF) if isinstance(code, int) else None
    return InputError(sentence, file=shown_name(path)) if sentence else _damaged(path)


def hot_journal(path: Path) -> Path | None:
    """Return the rollback journal that lies beside the file, or None.

    It belongs to a write that is under way, or to one that was cut off.
    """
    journal = path.with_name(path.name + "-journal")
    try:
        return journal if journal.stat().st_size > 0 else None
    except OSError:
        return None


class Look(NamedTuple):
    """A board to look at.

    Attributes:
        interrupted: whether a write was cut off and has been taken back in what is shown, though not on the disk.
    """

    connection: sqlite3.Connection
    interrupted: bool


@contextmanager
def for_looking(path: Path, most_copied: int = MOST_COPIED) -> Iterator[sqlite3.Connection]:
    """Open a board to look at, writing nothing beside it; all that the block reads is of one moment.

    Args:
        path: the board file.
        most_copied: bytes of a file that is copied because its last write was not finished.

    Raises:
        InputError: there is no sound board, or it would have to be copied and is too large for that; what the block
            meets in a damaged one is told so as well.
    """
    with looking(path, most_copied) as look:
        yield look.connection


@contextmanager
def looking(path: Path, most_copied: int = MOST_COPIED) -> Iterator[Look]:
    """Do `for_looking` and say whether the last write was cut off.

    A write that was cut off is rolled back in a private copy, and a board of an older format is brought up to date in
    one, because doing it in place would be a write.
    """
    with _for_reading(path, most_copied) as look:
        try:
            yield look
        except DATABASE_ERRORS as error:
            raise database_problem(error, path) from error


@contextmanager
def _for_reading(path: Path, most_copied: int) -> Iterator[Look]:
    with guard_of(path):
        header = look_at_header(path)
        older = header.version in schema.MIGRATIONS
        connection = None if header.write_ahead or older else _unless_interrupted(path)
        if connection is not None:
            with closing(connection), snapshot(connection):
                yield Look(connection, interrupted=False)
            return
    with tempfile.TemporaryDirectory(prefix="rustboard-", ignore_cleanup_errors=True) as folder:
        copy = Path(folder) / path.name
        _copy_unfinished(path, copy, most_copied)
        with closing(connect(copy, write=True)) as connection:
            migrate(connection, copy, keep_copy=False)
        interrupted = hot_journal(path) is not None if older else not header.write_ahead
        with closing(connect(copy, write=False)) as connection, snapshot(connection):
            yield Look(connection, interrupted=interrupted)


def _copy_unfinished(path: Path, copy: Path, most: int) -> None:
    """Copy a board file with what lies beside it of a write that was not finished."""
    try:
        with guard_of(path):
            parts = [each for each in (path, *_companions(path)[:2]) if each.exists()]
            if sum(each.stat().st_size for each in parts) > most:
                raise InputError(
                    "The last write of this board was not finished, or it is of an older format, and with more than "
                    f"{most >> 20} MiB its file is too large to be copied for a look; open the board, which puts "
                    "it right.",
                    file=shown_name(path),
                )
            for each in parts:
                copy_whole(each, copy.with_name(each.name))
    except OSError as error:
        raise disk_problem(error, path) from error


def _unless_interrupted(path: Path) -> sqlite3.Connection | None:
    try:
        return connect(path, write=False)
    except InputError as error:
        # A journal that nobody is writing makes SQLite refuse to read without rolling back first.
        code = getattr(error.__cause__, "sqlite_errorcode", None)
        if code in {sqlite3.SQLITE_READONLY_ROLLBACK, sqlite3.SQLITE_CANTOPEN} and hot_journal(path) is not None:
            return None
        raise
