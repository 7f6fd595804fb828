"""Undo and redo: the journal's row images put back, in a transaction of their own."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from rustboard.store.tables import BY_NAME, Row
from rustboard.store.transaction import RowChange
from rustboard.support.summary import Summary

MOST_ENTRIES = 5_000
"""Entries kept when a board is opened; older steps can no longer be undone."""


@dataclass(frozen=True, slots=True)
class Entry:
    """One step that can be undone or redone."""

    key: int
    summary: Summary


def next_undo(connection: sqlite3.Connection) -> Entry | None:
    """Return the newest step not undone, or None."""
    return _entry(connection, "SELECT key, pattern, parts FROM journal WHERE undone = 0 ORDER BY key DESC LIMIT 1")


def next_redo(connection: sqlite3.Connection) -> Entry | None:
    """Return the oldest undone step, or None."""
    return _entry(connection, "SELECT key, pattern, parts FROM journal WHERE undone = 1 ORDER BY key LIMIT 1")


def _entry(connection: sqlite3.Connection, query: str) -> Entry | None:
    row = connection.execute(query).fetchone()
    return None if row is None else Entry(row[0], Summary(row[1], parts_of(row[2])))


def parts_of(text: str) -> tuple[str, ...]:
    """Return a summary's parts from their JSON."""
    parts = json.loads(text)
    if not isinstance(parts, list):
        raise ValueError("a summary is damaged")
    return tuple(str(each) for each in parts)


def replay(connection: sqlite3.Connection, entry: Entry, direction: Literal["undo", "redo"]) -> list[RowChange]:
    """Put the rows of an entry back as they were before (undo) or after it (redo); return what changed."""
    changes = _changes(connection, entry.key)
    if direction == "undo":
        changes = [RowChange(each.table, each.key, each.after, each.before) for each in reversed(changes)]
    # All touched rows leave first: swapped positions would otherwise collide half-way. Foreign keys are looked at
    # when the transaction commits.
    connection.execute("PRAGMA defer_foreign_keys = ON")
    for each in changes:
        connection.execute(f"DELETE FROM {BY_NAME[each.table].name} WHERE key = ?", (each.key,))
    for each in changes:
        if each.after is not None:
            _insert(connection, each.table, each.after)
    connection.execute("UPDATE journal SET undone = ? WHERE key = ?", (1 if direction == "undo" else 0, entry.key))
    return changes


def _insert(connection: sqlite3.Connection, table_name: str, row: Row) -> None:
    table = BY_NAME[table_name]
    names = ", ".join(("key", *table.columns))
    connection.execute(f"INSERT INTO {table.name} ({names}) VALUES ({', '.join('?' * len(row))})", row)


def _changes(connection: sqlite3.Connection, entry: int) -> list[RowChange]:
    rows = connection.execute(
        "SELECT table_name, row_key, before, after FROM journal_row WHERE entry = ? ORDER BY step", (entry,)
    ).fetchall()
    return [
        RowChange(table, key, _unpacked(table, before), _unpacked(table, after)) for table, key, before, after in rows
    ]


def _unpacked(table: str, text: str | None) -> Row | None:
    if text is None:
        return None
    row = json.loads(text)
    # The journal of a stranger's file names tables; only our own, with as many columns, are ever written.
    if table not in BY_NAME or not isinstance(row, list) or len(row) != len(BY_NAME[table].columns) + 1:
        raise ValueError("the journal is damaged")
    return tuple(row)


def prune(connection: sqlite3.Connection, most: int = MOST_ENTRIES) -> None:
    """Forget the oldest steps beyond ``most``; the audit keeps them."""
    row = connection.execute("SELECT key FROM journal ORDER BY key DESC LIMIT 1 OFFSET ?", (most,)).fetchone()
    if row is not None:
        connection.execute("DELETE FROM journal_row WHERE entry <= ?", row)
        connection.execute("DELETE FROM journal WHERE key <= ?", row)


def clear(connection: sqlite3.Connection) -> None:
    """Forget every step, as a migration must: old row images have old columns."""
    connection.execute("DELETE FROM journal_row")
    connection.execute("DELETE FROM journal")


def touched(changes: Iterable[RowChange]) -> dict[str, frozenset[int]]:
    """Return the keys changed, by table."""
    found: dict[str, set[int]] = {}
    for each in changes:
        found.setdefault(each.table, set()).add(each.key)
    return {table: frozenset(keys) for table, keys in found.items()}
