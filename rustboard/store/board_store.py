"""One board folder, open: reading, transactions, undo, copies."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from datetime import datetime
from pathlib import Path
from typing import Any

from rustboard.board.record import BoardRecord
from rustboard.store import backup, journal, schema
from rustboard.store.database import connect, database_problem
from rustboard.store.folder import BOARD_FILE, board_file_of, fresh_folder
from rustboard.store.lock import BoardLock
from rustboard.store.migrate import migrate
from rustboard.store.reading import read_record
from rustboard.store.tables import BOARD, BY_NAME, GRADINGS, BoardRow
from rustboard.store.transaction import RowChange, Transaction, write_audit, write_journal
from rustboard.support.problems import InputError
from rustboard.support.summary import Summary

Operation = Callable[..., Summary]


def create_board(folder: Path, row: BoardRow) -> None:
    """Make a new board folder; it appears whole or not at all.

    Raises:
        InputError: the folder holds something already, or the disk refused.
    """
    with (
        fresh_folder(folder) as part,
        closing(sqlite3.connect(part / BOARD_FILE, isolation_level=None)) as connection,
    ):
        try:
            connection.execute("PRAGMA synchronous = FULL")
            connection.execute("BEGIN IMMEDIATE")
            schema.create(connection)
            columns = ", ".join(BOARD.columns)
            marks = ", ".join("?" * len(BOARD.columns))
            connection.execute(f"INSERT INTO board (key, {columns}) VALUES (1, {marks})", BOARD.to_row(row))
            connection.execute("COMMIT")
        except sqlite3.Error as error:
            raise database_problem(error, folder / BOARD_FILE) from error


class BoardStore:
    """An open board folder. All access is from one thread; nothing here returns a cursor.

    Attributes:
        folder: the board folder.
        read_only_reason: why this window may only read; empty when it may write.
    """

    def __init__(self, path: Path, *, now: datetime, read_only: bool = False) -> None:
        """Open the board in ``path`` (the folder or its board file).

        Raises:
            InputError: there is no sound board of a format that this program reads.
        """
        self._file = board_file_of(path)
        self.folder = self._file.parent
        self._lock = BoardLock(self.folder)
        self.read_only_reason = "The board was opened for reading only." if read_only else self._lock.take(now)
        try:
            self._connection = self._open(now)
            self._mark = self._newest_entry()
        except BaseException:
            self._lock.release()
            raise

    def _open(self, now: datetime) -> sqlite3.Connection:
        if not self.read_only_reason:
            try:
                return self._open_for_writing(now)
            except InputError as error:
                if not _is_about_writing(error):
                    raise
                self._lock.release()
                self.read_only_reason = "The board file may not be written, so the board is open for reading only."
        return connect(self._file, write=False)

    def _open_for_writing(self, now: datetime) -> sqlite3.Connection:
        connection = connect(self._file, write=True)
        try:
            migrate(connection, self._file)
            backup.daily(self._file, now.date())
            connection.execute("BEGIN IMMEDIATE")
            journal.prune(connection)
            connection.execute("COMMIT")
        except sqlite3.Error as error:
            connection.close()
            raise database_problem(error, self._file) from error
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
        with self._told():
            return read_record(self._connection)

    def rows(self, table_name: str, keys: frozenset[int]) -> dict[int, Any]:
        """Return the values under keys of a table; missing ones are left out."""
        table = BY_NAME[table_name]
        with self._told():
            found = {}
            for key in keys:
                row = self._connection.execute(f"{table.select} WHERE key = ?", (key,)).fetchone()
                if row is not None:
                    found[key] = table.from_row(row)
            return found

    def gradings(self, coupon: int, inspection: int) -> list[Any]:
        """Return every grading of a coupon at an inspection, superseded and withdrawn ones too, oldest first."""
        with self._told():
            rows = self._connection.execute(
                f"{GRADINGS.select} WHERE coupon = ? AND inspection = ? ORDER BY key", (coupon, inspection)
            ).fetchall()
            return [GRADINGS.from_row(row) for row in rows]

    def audit(self, most: int = 1_000) -> list[tuple[str, str, str, Summary]]:
        """Return the newest audit lines, newest first: time, who, operation, what."""
        with self._told():
            rows = self._connection.execute(
                "SELECT at, who, operation, pattern, parts FROM audit ORDER BY key DESC LIMIT ?", (most,)
            ).fetchall()
            return [
                (at, who, name, Summary(pattern, journal.parts_of(parts))) for at, who, name, pattern, parts in rows
            ]

    def apply(
        self, operation: Operation, *arguments: Any, now: datetime, who: str
    ) -> tuple[Summary, list[RowChange]]:
        """Run an operation in one transaction; when this returns, it is on the disk.

        Raises:
            InputError: the operation refused, the board is read-only, or the disk refused; nothing was changed.
        """
        with self._transaction():
            transaction = Transaction(self._connection, now, who)
            summary = operation(transaction, *arguments)
            changes = transaction.changes()
            if changes:
                write_journal(self._connection, now, summary, changes)
                write_audit(self._connection, now, who, getattr(operation, "__name__", "operation"), summary)
        return summary, changes

    def step(self, direction: Any, *, now: datetime, who: str) -> tuple[Summary, list[RowChange]] | None:
        """Undo or redo one step; return what it was and what changed, or None when there is none."""
        with self._transaction():
            find = journal.next_undo if direction == "undo" else journal.next_redo
            entry = find(self._connection)
            if entry is None:
                return None
            changes = journal.replay(self._connection, entry, direction)
            write_audit(self._connection, now, who, direction, entry.summary)
        return entry.summary, changes

    def next_step(self, direction: Any) -> Summary | None:
        """Return what undo or redo would do next, or None."""
        find = journal.next_undo if direction == "undo" else journal.next_redo
        with self._told():
            entry = find(self._connection)
        return None if entry is None else entry.summary

    def changed_since_opened(self) -> bool:
        """Return whether steps were taken in this window that undo can take back."""
        return self._newest_entry() > self._mark

    def save_copy(self, folder: Path) -> None:
        """Write a copy of the whole board folder, photos too, as it is now.

        Raises:
            InputError: the target holds something already, or the disk refused.
        """
        from rustboard.store.folder import copy_photos

        with fresh_folder(folder) as part, closing(sqlite3.connect(part / BOARD_FILE)) as target, self._told():
            self._connection.backup(target)
            copy_photos(self.folder, part)

    def outside_changes(self) -> int:
        """Return a number that changes when another window commits."""
        with self._told():
            (version,) = self._connection.execute("PRAGMA data_version").fetchone()
        return int(version)

    def _newest_entry(self) -> int:
        with self._told():
            (key,) = self._connection.execute("SELECT coalesce(max(key), 0) FROM journal WHERE undone = 0").fetchone()
        return int(key)

    @contextmanager
    def _transaction(self) -> Iterator[None]:
        if self.read_only_reason:
            raise InputError(self.read_only_reason)
        with self._told():
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
    def _told(self) -> Iterator[None]:
        try:
            yield
        except sqlite3.IntegrityError as error:
            raise _integrity_problem(error) from error
        except sqlite3.Error as error:
            raise database_problem(error, self._file) from error
        except json.JSONDecodeError as error:
            raise InputError(
                "A row of this board is damaged; restore a copy from the backups folder.", file=self._file.name
            ) from error


def _is_about_writing(error: InputError) -> bool:
    cause = error.__cause__
    code = getattr(cause, "sqlite_errorcode", None)
    blocked = {sqlite3.SQLITE_READONLY, sqlite3.SQLITE_PERM, sqlite3.SQLITE_CANTOPEN}
    return isinstance(code, int) and (code & 0xFF) in blocked


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
