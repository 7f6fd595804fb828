"""Bringing an older board file up to the format of this program, one step at a time, after a backup."""

from __future__ import annotations

import sqlite3
from pathlib import Path

from rustboard.store import backup, journal, schema
from rustboard.support.problems import InputError


def migrate(
    connection: sqlite3.Connection,
    board_file: Path,
    formats: schema.Formats = schema.FORMATS,
    *,
    keep_copy: bool = True,
) -> int:
    """Run the steps from the file's format to the newest, all in one transaction; return how many ran.

    The undo journal is cleared, because old row images have old columns. A backup comes first, unless the file is
    itself a copy that nobody keeps (``keep_copy`` false).

    Raises:
        InputError: the format is not one that any version wrote, the backup could not be made, or the file's rows
            do not fit the newer tables.
        RuntimeError: the steps do not lead to the tables of the newest format; nothing was changed.
    """
    (version,) = connection.execute("PRAGMA user_version").fetchone()
    newest = formats.newest
    if version == newest:
        return 0
    if any(each not in formats.migrations for each in range(version, newest)):
        raise InputError(
            f"No version of Rustboard wrote format {version}; the file was altered.", file=board_file.name
        )
    if keep_copy:
        backup.before_migration(board_file, version)
    connection.execute("PRAGMA foreign_keys = OFF")
    try:
        connection.execute("BEGIN IMMEDIATE")
        for each in range(version, newest):
            formats.migrations[each](connection)
        journal.clear(connection)
        connection.execute(f"PRAGMA user_version = {newest:d}")
        _look_at_result(connection, board_file, formats)
        connection.execute("COMMIT")
    except BaseException:
        if connection.in_transaction:
            connection.execute("ROLLBACK")
        raise
    finally:
        connection.execute("PRAGMA foreign_keys = ON")
    return int(newest - version)


def _look_at_result(connection: sqlite3.Connection, board_file: Path, formats: schema.Formats) -> None:
    if connection.execute("PRAGMA foreign_key_check").fetchone() is not None:
        raise InputError("The older board holds rows that point nowhere; nothing was changed.", file=board_file.name)
    if schema.objects_of(connection) != formats.expected_objects(formats.newest):
        raise RuntimeError(f"the migrations do not lead to the tables of format {formats.newest}")
