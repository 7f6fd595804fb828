"""One user action on the file: rows in and out, with the journal and the audit written in the same transaction."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any, TypeVar

from rustboard.store.table import Row, Table
from rustboard.store.weather_content import keep_content
from rustboard.support.summary import Summary

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class RowChange:
    """One row before and after, each with the key first; None = not there.

    Attributes:
        value: what the row after means, where it was read already.
    """

    table: str
    key: int
    before: Row | None
    after: Row | None
    value: Any = field(default=None, compare=False)


@dataclass(slots=True)
class Transaction:
    """What an operation may do to a board. Rows only; the journal is kept by the way.

    Attributes:
        now: time of the action.
        who: whose action it is.
    """

    connection: sqlite3.Connection
    now: datetime
    who: str
    _changes: dict[tuple[str, int], RowChange] = field(default_factory=dict)

    def get(self, table: Table[T], key: int) -> T | None:
        """Return the value under a key, or None."""
        row = self._row(table, key)
        return None if row is None else table.read(row)

    def find(self, table: Table[T], **equal: Any) -> list[T]:
        """Return the values whose columns equal what is given (None matches an empty column), by key."""
        for name in equal:
            if name != "key" and name not in table.columns:
                raise KeyError(name)
        where = " AND ".join(f"{name} IS ?" for name in equal) or "1"
        rows = self.connection.execute(f"{table.select} WHERE {where} ORDER BY key", tuple(equal.values())).fetchall()
        return [table.read(row) for row in rows]

    def ids(self, table: Table[Any]) -> list[tuple[str, int]]:
        """Return what the maker wrote on each thing, with its key, for tables that have an ``id``."""
        return [(str(name), int(key)) for name, key in self.connection.execute(f"SELECT id, key FROM {table.name}")]

    def count(self, table: Table[Any]) -> int:
        """Return how many rows a table has."""
        (number,) = self.connection.execute(f"SELECT count(*) FROM {table.name}").fetchone()
        return int(number)

    def put(self, table: Table[T], value: T) -> int:
        """Insert a value (key 0) or replace the one under its key; return the key.

        Raises:
            ValueError: the value could not be read back; an operation let through what it should have refused.
        """
        key = table.key_of(value)
        row = table.to_row(value)
        table.from_row((key or 1, *row))
        marks = ", ".join("?" * len(row))
        if key == 0:
            cursor = self.connection.execute(
                f"INSERT INTO {table.name} ({', '.join(table.columns)}) VALUES ({marks})", row
            )
            key = int(cursor.lastrowid or 0)
            self._note(table.name, key, None, (key, *row))
            return key
        before = self._row(table, key)
        if before is None:
            self.connection.execute(
                f"INSERT INTO {table.name} (key, {', '.join(table.columns)}) VALUES (?, {marks})", (key, *row)
            )
        elif before != (key, *row):
            columns = ", ".join(f"{name} = ?" for name in table.columns)
            self.connection.execute(f"UPDATE {table.name} SET {columns} WHERE key = ?", (*row, key))
        self._note(table.name, key, before, (key, *row))
        return key

    def add_all(self, table: Table[T], values: Sequence[T]) -> None:
        """Insert many new values (whatever their keys) at once.

        Raises:
            ValueError: one could not be read back; an operation let through what it should have refused.
        """
        newest = self.connection.execute("SELECT seq FROM sqlite_sequence WHERE name = ?", (table.name,)).fetchone()
        (largest,) = self.connection.execute(f"SELECT coalesce(max(key), 0) FROM {table.name}").fetchone()
        # A stranger's file may hold anything where the newest key is kept.
        counted = newest[0] if newest is not None and isinstance(newest[0], int) else 0
        first = 1 + max(counted, largest)
        rows = [(key, *table.to_row(value)) for key, value in enumerate(values, first)]
        read = [table.from_row(row) for row in rows]
        names, marks = ", ".join(("key", *table.columns)), ", ".join("?" * (1 + len(table.columns)))
        self.connection.executemany(f"INSERT INTO {table.name} ({names}) VALUES ({marks})", rows)
        for row, value in zip(rows, read, strict=True):
            self._note(table.name, row[0], None, row, value)

    def set_all(self, table: Table[Any], keys: Collection[int], column: str, content: object) -> None:
        """Write the same content into one column of many rows, whose other columns stay as they are.

        Raises:
            ValueError: a row could not be read back with it; one is tried for all.
        """
        at = 1 + table.columns.index(column)
        listed = json.dumps(sorted(keys))
        where = "WHERE key IN (SELECT value FROM json_each(?))"
        rows = self.connection.execute(f"{table.select} {where}", (listed,)).fetchall()
        for number, before in enumerate(rows):
            after = (*before[:at], content, *before[at + 1 :])
            if number == 0:
                table.from_row(after)
            self._note(table.name, before[0], before, after)
        self.connection.execute(f"UPDATE {table.name} SET {column} = ? {where}", (content, listed))

    def drop(self, table: Table[Any], key: int) -> None:
        """Remove the row under a key."""
        before = self._row(table, key)
        if before is None:
            return
        self.connection.execute(f"DELETE FROM {table.name} WHERE key = ?", (key,))
        self._note(table.name, key, before, None)

    def keep_content(self, sha256: str, content: bytes) -> None:
        """Keep bytes under their hash, where they are not kept already; undo leaves them, as it leaves photos."""
        keep_content(self.connection, sha256, content)

    def changes(self) -> list[RowChange]:
        """Return what changed so far; a row put back as it was is not among them."""
        return [each for each in self._changes.values() if each.before != each.after]

    def _row(self, table: Table[Any], key: int) -> Row | None:
        row: Row | None = self.connection.execute(f"{table.select} WHERE key = ?", (key,)).fetchone()
        return row

    def _note(self, table: str, key: int, before: Row | None, after: Row | None, value: object = None) -> None:
        known = self._changes.get((table, key))
        first = before if known is None else known.before
        self._changes[table, key] = RowChange(table, key, first, after, value)


def write_audit(connection: sqlite3.Connection, at: datetime, who: str, operation: str, summary: Summary) -> None:
    """Add a line to the audit, which nothing in the program ever changes or removes."""
    connection.execute(
        "INSERT INTO audit (at, who, operation, pattern, parts) VALUES (?, ?, ?, ?, ?)",
        (at.isoformat(), who, operation, summary.pattern, json.dumps(summary.parts)),
    )


def write_journal(
    connection: sqlite3.Connection, at: datetime, summary: Summary, changes: Sequence[RowChange], joins: int = 0
) -> None:
    """Add an undoable entry; what was undone before can no longer be redone.

    Args:
        connection: inside a transaction.
        at: when.
        summary: of what was done.
        changes: the rows.
        joins: key of an entry that is undone and redone together with these rows, under its own summary. Where it is
            no longer the newest, or has one of these rows already, they get an entry of their own.
    """
    connection.execute("DELETE FROM journal_row WHERE entry IN (SELECT key FROM journal WHERE undone = 1)")
    connection.execute("DELETE FROM journal WHERE undone = 1")
    first = _steps_to_join(connection, joins, changes) if joins else None
    if first is not None:
        entry: int | None = joins
    else:
        cursor = connection.execute(
            "INSERT INTO journal (at, pattern, parts, undone) VALUES (?, ?, ?, 0)",
            (at.isoformat(), summary.pattern, json.dumps(summary.parts)),
        )
        entry = cursor.lastrowid
    connection.executemany(
        "INSERT INTO journal_row (entry, step, table_name, row_key, before, after) VALUES (?, ?, ?, ?, ?, ?)",
        (
            (entry, step, each.table, each.key, _packed(each.before), _packed(each.after))
            for step, each in enumerate(changes, first or 0)
        ),
    )


def _steps_to_join(connection: sqlite3.Connection, entry: int, changes: Iterable[RowChange]) -> int | None:
    """Return how many steps an entry has, or None when these rows cannot be undone together with it."""
    (newest,) = connection.execute("SELECT max(key) FROM journal").fetchone()
    rows = connection.execute(
        "SELECT step, table_name, row_key FROM journal_row WHERE entry = ?", (entry,)
    ).fetchall()
    if newest != entry or not rows or {(each.table, each.key) for each in changes} & {row[1:] for row in rows}:
        return None
    return 1 + max(int(row[0]) for row in rows)


def _packed(row: Row | None) -> str | None:
    return None if row is None else json.dumps(row)
