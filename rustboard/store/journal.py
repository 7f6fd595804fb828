"""Undo and redo: the journal's row images put back, in a transaction of their own."""

from __future__ import annotations

import json
import sqlite3
from dataclasses import dataclass
from typing import Literal

from rustboard.store.table import Row
from rustboard.store.tables import BOARD, BY_NAME
from rustboard.store.transaction import RowChange
from rustboard.support.problems import InputError
from rustboard.support.summary import Summary
from rustboard.support.text import one_line

Direction = Literal["undo", "redo"]

MOST_ENTRIES = 5_000
"""Entries kept when a board is opened; older steps can no longer be undone."""

_LARGEST_INTEGER = 2**63


@dataclass(frozen=True, slots=True)
class Entry:
    """One step that can be undone or redone."""

    key: int
    summary: Summary


def next_entry(connection: sqlite3.Connection, direction: Direction) -> Entry | None:
    """Return the newest step not undone, or the oldest undone one.

    None when there is none, or when its record is damaged: the board is of use without it.
    """
    which = "undone = 0 ORDER BY key DESC" if direction == "undo" else "undone = 1 ORDER BY key"
    row = connection.execute(f"SELECT key, {_SUMMARY} FROM journal WHERE {which} LIMIT 1").fetchone()
    summary = None if row is None else _summary_of(row[1], row[2])
    return None if summary is None else Entry(row[0], summary)


def _as_bytes(column: str) -> str:
    """Return a column as bytes.

    In a damaged file it need not be text (the database module refuses such a row whole), nor be there at all.
    """
    return f"CAST(coalesce({column}, '') AS BLOB)"


_SUMMARY = f"{_as_bytes('pattern')}, {_as_bytes('parts')}"


def _summary_of(pattern: bytes, parts: bytes) -> Summary | None:
    """Return a summary from its two columns, or None where they hold none."""
    try:
        content = json.loads(parts.decode())
        text = one_line(pattern.decode())
    except (ValueError, RecursionError):
        return None
    if not isinstance(content, list):
        return None
    return Summary(text, tuple(one_line(str(each)) for each in content[:100]))


DAMAGED_LINE = Summary("This line of the record is damaged")


def audit_lines(connection: sqlite3.Connection, most: int) -> list[tuple[str, str, str, Summary]]:
    """Return the newest lines of the audit, newest first: time, who, operation, what; a damaged one says so."""
    told = ", ".join(map(_as_bytes, ("at", "who", "operation")))
    rows = connection.execute(
        f"SELECT {told}, {_SUMMARY} FROM audit ORDER BY key DESC LIMIT ?",
        (most,),
    ).fetchall()
    return [
        (_shown(at), _shown(who), _shown(name), _summary_of(pattern, parts) or DAMAGED_LINE)
        for at, who, name, pattern, parts in rows
    ]


def _shown(text: bytes) -> str:
    return one_line(text.decode(errors="replace"))


def count_damaged(connection: sqlite3.Connection) -> tuple[int, int]:
    """Return how many steps of undo, and how many lines of the audit, cannot be read."""
    entries = connection.execute(f"SELECT key, {_SUMMARY} FROM journal").fetchall()
    steps = sum(
        _summary_of(pattern, parts) is None or not _rows_are_sound(connection, key) for key, pattern, parts in entries
    )
    lines = sum(_summary_of(*each) is None for each in connection.execute(f"SELECT {_SUMMARY} FROM audit"))
    return steps, lines


def _rows_are_sound(connection: sqlite3.Connection, entry: int) -> bool:
    try:
        _changes(connection, entry)
    except (InputError, sqlite3.OperationalError):  # the latter for what is no text
        return False
    return True


