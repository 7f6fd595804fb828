"""What strangers may make of a packed board: kinds of variants, each drawn from a seed."""

from __future__ import annotations

import hashlib
import json
import random
import stat
import struct
import zipfile
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from pack_tools import (
    BOARD,
    LEAF,
    Parts,
    as_of_format,
    changed,
    columns_of,
    edited,
    header_places,
    leaf_of,
    packed,
    with_any_types,
    zipped,
)

from rustboard.store.schema import FORMAT


@dataclass(frozen=True)
class Variant:
    """A packed board as a stranger made it.

    Attributes:
        kind: what was done. name: which of that kind.
        pack: the file. board: its board file where that is what was altered, to be tried as a plain folder too.
    """

    kind: str
    name: str
    pack: bytes
    board: bytes | None = None


Maker = Callable[[], Variant]

NAMES = (
    "/etc/passwd", "../out", "photos/../out", "photos/../../out", "photos//x.jpg", "photos/./x.jpg", "photos\\x.jpg",
    "..\\out.jpg", "C:\\out.jpg", "C:out.jpg", "c:/out.jpg", "\\\\server\\share\\x.jpg", "//server/share/x.jpg",
    "photos/con.jpg", "photos/CON.jpg", "photos/nul.png", "photos/com1.jpg", "photos/lpt9.jpg", "photos/aux.jpg",
    "photos/x.jpg.", "photos/x.jpg ", "photos/ x.jpg", "photos/.x.jpg", "photos/-x.jpg", "photos/x.jpg/y.jpg",
    "photos/x.exe", "photos/x.jpg.exe", "photos/x.lnk", "photos/x", "photos/", "photos", "photos/x.jpg:stream",
    "photos/x\x00.jpg", "photos/x\n.jpg", "photos/x\u202egpj.exe", "photos/\u00e9.jpg", "photos/e\u0301.jpg",
    "photos/\U0001f600.jpg", "photos/" + "x" * 300 + ".jpg", "photos/" + "a/" * 500 + "x.jpg", "", ".", "..", "/",
    "board.rustboard-journal", "board.rustboard-wal", "board.rustboard-shm", "backups/board-2026-03-02.rustboard",
    "board.lock", "photos/Thumbs.db", "photos/x.JPG", "~/x.jpg", "$HOME/x.jpg", "%TEMP%/x.jpg", "file:///x.jpg",
    "BOARD.RUSTBOARD", "board.rustboard/x", LEAF, "PACK.JSON", ".board.rustboard", "photos/x;y.jpg", "photos/*.jpg",
)  # fmt: skip

VALUES = (
    "NULL", "0", "-1", "1", "2", "7", "11", "101", "1001", "9223372036854775807", "-9223372036854775808",
    "4294967296", "9e999", "-9e999", "1e308", "-0.5", "''", "' '", "'x'", "'0'", "'NaN'", "'[]'", "'{}'", "'null'",
    "'[null]'", "'[[]]'", "'[1e999]'", "'[NaN]'", "'2026-02-30'", "'9999-12-31T23:59:59+23:59'", "'=1+1'",
    "'<b>x</b>'", "char(0)",
    "char(10,13,9)", "char(8238)||'x'", "char(55357)", "char(128512)", "'../../x.jpg'", "'/etc/passwd'",
    "x'00ff'", "x''", "zeroblob(100)", "printf('%.5000c', 'x')", "printf('%.200000c', '[')", "printf('%.5000c', '1')",
    "CAST(x'ff' AS TEXT)", "'[' || printf('%.5000c', '1') || ']'", "'con.jpg'", "'\u0130'",
)  # fmt: skip

