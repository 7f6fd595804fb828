"""How tags, the archive and the earlier board become rows and come back; and the tables of format 7 as SQL."""

from __future__ import annotations

from typing import Any, Final

from rustboard.board.shelving import MOST_TAG, MOST_WORDS, Forerunner, Shelving, Tag
from rustboard.store import values
from rustboard.store.table import Row, Table, key_of, names
from rustboard.support.text import one_line

SHELVING_TABLE_TEXTS: Final[tuple[str, ...]] = (
    """CREATE TABLE tag (
    key INTEGER PRIMARY KEY AUTOINCREMENT,
    word TEXT NOT NULL UNIQUE COLLATE NOCASE CHECK (word != '')
) STRICT""",
    """CREATE TABLE shelving (
    key INTEGER PRIMARY KEY CHECK (key = 1),
    archived INTEGER NOT NULL CHECK (archived IN (0, 1))
) STRICT""",
    """CREATE TABLE forerunner (
    key INTEGER PRIMARY KEY CHECK (key = 1),
    name TEXT NOT NULL,
    started TEXT,
    kept TEXT NOT NULL,
    changed TEXT NOT NULL CHECK (changed != ''),
    folder TEXT NOT NULL
) STRICT""",
)
"""What format 7 added to format 6; `rustboard.store.schema` puts it together with the older ones."""


def _tag_from_row(row: Row) -> Tag:
    return Tag(_bounded(row[1], MOST_TAG), values.key(row[0]))


def _shelving_from_row(row: Row) -> Shelving:
    return Shelving(values.flag(row[1]), values.whole(row[0], 1, 1))


def _forerunner_from_row(row: Row) -> Forerunner:
    key, name, started, kept, changed, folder = row
    return Forerunner(
        name=values.line(name),
        started=values.moment_or_none(started),
        kept=one_line(values.line(kept), MOST_WORDS),
        changed=_bounded(changed, MOST_WORDS),
        folder=values.line(folder),
        key=values.whole(key, 1, 1),
    )


def _bounded(value: object, most: int) -> str:
    found = one_line(values.line(value), most)
    if not found:
        raise ValueError("a text is empty")
    return found


TAGS: Final[Table[Tag]] = Table("tag", names("word"), lambda each: (each.word,), _tag_from_row, key_of)
SHELVINGS: Final[Table[Shelving]] = Table(
    "shelving", names("archived"), lambda each: (int(each.archived),), _shelving_from_row, key_of
)
FORERUNNERS: Final[Table[Forerunner]] = Table(
    "forerunner",
    names("name started kept changed folder"),
    lambda each: (each.name, values.moment_text(each.started), each.kept, each.changed, each.folder),
    _forerunner_from_row,
    key_of,
)

SHELVING_TABLES: Final[tuple[Table[Any], ...]] = (TAGS, SHELVINGS, FORERUNNERS)
