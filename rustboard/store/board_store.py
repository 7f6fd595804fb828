"""One board folder, open: reading, transactions, undo."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from datetime import datetime
from pathlib import Path
from typing import Any

from rustboard.board.record import BoardRecord
from rustboard.store import backup, journal, schema
from rustboard.store.database import DATABASE_ERRORS, connect, database_problem, look_at_header
from rustboard.store.folder import BOARD_FILE, board_file_of, folder_of, fresh_folder, is_backup
from rustboard.store.handles import guard_of, snapshot
from rustboard.store.journal import Direction
from rustboard.store.lock import FOLDER_NOT_WRITABLE, BoardLock
from rustboard.store.measuring_tables import MEASUREMENTS
from rustboard.store.migrate import migrate
from rustboard.store.reading import read_record
from rustboard.store.tables import BOARD, GRADINGS, BoardRow
from rustboard.store.transaction import RowChange, Transaction, write_audit, write_journal
from rustboard.store.weather_content import forget_unnamed, read_content
from rustboard.support.files import disk_problem
from rustboard.support.problems import InputError
from rustboard.support.summary import Summary
from rustboard.support.text import many_lines, one_line

Operation = Callable[..., Summary]


def create_board(folder: Path, row: BoardRow) -> None:
    """Make a new board folder; it appears whole or not at all.

    Raises:
        InputError: the folder holds something already, the board's numbers cannot be, or the disk refused.
    """
    content = _checked_row(row)
    with fresh_folder(folder) as part:
        try:
            with closing(sqlite3.connect(part / BOARD_FILE, isolation_level=None)) as connection:
                connection.execute("PRAGMA synchronous = FULL")
                connection.execute("BEGIN IMMEDIATE")
                schema.create(connection)
                columns = ", ".join(BOARD.columns)
                marks = ", ".join("?" * len(BOARD.columns))
                connection.execute(f"INSERT INTO board (key, {columns}) VALUES (1, {marks})", content)
                connection.execute("COMMIT")
        except sqlite3.IntegrityError as error:
            raise _integrity_problem(error) from error
        except sqlite3.Error as error:
            raise database_problem(error, folder / BOARD_FILE) from error


def _checked_row(row: BoardRow) -> tuple[Any, ...]:
    try:
        content = tuple(many_lines(each) if isinstance(each, str) else each for each in BOARD.to_row(row))
        BOARD.from_row((1, *content))
    except (ValueError, TypeError, OverflowError) as error:
        raise InputError(
            "The new board's grid, size, angles, start or markers are not possible; mend them."
        ) from error
    return content


class BoardStore:
    """An open board folder. All access is from one thread; nothing here returns a cursor.

    Attributes:
        file: the board file, links followed.
        folder: the board folder.
        read_only_reason: why this window may only read; empty when it may write.
    """

    def __init__(self, path: Path, *, now: datetime, read_only: bool = False) -> None:
        """Open the board in ``path`` (the folder or its board file, or one of its dated copies to look at).

        Raises:
            InputError: there is no sound board of a format that this program reads.
        """
        self.file = _real_file(board_file_of(path))
        look_at_header(self.file)  # before the lock, which would leave its traces beside a file that is no board
        backed_up = is_backup(self.file)
        self.folder = folder_of(self.file)
        self._guard = guard_of(self.file)
        self._lock = BoardLock(self.folder)
        if backed_up:
            self.read_only_reason = _BACKUP
        elif read_only:
            self.read_only_reason = "The board was opened for reading only."
        else:
            self.read_only_reason = self._lock.take(now)
        try:
            self._connection = self._open(now)
            self._mark = self.newest_step()
        except BaseException:
            self._lock.release()
            raise

    def _open(self, now: datetime) -> sqlite3.Connection:
        if not self.read_only_reason:
            try:
                with self._guard:  # its migration, its copy and its prune
                    return self._open_for_writing(now)
            except InputError as error:
                self.read_only_reason = _why_not_writable(error)
                if not self.read_only_reason:
                    raise
                self._lock.release()
        return connect(self.file, write=False)

    def _open_for_writing(self, now: datetime) -> sqlite3.Connection:
        connection = connect(self.file, write=True)
        try:
            migrate(connection, self.file)
            _try_to_write(connection)
            backup.daily(self.file, now.date())
            connection.execute("BEGIN IMMEDIATE")
            journal.prune(connection)
            forget_unnamed(connection)
            connection.execute("COMMIT")
        except DATABASE_ERRORS as error:
            connection.close()
            raise database_problem(error, self.file) from error
        except BaseException:
            connection.close()
            raise
        return connection

    def close(self) -> None:
        """Close the file and give the lock back; closing twice does nothing."""
        self._connection.close()
        self._lock.release()

    def renew_lock(self, now: datetime) -> None:
        """Say that the board is still open here; call it about once a minute."""
        self._lock.renew(now)

    def read(self) -> BoardRecord:
        """Return everything the board holds, grades that do not count left out."""
        with self._reading():
            return read_record(self._connection)

    def gradings(self, coupon: int, inspection: int) -> list[Any]:
        """Return every grading of a coupon at an inspection, superseded and withdrawn ones too, oldest first."""
        with self._reading():
            rows = self._connection.execute(
                f"{GRADINGS.select} WHERE coupon = ? AND inspection = ? ORDER BY key", (coupon, inspection)
            ).fetchall()
            return [GRADINGS.read(row) for row in rows]

    def measurements(self, photo: int, coupon: int) -> list[Any]:
        """Return every measurement of a coupon in a photo, superseded ones too, oldest first."""
        with self._reading():
            rows = self._connection.execute(
                f"{MEASUREMENTS.select} WHERE photo = ? AND coupon = ? ORDER BY key", (photo, coupon)
            ).fetchall()
            return [MEASUREMENTS.read(row) for row in rows]

    def weather_content(self, sha256: str) -> bytes:
        """Return the readings of a logger's file as they are kept.

        Raises:
            InputError: they are damaged.
        """
        with self._reading():
            return read_content(self._connection, sha256)

    def audit(self, most: int = 1_000) -> list[tuple[str, str, str, Summary]]:
        """Return the newest audit lines, newest first: time, who, operation, what; a damaged one says so."""
        with self._reading():
            return journal.audit_lines(self._connection, most)

    def apply(
        self, operation: Operation, *arguments: Any, now: datetime, who: str, joins: int = 0
    ) -> tuple[Summary, list[RowChange]]:
        """Run an operation in one transaction; when this returns, it is on the disk.

        With ``joins``, the key of the newest step, it is undone and redone together with that step.

        Raises:
            InputError: the operation refused, the board is read-only, or the disk refused; nothing was changed.
        """
        who = one_line(who)
        with self._transaction():
            transaction = Transaction(self._connection, now, who)
            summary = operation(transaction, *arguments)
            changes = transaction.changes()
            if changes:
                write_journal(self._connection, now, summary, changes, joins)
                write_audit(self._connection, now, who, getattr(operation, "__name__", "operation"), summary)
        return summary, changes

    def step(self, direction: Direction, *, now: datetime, who: str) -> tuple[Summary, list[RowChange]] | None:
        """Undo or redo one step; return what it was and what changed, or None when there is none.

        Raises:
            InputError: the board is read-only, the step's record is damaged, or the disk refused; nothing was
                changed.
        """
        with self._transaction():
            entry = journal.next_entry(self._connection, direction)
            if entry is None:
                return None
            changes = journal.replay(self._connection, entry, direction)
            write_audit(self._connection, now, one_line(who), direction, entry.summary)
        return entry.summary, changes

    def next_step(self, direction: Direction) -> Summary | None:
        """Return what undo or redo would do next, or None; a step whose record is damaged is none."""
        with self._reading():
            entry = journal.next_entry(self._connection, direction)
        return None if entry is None else entry.summary

    def step_towards_opening(self) -> Direction | None:
        """Return which step leads back to the board as it was when this window opened it; None when it is there.

        Steps from before that were undone here stay undone once another step has taken their place.
        """
        with self._reading():
            newest = self.newest_step()
            done = journal.next_entry(self._connection, "undo")
            undone = journal.next_entry(self._connection, "redo")
        if newest > self._mark:
            return "undo" if done is not None else None
        return "redo" if undone is not None and undone.key <= self._mark else None

    def outside_changes(self) -> int:
        """Return a number that changes when another window commits; ask before `read`, or a commit may be missed."""
        with self._reading():
            (version,) = self._connection.execute("PRAGMA data_version").fetchone()
        return int(version)

    def newest_step(self) -> int:
        """Return the key of the step that undo would take back, 0 when there is none."""
        with self._reading():
            (key,) = self._connection.execute("SELECT coalesce(max(key), 0) FROM journal WHERE undone = 0").fetchone()
        return int(key)

    @contextmanager
    def _transaction(self) -> Iterator[None]:
        if self.read_only_reason:
            raise InputError(self.read_only_reason)
        with self._guard, self._told():
            self._connection.execute("BEGIN IMMEDIATE")
            try:
                yield
                self._connection.execute("COMMIT")
            except BaseException:
                # A full disk may have rolled the transaction back already.
                if self._connection.in_transaction:
                    self._connection.execute("ROLLBACK")
                raise

    @contextmanager
    def _reading(self) -> Iterator[None]:
        with self._guard, self._told(), snapshot(self._connection):
            yield

    @contextmanager
    def _told(self) -> Iterator[None]:
        try:
            yield
        except sqlite3.IntegrityError as error:
            raise _integrity_problem(error) from error
        except DATABASE_ERRORS as error:
            raise database_problem(error, self.file) from error


_BACKUP = "This is a dated copy of a board, so it is open for reading only; save a copy of it to work on from there."


def _real_file(file: Path) -> Path:
    """Return the file behind a link, so that all who open it find the same lock."""
    try:
        return file.resolve() if file.is_symlink() else file
    except (OSError, RuntimeError, ValueError) as error:
        raise disk_problem(error if isinstance(error, OSError) else ValueError(), file) from error


def _try_to_write(connection: sqlite3.Connection) -> None:
    # A transaction begins on a read-only file too, and a folder in which the rollback journal cannot be made shows
    # itself only when a page is changed; so one is, and is taken back.
    connection.execute("BEGIN IMMEDIATE")
    try:
        connection.execute("UPDATE board SET name = name || '.'")
    except sqlite3.OperationalError as error:
        if error.sqlite_errorcode & 0xFF != sqlite3.SQLITE_FULL:  # room can be made while the board is open
            raise
    if connection.in_transaction:
        connection.execute("ROLLBACK")


def _why_not_writable(error: InputError) -> str:
    """Return why a board can be read at most, or an empty text when the error is about something else."""
    code = getattr(error.__cause__, "sqlite_errorcode", 0)
    if code == sqlite3.SQLITE_READONLY_DIRECTORY or code & 0xFF == sqlite3.SQLITE_CANTOPEN:
        return FOLDER_NOT_WRITABLE
    if code & 0xFF in {sqlite3.SQLITE_READONLY, sqlite3.SQLITE_PERM}:
        return "The board file may not be written, so the board is open for reading only."
    return ""


def _integrity_problem(error: sqlite3.IntegrityError) -> InputError:
    # Operations look first; this is the last line of defence, in words that help all the same.
    text = str(error)
    if "coupon.id" in text:
        return InputError("Another coupon has this id; choose a different one.")
    if "treatment.id" in text:
        return InputError("Another treatment has this id; choose a different one.")
    if "row_number" in text:
        return InputError("Another coupon is at this position; move it first.")
    return InputError(f"The board cannot hold this ({text}); nothing was changed.")