SCHEMA_CHANGES = (
    ("a view", "CREATE VIEW extra AS SELECT * FROM coupon"),
    ("a trigger", "CREATE TRIGGER extra AFTER INSERT ON grading BEGIN DELETE FROM coupon; END"),
    ("a trigger on the audit", "CREATE TRIGGER extra AFTER INSERT ON audit BEGIN DELETE FROM audit; END"),
    ("a table", "CREATE TABLE extra (x)"),
    ("a virtual table", "CREATE VIRTUAL TABLE extra USING fts5(x)"),
    ("another virtual table", "CREATE VIRTUAL TABLE extra USING rtree(id, a, b)"),
    ("an index with a function", "CREATE INDEX extra ON coupon (lower(id))"),
    ("a generated column", "ALTER TABLE coupon ADD COLUMN extra TEXT AS (id || id)"),
    ("a column more", "ALTER TABLE board ADD COLUMN extra"),
    ("a column less", "ALTER TABLE coupon DROP COLUMN note"),
    ("a column by another name", "ALTER TABLE coupon RENAME COLUMN note TO words"),
    ("a table by another name", "ALTER TABLE tag RENAME TO label"),
    ("a table less", "DROP TABLE damage"),
    ("no coupons", "DROP TABLE coupon"),
    ("no journal", "DROP TABLE journal"),
    ("no board row", "DELETE FROM board"),
    ("two boards", "INSERT INTO board SELECT 2, name, row_count, column_count FROM board"),
    *((f"format {each}", f"PRAGMA user_version = {each}") for each in (-1, 0, 1, 2, 3, 4, 5, 6, 8, 99, 2**31 - 1)),
    *((f"program {each}", f"PRAGMA application_id = {each}") for each in (-1, 0, 1, 2**31 - 1)),
    ("another encoding", "PRAGMA encoding = 'UTF-16le'"),
    ("write-ahead", "PRAGMA journal_mode = WAL"),
    ("a table of its own statistics", "ANALYZE"),
    ("a temporary trigger", "CREATE TEMP TRIGGER extra AFTER INSERT ON grading BEGIN DELETE FROM coupon; END"),
    ("numbers at their end", "UPDATE sqlite_sequence SET seq = 9223372036854775807"),
    ("numbers below zero", "UPDATE sqlite_sequence SET seq = -5"),
    ("numbers that are text", "UPDATE sqlite_sequence SET seq = 'x'"),
    ("no numbers", "DELETE FROM sqlite_sequence"),
)

SCHEMA_TEXTS = (
    ("a default that runs", "coupon", "note TEXT NOT NULL", "note TEXT NOT NULL DEFAULT (hex(randomblob(9)))"),
    ("a check that runs", "coupon", "note TEXT NOT NULL", "note TEXT NOT NULL CHECK (load_extension('x'))"),
    ("no STRICT", "coupon", ") STRICT", ")"),
    ("another case", "coupon", "CREATE TABLE", "create table"),
    ("a comment", "coupon", "CREATE TABLE", "CREATE /* */ TABLE"),
    ("no text", "coupon", "CREATE TABLE", "X"),
)


