"""Bringing an older board file up to the format of this program, one step at a time, after a backup."""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping
from pathlib import Path

from rustboard.store import backup, journal, schema
from rustboard.support.problems import InputError


def migrate(
    connection: sqlite3.Connection,
    board_file: Path,
    *,
    steps: Mapping[int, schema.Migration] = schema.MIGRATIONS,
    target: int = schema.FORMAT,
) -> int:
    """Run the steps from the file's format to ``target``, all in one transaction; return how many ran.

    The undo journal is cleared, because old row images have old columns.

    Raises:
        InputError: the format is not one that any version wrote, the backup could not be made, or the migrated
            tables are not those of the target format.
    """
    (version,) = connection.execute("PRAGMA user_version").fetchone()
    if version == target:
        return 0
    if version < 1 or any(each not in steps for each in range(version, target)):
        raise InputError(
            f"No version of Rustboard wrote format {version}; the file was altered.", file=board_file.name
        )
    backup.before_migration(board_file, version)
    connection.execute("PRAGMA foreign_keys = OFF")
    connection.execute("BEGIN IMMEDIATE")
    try:
        for each in range(version, target):
            steps[each](connection)
        journal.clear(connection)
        connection.execute(f"PRAGMA user_version = {target:d}")
        if connection.execute("PRAGMA foreign_key_check").fetchone() is not None:
            raise InputError(
                "The older board holds rows that point nowhere; nothing was changed.", file=board_file.name
            )
        connection.execute("COMMIT")
    except BaseException:
        if connection.in_transaction:
            connection.execute("ROLLBACK")
        raise
    finally:
        connection.execute("PRAGMA foreign_keys = ON")
    return int(target - version)