def replay(connection: sqlite3.Connection, entry: Entry, direction: Direction) -> list[RowChange]:
    """Put the rows of an entry back as they were before (undo) or after it (redo); return what changed.

    Raises:
        InputError: the entry is damaged, or the rows are not as it left them; the caller rolls back.
    """
    changes = _changes(connection, entry.key)
    if direction == "undo":
        changes = [RowChange(each.table, each.key, each.after, each.before) for each in reversed(changes)]
    for each in changes:
        _require(connection, each)
    # All touched rows leave first: swapped positions would otherwise collide half-way. Foreign keys are looked at
    # when the transaction commits.
    connection.execute("PRAGMA defer_foreign_keys = ON")
    for each in changes:
        connection.execute(f"DELETE FROM {each.table} WHERE key = ?", (each.key,))
    for each in changes:
        if each.after is not None:
            _insert(connection, each.table, each.after)
    connection.execute("UPDATE journal SET undone = ? WHERE key = ?", (1 if direction == "undo" else 0, entry.key))
    return changes


def _require(connection: sqlite3.Connection, change: RowChange) -> None:
    row = connection.execute(f"{BY_NAME[change.table].select} WHERE key = ?", (change.key,)).fetchone()
    if row != change.before:
        raise InputError("The board is no longer as this step left it, so it cannot be taken back or done again.")


def _insert(connection: sqlite3.Connection, table_name: str, row: Row) -> None:
    names = ", ".join(("key", *BY_NAME[table_name].columns))
    connection.execute(f"INSERT INTO {table_name} ({names}) VALUES ({', '.join('?' * len(row))})", row)


def _changes(connection: sqlite3.Connection, entry: int) -> list[RowChange]:
    rows = connection.execute(
        "SELECT table_name, row_key, before, after FROM journal_row WHERE entry = ? ORDER BY step", (entry,)
    ).fetchall()
    # The journal of a stranger's file names tables; only our own, with as many columns, are ever touched.
    if any(table not in BY_NAME for table, *_ in rows):
        raise _damaged()
    changes = [
        RowChange(table, key, _unpacked(table, key, before), _unpacked(table, key, after))
        for table, key, before, after in rows
    ]
    for each in changes:
        if each.before is None and (each.after is None or each.table == BOARD.name):
            raise _damaged()
        if each.after is None and each.table == BOARD.name:  # there is always one board
            raise _damaged()
    return changes


def _unpacked(table_name: str, key: int, text: object) -> Row | None:
    if text is None:
        return None
    table = BY_NAME[table_name]
    try:
        row = json.loads(str(text))
    except (ValueError, RecursionError) as error:
        raise _damaged() from error
    if not isinstance(row, list) or len(row) != len(table.columns) + 1 or row[0] != key:
        raise _damaged()
    if not all(map(_can_be_stored, row)):
        raise _damaged()
    table.read(tuple(row))
    return tuple(row)


def _can_be_stored(value: object) -> bool:
    if isinstance(value, str):
        return value.isascii() or _is_unicode(value)
    if isinstance(value, int):
        return -_LARGEST_INTEGER <= value < _LARGEST_INTEGER
    return value is None or isinstance(value, float)


def _is_unicode(text: str) -> bool:
    try:
        text.encode()
    except UnicodeEncodeError:  # half of a pair, which JSON can spell and SQLite cannot keep
        return False
    return True


def _damaged() -> InputError:
    return InputError("The record of this step is damaged, so it cannot be taken back or done again.")


def prune(connection: sqlite3.Connection, most: int = MOST_ENTRIES) -> None:
    """Forget the oldest steps beyond ``most``, and the last to be done again; the audit keeps them."""
    for undone, order, beyond in ((0, "DESC", "<="), (1, "ASC", ">=")):
        row = connection.execute(
            f"SELECT key FROM journal WHERE undone = {undone} ORDER BY key {order} LIMIT 1 OFFSET ?", (most,)
        ).fetchone()
        if row is not None:
            which = f"undone = {undone} AND key {beyond} ?"
            connection.execute(f"DELETE FROM journal_row WHERE entry IN (SELECT key FROM journal WHERE {which})", row)
            connection.execute(f"DELETE FROM journal WHERE {which}", row)


def clear(connection: sqlite3.Connection) -> None:
    """Forget every step, as a migration must: old row images have old columns."""
    connection.execute("DELETE FROM journal_row")
    connection.execute("DELETE FROM journal")