class Variants:
    """Makers of variants of one sound packed board, by kind."""

    def __init__(self, parts: Parts, sound: bytes, place: Path, seed: int = 1) -> None:
        self._parts, self._sound, self._place = parts, sound, place
        self._dice = random.Random(seed)
        self._columns = columns_of(parts.board, place)

    def kinds(self) -> dict[str, list[Maker]]:
        """Return all that were thought of one by one; those drawn without end are in `endless`."""
        return {
            "names": list(self._names()),
            "archive": list(self._archives()),
            "headers": list(self._headers()),
            "leaf": list(self._leaves()),
            "schema": list(self._schemas()),
            "values": list(self._values()),
            "types": list(self._types()),
            "counts": list(self._counts()),
            "photos": list(self._photos()),
            "journal": list(self._journals()),
            "older": list(self._older()),
        }

    def endless(self) -> dict[str, Maker]:
        return {"bytes": self._bytes, "pages": self._pages, "cut": self._cut, "spliced": self._spliced}

    # ---- the archive

    def _variant(self, kind: str, name: str, pack: Callable[[], bytes]) -> Maker:
        return lambda: Variant(kind, name, pack())

    def _names(self) -> Iterator[Maker]:
        photo = next(iter(self._parts.photos.values()))
        for name in NAMES:
            named = replace(self._parts, photos={**self._parts.photos, name: photo})
            yield self._variant("names", repr(name[:40]), lambda p=named: packed(p))
            members = list(self._parts.members.items())
            leaf = json.dumps(leaf_of(self._parts)).encode()
            extra = [(LEAF, leaf), *members, (name, photo)]
            yield self._variant("names", f"{name[:40]!r} not in the leaf", lambda m=extra: zipped(m))
            moved = [(LEAF, leaf), (name, self._parts.board), *members[1:]]
            yield self._variant("names", f"{name[:40]!r} for the board", lambda m=moved: zipped(m))
        first = next(iter(self._parts.photos))
        for other in (first.upper(), first.capitalize(), first, first.replace("-", "\u2010"), first + "\u200b"):
            doubled = replace(self._parts, photos={**self._parts.photos, other: photo})
            leaf = leaf_of(doubled)
            members = [(LEAF, json.dumps(leaf).encode()), *doubled.members.items(), (other, photo)]
            yield self._variant("names", f"{other[-24:]!r} again", lambda m=members: zipped(m))
            yield self._variant("names", f"{other[-24:]!r} twice", lambda p=doubled: packed(p))

    def _archives(self) -> Iterator[Maker]:
        parts, sound = self._parts, self._sound
        bomb = replace(parts, photos={"photos/x.jpg": bytes(64 << 20)})
        deep = zipped([("a", zipped([("b", bytes(1 << 20))], zipfile.ZIP_DEFLATED))], zipfile.ZIP_DEFLATED)
        yield self._variant("archive", "a bomb for a photo", lambda: packed(bomb, method=zipfile.ZIP_DEFLATED))
        big = replace(parts, board=parts.board + bytes(64 << 20))
        yield self._variant("archive", "a bomb for a board", lambda: packed(big, method=zipfile.ZIP_DEFLATED))
        leaf = json.dumps(leaf_of(parts)).encode()
        yield self._variant("archive", "a bomb for a leaf", lambda: packed(parts, leaf + b" " * (64 << 20), method=8))
        yield self._variant("archive", "a large leaf", lambda: packed(parts, leaf + b" " * (7 << 20), method=8))
        nested = replace(parts, photos={"photos/x.jpg": deep})
        yield self._variant("archive", "an archive for a photo", lambda: packed(nested))
        many = [(LEAF, leaf), *parts.members.items(), *((f"photos/{n}.jpg", b"") for n in range(30_000))]
        yield self._variant("archive", "many members", lambda: zipped(many))
        for before in (b"\x00", b"MZ" + bytes(500), b"PK\x03\x04", sound):
            yield self._variant("archive", f"{len(before)} bytes before", lambda b=before: b + sound)
        for after in (b"\x00", b"PK\x05\x06" + bytes(18), bytes(70_000), sound):
            yield self._variant("archive", f"{len(after)} bytes after", lambda a=after: sound + a)
        yield self._variant("archive", "empty", lambda: b"")
        yield self._variant("archive", "only an end", lambda: b"PK\x05\x06" + bytes(18))
        yield self._variant("archive", "a board file", lambda: parts.board)
        yield self._variant("archive", "a comment", lambda: sound[:-2] + b"\x02\x00hi")
        yield self._variant("archive", "no members", lambda: zipped([]))
        yield self._variant("archive", "only a leaf", lambda: zipped([(LEAF, leaf)]))
        yield self._variant("archive", "the leaf last", lambda: zipped([*parts.members.items(), (LEAF, leaf)]))
        yield self._variant(
            "archive", "two leaves", lambda: zipped([(LEAF, leaf), (LEAF, leaf), *parts.members.items()])
        )
        for method in (zipfile.ZIP_BZIP2, zipfile.ZIP_LZMA):
            yield self._variant("archive", f"method {method}", lambda m=method: packed(parts, method=m))
        yield self._variant("archive", "all deflated", lambda: packed(parts, method=zipfile.ZIP_DEFLATED))
        for kind in (stat.S_IFLNK, stat.S_IFDIR, stat.S_IFIFO, stat.S_IFCHR, stat.S_IFBLK, stat.S_IFSOCK):

            def special(info: zipfile.ZipInfo, kind: int = kind) -> None:
                info.external_attr = (kind | 0o777) << 16

            yield self._variant("archive", f"kind {kind:o}", lambda c=special: packed(parts, change=c))
        for extra in (
            b"up\x05\x00\x01\x00\x00\x00\x00",
            b"\x01\x00\x10\x00" + bytes(16),
            b"\x00",
            bytes(60),
            b"x" * 3,
        ):

            def fielded(info: zipfile.ZipInfo, extra: bytes = extra) -> None:
                info.extra = extra

            yield self._variant("archive", f"extra {extra[:4]!r}", lambda c=fielded: packed(parts, change=c))

        def spoken(info: zipfile.ZipInfo) -> None:
            info.comment = b"hello"

        yield self._variant("archive", "comments", lambda: packed(parts, change=spoken))

    def _headers(self) -> Iterator[Maker]:
        """Yield the sound archive with one field of one header changed to something extreme."""
        fields = {True: (4, 6, 8, 10, 16, 18, 20, 22, 24, 26, 28, 30, 32, 34, 36, 38, 40, 42, 44),
                  False: (4, 6, 8, 10, 14, 16, 18, 20, 22, 24, 26, 28)}  # fmt: skip
        for at, listed in header_places(self._sound):
            for offset in fields[listed]:
                for value in (b"\x00\x00", b"\x01\x00", b"\xff\xff", b"\x08\x08"):
                    yield self._variant(
                        "headers", f"{at}+{offset}={value.hex()}", lambda p=at + offset, v=value: self._put(p, v)
                    )
        end = len(self._sound) - 22
        for offset in range(4, 22, 2):
            for value in (b"\x00\x00", b"\x01\x00", b"\xff\xff"):
                yield self._variant(
                    "headers", f"end+{offset}={value.hex()}", lambda p=end + offset, v=value: self._put(p, v)
                )

    def _put(self, place: int, value: bytes) -> bytes:
        return self._sound[:place] + value + self._sound[place + len(value) :]

    # ---- the leaf

    def _leaves(self) -> Iterator[Maker]:
        parts = self._parts
        odd = ("null", "true", "0", "-1", "1.0", "1e999", "NaN", "Infinity", '""', "[]", "{}", "[[]]", '"x"',
               "9" * 5000, "[" * 50_000 + "]" * 50_000, '"\\ud800"', '"\\u0000"', '"\\u202e"', "2", "99",
               "{" * 3000)  # fmt: skip
        sound = leaf_of(parts)
        for key in ("format", "board", "packed", "photos", "members"):
            for value in odd:
                text = json.dumps(sound).replace(json.dumps(sound[key]), value, 1)
                yield self._variant("leaf", f"{key} {value[:12]}", lambda t=text: packed(parts, t.encode()))
            less = {name: value for name, value in sound.items() if name != key}
            yield self._variant("leaf", f"no {key}", lambda c=less: packed(parts, c))
            twice = json.dumps(sound)[:-1] + f', "{key}": {json.dumps(sound[key])}}}'
            yield self._variant("leaf", f"{key} twice", lambda t=twice: packed(parts, t.encode()))
        for key in ("name", "size", "sha256"):
            for value in odd:
                text = json.dumps(sound).replace(json.dumps(sound["members"][0][key]), value, 1)
                yield self._variant("leaf", f"member {key} {value[:12]}", lambda t=text: packed(parts, t.encode()))
        more = {**sound, "members": [*sound["members"], *sound["members"]]}
        yield self._variant("leaf", "members twice", lambda: packed(parts, more))
        other = {**sound, "members": sound["members"][::-1]}
        yield self._variant("leaf", "members turned round", lambda: packed(parts, other))
        for size in (0, 1, 2**31, 2**32, 2**53, 2**63, 2**64, -1):
            wrong = json.loads(json.dumps(sound))
            wrong["members"][0]["size"] = size
            yield self._variant("leaf", f"size {size}", lambda c=wrong: packed(parts, c))
        for name in ("", "x" * 1001, "../x", "con", "Other", "a\nb", "\u202ex"):
            yield self._variant("leaf", f"board {name[:9]!r}", lambda n=name: packed(parts, leaf_of(parts, board=n)))
        for text in (b"", b"\xff\xfe", b"\xef\xbb\xbf{}", b"nonsense", b"\x00" * 100, b"[" * 1_000_000):
            yield self._variant("leaf", repr(text[:6]), lambda t=text: packed(parts, t))
        listed = {
            **sound,
            "members": [{"name": f"photos/{n}.jpg", "size": 1, "sha256": "0" * 64} for n in range(25_000)],
        }
        yield self._variant("leaf", "many listed", lambda: packed(parts, listed))

    # ---- the board file

    def _board(self, kind: str, name: str, make: Callable[[], bytes]) -> Maker:
        def variant() -> Variant:
            board = make()
            return Variant(kind, name, packed(replace(self._parts, board=board)), board)

        return variant

    def _schemas(self) -> Iterator[Maker]:
        for name, statement in SCHEMA_CHANGES:
            yield self._board("schema", name, lambda s=statement: self._changed(s))
        for name, table, before, after in SCHEMA_TEXTS:
            statement = (
                f"UPDATE sqlite_schema SET sql = replace(sql, '{before}', {_text(after)}) WHERE name = '{table}'"
            )
            yield self._board("schema", name, lambda s=statement: self._changed("PRAGMA writable_schema = ON", s))
        for table in self._columns:
            yield self._board("schema", f"no rows in {table}", lambda t=table: self._changed(f"DELETE FROM {t}"))

    def _changed(self, *statements: str) -> bytes:
        import sqlite3

        try:
            return changed(self._parts.board, self._place, *statements)
        except sqlite3.Error:  # SQLite itself does not let this in; what was changed before it stays
            (self._place / "edited.sqlite").unlink(missing_ok=True)
            return self._parts.board

    def _values(self) -> Iterator[Maker]:
        for table, columns in self._columns.items():
            for column, _ in columns:
                for value in VALUES:
                    statement = f"UPDATE OR REPLACE {table} SET {column} = {value}"
                    yield self._board(
                        "values", f"{table}.{column} = {value[:30]}", lambda s=statement: self._changed(s)
                    )

    def _types(self) -> Iterator[Maker]:
        for table, columns in self._columns.items():
            for column, kind in columns:
                for value in ("x'00ff'", "'x'", "1.5", "7", "NULL", "9e999"):
                    statement = f"UPDATE OR IGNORE {table} SET {column} = {value}"
                    yield self._board(
                        "types",
                        f"{table}.{column} ({kind}) = {value}",
                        lambda t=table, s=statement: self._loosely(t, s),
                    )

    def _loosely(self, table: str, statement: str) -> bytes:
        import sqlite3

        try:
            return with_any_types(self._parts.board, self._place, table, statement)
        except sqlite3.Error:
            (self._place / "edited.sqlite").unlink(missing_ok=True)
            return self._parts.board

    def _counts(self) -> Iterator[Maker]:
        for table, columns in self._columns.items():
            names = [name for name, _ in columns]
            for count in (1_100, 25_000):
                yield self._board(
                    "counts", f"{count} rows of {table}", lambda t=table, n=names, c=count: self._many(t, n, c)
                )
        yield self._board(
            "counts", "200,000 inspections",
            lambda: self._many("inspection", [name for name, _ in self._columns["inspection"]], 200_000),
        )  # fmt: skip

    def _many(self, table: str, names: list[str], count: int) -> bytes:
        import sqlite3

        with edited(self._parts.board, self._place) as (connection, result):
            rows = connection.execute(f"SELECT {', '.join(names)} FROM {table} ORDER BY 1 DESC LIMIT 1").fetchall()
            connection.execute("BEGIN")
            marks = ", ".join("?" * len(names))
            for number in range(count):
                row = (
                    [_another(value, name, number) for value, name in zip(rows[0], names, strict=True)]
                    if rows
                    else []
                )
                try:
                    connection.execute(f"INSERT OR IGNORE INTO {table} VALUES ({marks})", row)
                except sqlite3.Error:
                    break
            connection.execute("COMMIT")
        return result[0]

    def _photos(self) -> Iterator[Maker]:
        contents = {
            "empty": b"", "text": b"hello", "a program": b"MZ" + bytes(1000),
            "a shell script": b"#!/bin/sh\nrm -rf /\n", "a page": b"<html><script>x</script>",
            "an archive": self._sound[:5000], "a board": self._parts.board,
            "half a PNG": next(iter(self._parts.photos.values()))[:100], "a huge PNG": _huge_png(60_000),
            "an absurd PNG": _huge_png(2**31 - 1), "a JPEG's start": b"\xff\xd8\xff\xe0" + bytes(50),
            "a TIFF's start": b"II*\x00" + b"\xff" * 50, "a HEIC's start": b"\x00\x00\x00\x18ftypheic" + bytes(50),
        }  # fmt: skip
        first = next(iter(self._parts.photos))
        for name, content in contents.items():
            photos = {**self._parts.photos, first: content}
            yield self._variant(
                "photos", f"{name}, board unaltered", lambda p=photos: packed(replace(self._parts, photos=p))
            )
            digest = hashlib.sha256(content).hexdigest()
            statement = f"UPDATE photo SET sha256 = '{digest}' WHERE file = '{first.partition('/')[2]}'"

            def agreed(statement: str = statement, photos: dict[str, bytes] = photos) -> bytes:
                return packed(replace(self._parts, board=self._changed(statement), photos=photos))

            yield self._variant("photos", f"{name}, board altered too", agreed)
        for gone in ({}, dict(list(self._parts.photos.items())[:1])):
            yield self._variant("photos", f"only {len(gone)}", lambda p=gone: packed(replace(self._parts, photos=p)))
        unnamed = {**self._parts.photos, "photos/x.jpg": b"x"}
        yield self._variant("photos", "one unnamed", lambda: packed(replace(self._parts, photos=unnamed)))

    def _journals(self) -> Iterator[Maker]:
        rows = (
            "INSERT INTO journal_row SELECT 1, 1, 'coupon', 1, '[1]', NULL",
            "INSERT INTO journal VALUES (1, '2026-03-02T09:00:00', 'x', '[]', 0, 0)",
        )
        for number, each in enumerate(rows):
            yield self._board(
                "journal", f"planted {number}", lambda s=each: self._changed("PRAGMA foreign_keys = OFF", s)
            )
        for text in ("'{'", "'[[[['", "NULL", "x'ff'", "'[\"' || printf('%.9000c', 'x') || '\"]'"):
            statement = f"UPDATE audit SET parts = {text}"
            yield self._board("journal", f"audit {text[:9]}", lambda s=statement: self._changed(s))

    def _older(self) -> Iterator[Maker]:
        """Yield sound boards of every older format, and some damaged ones: they are migrated when they are opened."""
        for version in range(1, FORMAT):
            yield self._board("older", f"format {version}", lambda v=version: self._as_of(v))
            for statement in ("UPDATE OR REPLACE coupon SET row_number = 99", "UPDATE board SET markers = '{'",
                              "DELETE FROM board", "CREATE VIEW v AS SELECT 1",
                              "UPDATE OR REPLACE grading SET coupon = 77"):  # fmt: skip
                yield self._board(
                    "older", f"format {version}, {statement[:24]}", lambda v=version, s=statement: self._as_of(v, s)
                )  # fmt: skip

    def _as_of(self, version: int, *statements: str) -> bytes:
        return as_of_format(self._parts.board, version, self._place, *statements)

    # ---- drawn without end

    def _bytes(self) -> Variant:
        pack = bytearray(self._sound)
        for _ in range(self._dice.choice([1, 1, 2, 8, 64])):
            where = self._dice.choice([len(pack), 60, len(pack), 1000])
            at = (
                self._dice.randrange(where)
                if self._dice.random() < 0.7
                else len(pack) - 1 - self._dice.randrange(600)
            )
            pack[at] = self._dice.choice(
                [0, 0xFF, self._dice.randrange(256), pack[at] ^ (1 << self._dice.randrange(8))]
            )
        return Variant("bytes", "flipped", bytes(pack))

    def _pages(self) -> Variant:
        board = bytearray(self._parts.board)
        for _ in range(self._dice.choice([1, 1, 2, 8, 64])):
            where = self._dice.choice([100, 4096, len(board), len(board), len(board)])
            at = self._dice.randrange(16, where)
            if self._dice.random() < 0.1:
                board[at : at + 64] = bytes(len(board[at : at + 64]))
            else:
                board[at] = self._dice.choice([0, 0xFF, self._dice.randrange(256)])
        return Variant("pages", "damaged", packed(replace(self._parts, board=bytes(board))), bytes(board))

    def _cut(self) -> Variant:
        length = self._dice.randrange(len(self._sound))
        if self._dice.random() < 0.5:
            return Variant("cut", f"{length} bytes left", self._sound[:length])
        board = self._parts.board[: self._dice.randrange(len(self._parts.board))]
        return Variant("cut", "board cut", packed(replace(self._parts, board=board)), board)

    def _spliced(self) -> Variant:
        first, second = sorted(self._dice.randrange(len(self._sound)) for _ in range(2))
        piece = self._sound[first:second][: self._dice.choice([4, 30, 46, 4096, 1 << 20])]
        at = self._dice.choice([0, first, second, len(self._sound), self._dice.randrange(len(self._sound))])
        instead = len(piece) if self._dice.random() < 0.5 else 0
        return Variant("spliced", f"{len(piece)} at {at}", self._sound[:at] + piece + self._sound[at + instead :])


def _another(value: Any, name: str, number: int) -> Any:
    if name == "key":
        return 1_000_000 + number
    if isinstance(value, str) and name in {"id", "word", "at", "sha256", "file"}:
        return f"{value}{number}" if name != "at" else f"{2000 + number % 90}-01-01T{number % 24:02}:00:00"
    return value


def _huge_png(side: int) -> bytes:
    import zlib

    head = struct.pack(">2L5B", side, side, 8, 2, 0, 0, 0)
    body = zlib.compress(bytes(1000))

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">L", len(data)) + kind + data + struct.pack(">L", zlib.crc32(kind + data))

    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", body) + chunk(b"IEND", b"")


def _text(text: str) -> str:
    return "'" + text.replace("'", "''") + "'"


__all__ = ["BOARD", "Maker", "Variant", "Variants"]
