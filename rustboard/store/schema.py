"""The file format: every table of ``board.rustboard``, and which changes brought an older file up to date.

Format history
    1: first format.
    2: plans: recipes, the question, the layout and its lots, the calendar of inspections.
    3: measuring in photos: the camera's time and lens, how a photo was placed; measurements, strokes of the brush,
       areas that do not count, cards, disturbances.
    4: grading without bias: blind inspections, their rounds and grades, paired choices, damage beside the grade, and
       two more sources of grades.
    5: weather: loggers' files and their readings, days noted by hand, the site; weighed coupons.
    6: findings: coupons left out of them, with the reason.
    7: the shelf: tags, the archive, the earlier board that a board follows.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Mapping
from contextlib import closing
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from rustboard.store.findings_tables import FINDINGS_TABLE_TEXTS
from rustboard.store.shelving_tables import SHELVING_TABLE_TEXTS
from rustboard.store.table_texts import (
    BLIND_TABLES,
    FIRST_GRADING_TABLE,
    FIRST_PHOTO_TABLE,
    FORMAT_1,
    GRADING_TABLE,
    MEASURING_TABLES,
    PHOTO_TABLE,
    PLAN_TABLES,
)
from rustboard.store.weather_table_texts import WEATHER_TABLES

APPLICATION_ID: Final = 0x52757374  # "Rust"
FORMAT: Final = 7

Migration = Callable[[sqlite3.Connection], None]
FORMAT_2: Final = (*FORMAT_1, *PLAN_TABLES)
FORMAT_3: Final = (
    *(each for each in FORMAT_1 if each not in FIRST_PHOTO_TABLE),
    *PHOTO_TABLE,
    *PLAN_TABLES,
    *MEASURING_TABLES,
)
FORMAT_4: Final = (
    *(each for each in FORMAT_3 if each not in FIRST_GRADING_TABLE),
    *GRADING_TABLE,
    *BLIND_TABLES,
)
FORMAT_5: Final = (*FORMAT_4, *WEATHER_TABLES)
FORMAT_6: Final = (*FORMAT_5, *FINDINGS_TABLE_TEXTS)
SCHEMA: Final = (*FORMAT_6, *SHELVING_TABLE_TEXTS)


def _add_plan_tables(connection: sqlite3.Connection) -> None:
    for statement in PLAN_TABLES:
        connection.execute(statement)


def _add_measuring(connection: sqlite3.Connection) -> None:
    """Make the table of photos anew with more columns, and add the new tables."""
    copied = (
        "SELECT key, name, file, sha256, width_px, height_px, taken, inspection, mm_to_px, NULL,"
        " NULL, 0.0, CASE mm_to_px WHEN '[]' THEN '' ELSE 'given' END, NULL, '', '[]'"
    )
    _make_anew(connection, "photo", PHOTO_TABLE, copied)
    for statement in MEASURING_TABLES:
        connection.execute(statement)


def _add_blind_grading(connection: sqlite3.Connection) -> None:
    """Make the table of grades anew with more sources, and add the new tables."""
    _make_anew(connection, "grading", GRADING_TABLE, "SELECT *")
    for statement in BLIND_TABLES:
        connection.execute(statement)


def _add_weather(connection: sqlite3.Connection) -> None:
    for statement in WEATHER_TABLES:
        connection.execute(statement)


def _add_left_out(connection: sqlite3.Connection) -> None:
    for statement in FINDINGS_TABLE_TEXTS:
        connection.execute(statement)


def _add_shelving(connection: sqlite3.Connection) -> None:
    for statement in SHELVING_TABLE_TEXTS:
        connection.execute(statement)


def _make_anew(connection: sqlite3.Connection, table: str, statements: tuple[str, ...], copied: str) -> None:
    """Put the rows of a table, as ``copied`` selects them, into a new one, whose text must be as in a new file."""
    connection.execute(f"CREATE TEMP TABLE older AS SELECT * FROM {table}")
    numbered = connection.execute("SELECT seq FROM sqlite_sequence WHERE name = ?", (table,)).fetchone()
    connection.execute(f"DROP TABLE {table}")
    for statement in statements:
        connection.execute(statement)
    connection.execute(f"INSERT INTO {table} {copied} FROM older")
    connection.execute("DROP TABLE older")
    if numbered is not None:  # so that the number of a row once taken back is never given again
        connection.execute("DELETE FROM sqlite_sequence WHERE name = ?", (table,))
        connection.execute("INSERT INTO sqlite_sequence (name, seq) VALUES (?, ?)", (table, *numbered))


MIGRATIONS: Final[Mapping[int, Migration]] = {
    1: _add_plan_tables,
    2: _add_measuring,
    3: _add_blind_grading,
    4: _add_weather,
    5: _add_left_out,
    6: _add_shelving,
}
"""By the format a migration starts from: each brings a file from that format to the next one."""

SCHEMAS: Final[Mapping[int, tuple[str, ...]]] = {
    1: FORMAT_1,
    2: FORMAT_2,
    3: FORMAT_3,
    4: FORMAT_4,
    5: FORMAT_5,
    6: FORMAT_6,
    FORMAT: SCHEMA,
}
"""The tables of every format there ever was: an older file is compared with its own before it is migrated."""

Objects = frozenset[tuple[str, str, str]]
"""Type, name and SQL (blanks evened) of everything a file defines."""


@dataclass(frozen=True, slots=True)
class Formats:
    """The formats a program knows.

    Attributes:
        schemas: statements that make an empty file, by format.
        migrations: by the format each starts from.
    """

    schemas: Mapping[int, tuple[str, ...]]
    migrations: Mapping[int, Migration]

    @property
    def newest(self) -> int:
        """The format this program writes."""
        return max(self.schemas)

    def expected_objects(self, version: int) -> Objects:
        """Return what a sound file of a format defines."""
        return _objects_made_by(self.schemas[version])


@lru_cache(maxsize=8)
def _objects_made_by(statements: tuple[str, ...]) -> Objects:
    with closing(sqlite3.connect(":memory:")) as connection:
        for statement in statements:
            connection.execute(statement)
        return objects_of(connection)


FORMATS: Final = Formats(SCHEMAS, MIGRATIONS)


def create(connection: sqlite3.Connection) -> None:
    """Write an empty board file's tables and marks; the caller commits."""
    for statement in SCHEMA:
        connection.execute(statement)
    connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
    connection.execute(f"PRAGMA user_version = {FORMAT}")


def objects_of(connection: sqlite3.Connection) -> Objects:
    """Return what a file defines."""
    rows = connection.execute("SELECT type, name, coalesce(sql, '') FROM sqlite_schema").fetchall()
    return frozenset((str(kind), str(name), " ".join(str(sql).split())) for kind, name, sql in rows)
