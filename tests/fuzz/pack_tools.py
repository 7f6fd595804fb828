"""Packed boards made by hand: any board file, any leaf and any members, laid out as a sound one or anyhow."""

from __future__ import annotations

import hashlib
import io
import json
import sqlite3
import struct
import warnings
import zipfile
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from rustboard.store.schema import APPLICATION_ID, SCHEMAS

WHEN = (2026, 5, 1, 12, 0, 0)
BOARD = "board.rustboard"
LEAF = "pack.json"


@dataclass
class Parts:
    """What a sound packed board is made of.

    Attributes:
        board: the board file. photos: by member name.
    """

    name: str
    board: bytes
    photos: dict[str, bytes] = field(default_factory=dict)

    @property
    def members(self) -> dict[str, bytes]:
        return {BOARD: self.board, **self.photos}


def parts_of(pack: Path) -> Parts:
    """Take a sound packed board apart."""
    with zipfile.ZipFile(pack) as archive:
        leaf = json.loads(archive.read(LEAF))
        members = {each.filename: archive.read(each) for each in archive.infolist()}
    photos = {name: data for name, data in members.items() if name.startswith("photos/")}
    return Parts(leaf["board"], members[BOARD], photos)


def leaf_of(parts: Parts, **changes: Any) -> dict[str, Any]:
    members = [
        {"name": name, "size": len(data), "sha256": hashlib.sha256(data).hexdigest()}
        for name, data in parts.members.items()
    ]
    leaf = {"format": 1, "board": parts.name, "packed": "2026-05-01T12:00:00", "photos": True, "members": members}
    return leaf | changes


def zipped(
    members: list[tuple[str, bytes]],
    method: int = zipfile.ZIP_STORED,
    change: Callable[[zipfile.ZipInfo], None] | None = None,
) -> bytes:
    """Return an ordinary archive; ``change`` is called with each member before it is written."""
    stream = io.BytesIO()
    with warnings.catch_warnings(), zipfile.ZipFile(stream, "w") as archive:
        warnings.simplefilter("ignore")  # two members of one name are meant
        for name, data in members:
            info = zipfile.ZipInfo(name, WHEN)
            info.compress_type = method
            info.external_attr = 0o100644 << 16
            if change is not None:
                change(info)
            archive.writestr(info, data)
    return stream.getvalue()


def packed(parts: Parts, leaf: dict[str, Any] | bytes | None = None, **options: Any) -> bytes:
    """Return a packed board of these parts, with a leaf that fits them unless another is given."""
    content = leaf if isinstance(leaf, bytes) else json.dumps(leaf_of(parts) if leaf is None else leaf).encode()
    return zipped([(LEAF, content), *parts.members.items()], **options)


@contextmanager
def edited(board: bytes, place: Path) -> Iterator[tuple[sqlite3.Connection, list[bytes]]]:
    """Give a board file's database to change at will, and a list that holds the changed file afterwards."""
    file = place / "edited.sqlite"
    file.write_bytes(board)
    result: list[bytes] = []
    with closing(sqlite3.connect(file, isolation_level=None)) as connection:
        connection.execute("PRAGMA journal_mode = MEMORY")
        connection.execute("PRAGMA synchronous = OFF")
        connection.execute("PRAGMA ignore_check_constraints = ON")
        connection.execute("PRAGMA legacy_alter_table = ON")
        yield connection, result
    result.append(file.read_bytes())
    file.unlink()


def changed(board: bytes, place: Path, *statements: str) -> bytes:
    """Return a board file after some SQL."""
    with edited(board, place) as (connection, result):
        for each in statements:
            connection.execute(each)
    return result[0]


def with_any_types(board: bytes, place: Path, table: str, statement: str) -> bytes:
    """Run SQL as if the table were not STRICT, so that a value of any type goes in; the table's text stays ours."""
    (text,) = _read(board, place, "SELECT sql FROM sqlite_schema WHERE name = ?", table)[0]
    loose = changed(
        board, place, "PRAGMA writable_schema = ON",
        f"UPDATE sqlite_schema SET sql = {_quoted(text.replace(') STRICT', ')'))} WHERE name = '{table}'",
    )  # fmt: skip
    planted = changed(loose, place, statement)
    return changed(
        planted, place, "PRAGMA writable_schema = ON",
        f"UPDATE sqlite_schema SET sql = {_quoted(text)} WHERE name = '{table}'",
    )  # fmt: skip


def columns_of(board: bytes, place: Path) -> dict[str, list[tuple[str, str]]]:
    """Return name and type of every column, by table."""
    tables = [name for (name,) in _read(board, place, "SELECT name FROM sqlite_schema WHERE type = 'table'")]
    return {
        table: [(name, kind) for _, name, kind, *_ in _read(board, place, f"PRAGMA table_info({table})")]
        for table in sorted(tables)
        if table not in {"sqlite_sequence"}
    }


def as_of_format(board: bytes, version: int, place: Path, *statements: str) -> bytes:
    """Return the board as an older version would have written it: what its tables had, and nothing else."""
    (place / "newest.sqlite").write_bytes(board)
    file = place / "older.sqlite"
    with closing(sqlite3.connect(file, isolation_level=None)) as connection:
        for each in SCHEMAS[version]:
            connection.execute(each)
        connection.execute("ATTACH ? AS newest", (str(place / "newest.sqlite"),))
        tables = [name for (name,) in connection.execute("SELECT name FROM main.sqlite_schema WHERE type = 'table'")]
        for table in tables:
            if table != "sqlite_sequence":
                had = [row[1] for row in connection.execute(f"PRAGMA main.table_info({table})")]
                columns = ", ".join(had)
                connection.execute(f"INSERT INTO main.{table} ({columns}) SELECT {columns} FROM newest.{table}")
        connection.execute("DETACH newest")
        connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
        connection.execute(f"PRAGMA user_version = {version}")
        connection.execute("PRAGMA ignore_check_constraints = ON")
        for each in statements:
            connection.execute(each)
    data = file.read_bytes()
    file.unlink()
    return data


def _read(board: bytes, place: Path, statement: str, *values: object) -> list[Any]:
    with edited(board, place) as (connection, _):
        return connection.execute(statement, values).fetchall()


def _quoted(text: str) -> str:
    return "'" + text.replace("'", "''") + "'"


def header_places(pack: bytes) -> list[tuple[int, bool]]:
    """Return where the headers of members are: place, and whether in the list at the end."""
    count, _, start = struct.unpack("<HLL", pack[-12:-2])
    places: list[tuple[int, bool]] = []
    at = start
    for _ in range(count):
        places.append((at, True))
        places.append((struct.unpack("<L", pack[at + 42 : at + 46])[0], False))
        lengths = struct.unpack("<3H", pack[at + 28 : at + 34])
        at += 46 + sum(lengths)
    return places
