"""The file format: every table of ``board.rustboard``, and which changes brought an older file up to date.

Format history
    1: first format.
    2: plans: recipes, the question, the layout and its lots, the calendar of inspections.
    3: measuring in photos: the camera's time and lens, how a photo was placed; measurements, strokes of the brush,
       areas that do not count, cards, disturbances.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Mapping
from contextlib import closing
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

APPLICATION_ID: Final = 0x52757374  # "Rust"
FORMAT: Final = 3

Migration = Callable[[sqlite3.Connection], None]
_FIRST_PHOTO_TABLE: Final = (
    """CREATE TABLE photo (
    key INTEGER PRIMARY KEY AUTOINCREMENT,
    name TEXT NOT NULL,
    file TEXT NOT NULL UNIQUE,
    sha256 TEXT NOT NULL UNIQUE,
    width_px INTEGER NOT NULL,
    height_px INTEGER NOT NULL,
    taken TEXT,
    inspection INTEGER REFERENCES inspection (key),
    mm_to_px TEXT NOT NULL
) STRICT""",
    """CREATE INDEX photo_of_inspection ON photo (inspection)""",
)
FORMAT_1: Final[tuple[str, ...]] = (
    """CREATE TABLE board (
    key INTEGER PRIMARY KEY CHECK (key = 1),
    name TEXT NOT NULL,
    row_count INTEGER NOT NULL CHECK (row_count BETWEEN 1 AND 60),
    column_count INTEGER NOT NULL CHECK (column_count BETWEEN 1 AND 60),
    width_mm REAL NOT NULL,
    height_mm REAL NOT NULL,
    edge_margin_mm REAL NOT NULL,
    started TEXT,
    site TEXT NOT NULL,
    shelter TEXT NOT NULL,
    incline_deg REAL,
    facing_deg REAL,
    customer TEXT NOT NULL,
    shop TEXT NOT NULL,
    note TEXT NOT NULL,
    markers TEXT NOT NULL
) STRICT""",
    """CREATE TABLE axis_label (
    key INTEGER PRIMARY KEY AUTOINCREMENT,
    axis TEXT NOT NULL CHECK (axis IN ('row', 'column')),
    number INTEGER NOT NULL,
    label TEXT NOT NULL,
    UNIQUE (axis, number)
) STRICT""",
    """CREATE TABLE treatment (
    key INTEGER PRIMARY KEY AUTOINCREMENT,
    id TEXT NOT NULL UNIQUE COLLATE NOCASE,
    name TEXT NOT NULL,
    family TEXT NOT NULL,
    preparation TEXT NOT NULL,
    finish TEXT NOT NULL,
    protectant TEXT NOT NULL,
    coats INTEGER,
    batch TEXT NOT NULL,
    cost_per_m2 REAL,
    minutes_per_m2 REAL,
    note TEXT NOT NULL
) STRICT""",
    """CREATE TABLE coupon (
    key INTEGER PRIMARY KEY AUTOINCREMENT,
    id TEXT NOT NULL UNIQUE COLLATE NOCASE,
    row_number INTEGER,
    column_number INTEGER,
    treatment INTEGER REFERENCES treatment (key),
    role TEXT NOT NULL CHECK (role IN ('test', 'control')),
    substrate TEXT NOT NULL,
    outline_mm TEXT NOT NULL,
    note TEXT NOT NULL,
    UNIQUE (row_number, column_number)
) STRICT""",
    """CREATE TABLE inspection (
    key INTEGER PRIMARY KEY AUTOINCREMENT,
    at TEXT NOT NULL,
    grader TEXT NOT NULL,
    light TEXT NOT NULL,
    surface TEXT NOT NULL,
    note TEXT NOT NULL
) STRICT""",
    """CREATE TABLE grading (
    key INTEGER PRIMARY KEY AUTOINCREMENT,
    coupon INTEGER NOT NULL REFERENCES coupon (key),
    inspection INTEGER NOT NULL REFERENCES inspection (key),
    grade INTEGER NOT NULL CHECK (grade BETWEEN 0 AND 10),
    distribution TEXT NOT NULL CHECK (distribution IN ('', 'S', 'G', 'P', 'H')),
    percent REAL CHECK (percent BETWEEN 0 AND 100),
    grader TEXT NOT NULL,
    source TEXT NOT NULL CHECK (source IN ('eye', 'photo', 'photo confirmed')),
    note TEXT NOT NULL,
    recorded TEXT NOT NULL,
    state TEXT NOT NULL CHECK (state IN ('current', 'superseded', 'withdrawn')),
    replaces INTEGER REFERENCES grading (key)
) STRICT""",
    """CREATE UNIQUE INDEX one_current_grade ON grading (coupon, inspection) WHERE state = 'current'""",
    # For the foreign keys too: undo takes rows out and puts them back, and each time SQLite looks who points at them.
    """CREATE INDEX grading_of_coupon ON grading (coupon, inspection)""",
    """CREATE INDEX grading_of_inspection ON grading (inspection)""",
    """CREATE INDEX grading_replaced ON grading (replaces) WHERE replaces IS NOT NULL""",
    """CREATE INDEX coupon_of_treatment ON coupon (treatment)""",
    *_FIRST_PHOTO_TABLE,
    """CREATE TABLE journal (
    key INTEGER PRIMARY KEY AUTOINCREMENT,
    at TEXT NOT NULL,
    pattern TEXT NOT NULL,
    parts TEXT NOT NULL,
    undone INTEGER NOT NULL CHECK (undone IN (0, 1))
) STRICT""",
    """CREATE TABLE journal_row (
    entry INTEGER NOT NULL REFERENCES journal (key),
    step INTEGER NOT NULL,
    table_name TEXT NOT NULL,
    row_key INTEGER NOT NULL,
    before TEXT,
    after TEXT,
    PRIMARY KEY (entry, step)
) STRICT, WITHOUT ROWID""",
    """CREATE TABLE audit (
    key INTEGER PRIMARY KEY AUTOINCREMENT,
    at TEXT NOT NULL,
    who TEXT NOT NULL,
    operation TEXT NOT NULL,
    pattern TEXT NOT NULL,
    parts TEXT NOT NULL
) STRICT""",
)

PLAN_TABLES: Final[tuple[str, ...]] = (
    """CREATE TABLE recipe (
    key INTEGER PRIMARY KEY AUTOINCREMENT,
    treatment INTEGER NOT NULL UNIQUE REFERENCES treatment (key),
    library_id TEXT NOT NULL,
    version INTEGER NOT NULL,
    steps TEXT NOT NULL
) STRICT""",
    """CREATE TABLE question (
    key INTEGER PRIMARY KEY AUTOINCREMENT,
    compared TEXT NOT NULL CHECK (compared IN ('control', 'pairs', 'families', 'grid', 'chosen')),
    pairs TEXT NOT NULL,
    failing_grade INTEGER NOT NULL CHECK (failing_grade BETWEEN 0 AND 9),
    measure TEXT NOT NULL CHECK (measure IN ('last grade', 'mean grade', 'days to failing grade')),
    worthwhile REAL NOT NULL,
    assumed_sd REAL,
    words TEXT NOT NULL,
    written TEXT,
    late INTEGER NOT NULL CHECK (late IN (0, 1))
) STRICT""",
    """CREATE TABLE layout (
    key INTEGER PRIMARY KEY CHECK (key = 1),
    method TEXT NOT NULL CHECK (method IN ('complete', 'rows', 'hand')),
    drain TEXT NOT NULL CHECK (drain IN ('columns', 'spacing', 'drip edges', 'none')),
    free_rows INTEGER NOT NULL,
    fair_edges INTEGER NOT NULL CHECK (fair_edges IN (0, 1)),
    seed INTEGER,
    drawn_at TEXT,
    coupon_width_mm REAL NOT NULL,
    coupon_height_mm REAL NOT NULL,
    hole_below_top_mm REAL NOT NULL,
    drawn_rows INTEGER NOT NULL,
    drawn_columns INTEGER NOT NULL,
    drawn_in_columns INTEGER NOT NULL CHECK (drawn_in_columns IN (0, 1))
) STRICT""",
    """CREATE TABLE lot (
    key INTEGER PRIMARY KEY AUTOINCREMENT,
    coupon INTEGER NOT NULL UNIQUE REFERENCES coupon (key),
    row_number INTEGER NOT NULL,
    column_number INTEGER NOT NULL
) STRICT""",
    """CREATE TABLE calendar (
    key INTEGER PRIMARY KEY CHECK (key = 1),
    days TEXT NOT NULL,
    hour TEXT NOT NULL,
    remind INTEGER NOT NULL CHECK (remind IN (0, 1)),
    uid TEXT NOT NULL CHECK (length(uid) > 0)
) STRICT""",
)
"""What format 2 added to format 1."""

_PHOTO_TABLE: Final = (
    """CREATE TABLE photo (
    key INTEGER PRIMARY KEY AUTOINCREMENT,
    name TEXT NOT NULL,
    file TEXT NOT NULL UNIQUE,
    sha256 TEXT NOT NULL UNIQUE,
    width_px INTEGER NOT NULL,
    height_px INTEGER NOT NULL,
    taken TEXT,
    inspection INTEGER REFERENCES inspection (key),
    mm_to_px TEXT NOT NULL,
    camera_time TEXT,
    offset_minutes INTEGER,
    lens REAL NOT NULL,
    placed_by TEXT NOT NULL CHECK (placed_by IN ('', 'given', 'markers', 'view', 'corners')),
    placing_error_px REAL,
    unplaced_because TEXT NOT NULL,
    warnings TEXT NOT NULL
) STRICT""",
    """CREATE INDEX photo_of_inspection ON photo (inspection)""",
)
MEASURING_TABLES: Final[tuple[str, ...]] = (
    """CREATE TABLE measurement (
    key INTEGER PRIMARY KEY AUTOINCREMENT,
    photo INTEGER NOT NULL REFERENCES photo (key),
    coupon INTEGER NOT NULL REFERENCES coupon (key),
    algorithm INTEGER NOT NULL,
    inputs TEXT NOT NULL,
    percent REAL CHECK (percent BETWEEN 0 AND 100),
    low REAL,
    high REAL,
    spots INTEGER NOT NULL,
    largest_mm2 REAL NOT NULL,
    distribution TEXT NOT NULL CHECK (distribution IN ('', 'S', 'G', 'P', 'H')),
    debris_percent REAL NOT NULL,
    unseen_percent REAL NOT NULL,
    resolvable_percent REAL NOT NULL,
    confident INTEGER NOT NULL CHECK (confident IN (0, 1)),
    newest INTEGER NOT NULL CHECK (newest IN (0, 1)),
    motion TEXT NOT NULL,
    present TEXT NOT NULL CHECK (present IN ('there', 'missing', 'other', 'unsure')),
    warnings TEXT NOT NULL,
    measured TEXT NOT NULL,
    state TEXT NOT NULL CHECK (state IN ('current', 'superseded')),
    replaces INTEGER REFERENCES measurement (key),
    reason TEXT NOT NULL
) STRICT""",
    """CREATE UNIQUE INDEX one_current_measurement ON measurement (photo, coupon) WHERE state = 'current'""",
    """CREATE INDEX measurement_of_coupon ON measurement (coupon)""",
    """CREATE INDEX measurement_replaced ON measurement (replaces) WHERE replaces IS NOT NULL""",
    """CREATE TABLE stroke (
    key INTEGER PRIMARY KEY AUTOINCREMENT,
    photo INTEGER NOT NULL REFERENCES photo (key),
    coupon INTEGER NOT NULL REFERENCES coupon (key),
    adds INTEGER NOT NULL CHECK (adds IN (0, 1)),
    radius_mm REAL NOT NULL,
    points_mm TEXT NOT NULL
) STRICT""",
    """CREATE INDEX stroke_of_photo ON stroke (photo, coupon)""",
    """CREATE INDEX stroke_of_coupon ON stroke (coupon)""",
    """CREATE TABLE excluded_area (
    key INTEGER PRIMARY KEY AUTOINCREMENT,
    coupon INTEGER NOT NULL REFERENCES coupon (key),
    kind TEXT NOT NULL CHECK (kind IN ('hole', 'label', 'other')),
    outline_mm TEXT NOT NULL
) STRICT""",
    """CREATE INDEX excluded_area_of_coupon ON excluded_area (coupon)""",
    """CREATE TABLE card (
    key INTEGER PRIMARY KEY AUTOINCREMENT,
    kind TEXT NOT NULL CHECK (kind IN ('grey card', 'white card')),
    outline_mm TEXT NOT NULL
) STRICT""",
    """CREATE TABLE disturbance (
    key INTEGER PRIMARY KEY AUTOINCREMENT,
    at TEXT NOT NULL,
    kind TEXT NOT NULL CHECK (kind IN (
        'debris cleared', 'touched', 'cleaned', 'replaced', 'lost', 'rotated', 'board moved', 'other')),
    coupon INTEGER REFERENCES coupon (key),
    note TEXT NOT NULL
) STRICT""",
    """CREATE INDEX disturbance_of_coupon ON disturbance (coupon) WHERE coupon IS NOT NULL""",
)
"""What format 3 added to format 2, beside the columns of ``photo``."""

FORMAT_2: Final = (*FORMAT_1, *PLAN_TABLES)
SCHEMA: Final = (
    *(each for each in FORMAT_1 if each not in _FIRST_PHOTO_TABLE),
    *_PHOTO_TABLE,
    *PLAN_TABLES,
    *MEASURING_TABLES,
)


def _add_plan_tables(connection: sqlite3.Connection) -> None:
    for statement in PLAN_TABLES:
        connection.execute(statement)


def _add_measuring(connection: sqlite3.Connection) -> None:
    """Make the table of photos anew with more columns (its text must be as in a new file), and add the new tables."""
    connection.execute("CREATE TEMP TABLE older_photo AS SELECT * FROM photo")
    numbered = connection.execute("SELECT seq FROM sqlite_sequence WHERE name = 'photo'").fetchone()
    connection.execute("DROP TABLE photo")
    for statement in (*_PHOTO_TABLE, *MEASURING_TABLES):
        connection.execute(statement)
    connection.execute(
        "INSERT INTO photo SELECT key, name, file, sha256, width_px, height_px, taken, inspection, mm_to_px, NULL,"
        " NULL, 0.0, CASE mm_to_px WHEN '[]' THEN '' ELSE 'given' END, NULL, '', '[]' FROM older_photo"
    )
    connection.execute("DROP TABLE older_photo")
    if numbered is not None:  # so that the number of a photo once taken back is never given again
        connection.execute("DELETE FROM sqlite_sequence WHERE name = 'photo'")
        connection.execute("INSERT INTO sqlite_sequence (name, seq) VALUES ('photo', ?)", numbered)


MIGRATIONS: Final[Mapping[int, Migration]] = {1: _add_plan_tables, 2: _add_measuring}
"""By the format a migration starts from: each brings a file from that format to the next one."""

SCHEMAS: Final[Mapping[int, tuple[str, ...]]] = {1: FORMAT_1, 2: FORMAT_2, FORMAT: SCHEMA}
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
