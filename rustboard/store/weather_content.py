"""The readings of logger files as bytes, named by their hash and never changed, in parts that no limit cuts."""

from __future__ import annotations

import hashlib
import re
import sqlite3
from typing import Final

from rustboard.support.problems import InputError

PART_BYTES: Final = 1 << 20
MOST_PARTS: Final = 128
_HASH: Final = re.compile("[0-9a-f]{64}")
_DAMAGED: Final = (
    "The readings of a logger's file are damaged; take that file out and add it again, or restore a copy from the "
    "backups folder."
)


def keep_content(connection: sqlite3.Connection, sha256: str, content: bytes) -> None:
    """Write bytes under their hash, inside a transaction; where they stand unharmed already, nothing is written.

    What stands there damaged gives way, so that adding the file again mends it.

    Raises:
        InputError: there are more of them than a board keeps of one file.
    """
    if len(content) > PART_BYTES * MOST_PARTS:
        raise InputError("The file holds more readings than a board keeps of one file; split it, a year to a file.")
    parts = [content[at : at + PART_BYTES] for at in range(0, len(content), PART_BYTES)]
    stored = connection.execute(
        "SELECT bytes FROM weather_content WHERE sha256 = ? ORDER BY part LIMIT ?", (sha256, len(parts) + 1)
    ).fetchall()
    if [part for (part,) in stored] == parts:
        return
    connection.execute("DELETE FROM weather_content WHERE sha256 = ?", (sha256,))
    connection.executemany(
        "INSERT INTO weather_content (sha256, part, bytes) VALUES (?, ?, ?)",
        ((sha256, number, part) for number, part in enumerate(parts)),
    )


def read_content(connection: sqlite3.Connection, sha256: str) -> bytes:
    """Return the bytes under a hash.

    Raises:
        InputError: they are not there, or not what was written.
    """
    rows = connection.execute(
        "SELECT bytes FROM weather_content WHERE sha256 = ? AND length(bytes) <= ? ORDER BY part LIMIT ?",
        (sha256, PART_BYTES, MOST_PARTS + 1),
    ).fetchall()
    if not rows or len(rows) > MOST_PARTS or any(not isinstance(part, bytes) for (part,) in rows):
        raise InputError(_DAMAGED)
    content = b"".join(part for (part,) in rows)
    if hashlib.sha256(content).hexdigest() != sha256:
        raise InputError(_DAMAGED)
    return content


def forget_unnamed(connection: sqlite3.Connection) -> None:
    """Drop bytes that no logger file names and no step that can be taken back or done again would bring back."""
    unnamed = {
        sha256
        for (sha256,) in connection.execute(
            "SELECT DISTINCT sha256 FROM weather_content WHERE sha256 NOT IN (SELECT content FROM weather_file)"
        )
    }
    if not unnamed:
        return
    # Once over the journal, however many contents there are.
    for row in connection.execute("SELECT before, after FROM journal_row WHERE table_name = 'weather_file'"):
        for each in row:
            unnamed.difference_update(_HASH.findall(str(each)))
    connection.executemany("DELETE FROM weather_content WHERE sha256 = ?", ((each,) for each in unnamed))
