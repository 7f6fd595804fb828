"""The tables of format 5 as SQL; `rustboard.store.schema` puts them together with the older ones."""

from __future__ import annotations

from typing import Final

WEATHER_TABLES: Final[tuple[str, ...]] = (
    """CREATE TABLE weather_file (
    key INTEGER PRIMARY KEY AUTOINCREMENT,
    name TEXT NOT NULL,
    sha256 TEXT NOT NULL,
    logger TEXT NOT NULL,
    clock TEXT NOT NULL,
    quantities TEXT NOT NULL,
    count INTEGER NOT NULL,
    first TEXT NOT NULL,
    last TEXT NOT NULL,
    left_out INTEGER NOT NULL,
    told TEXT NOT NULL,
    added TEXT NOT NULL,
    content TEXT NOT NULL
) STRICT""",
    """CREATE UNIQUE INDEX one_weather_file ON weather_file (sha256)""",
    # Like a photo's bytes: named by what is in them, so that a step taken back needs only the row above.
    """CREATE TABLE weather_content (
    sha256 TEXT NOT NULL,
    part INTEGER NOT NULL,
    bytes BLOB NOT NULL,
    UNIQUE (sha256, part)
) STRICT""",
    """CREATE TABLE day_note (
    key INTEGER PRIMARY KEY AUTOINCREMENT,
    day TEXT NOT NULL UNIQUE,
    conditions TEXT NOT NULL,
    rain_mm REAL,
    highest_c REAL,
    lowest_c REAL,
    wet_hours REAL CHECK (wet_hours BETWEEN 0 AND 24),
    note TEXT NOT NULL
) STRICT""",
    """CREATE TABLE site (
    key INTEGER PRIMARY KEY CHECK (key = 1),
    zone TEXT NOT NULL,
    dew_point_set TEXT NOT NULL,
    dew_day_hours REAL NOT NULL CHECK (dew_day_hours BETWEEN 0 AND 24),
    wet_day_hours REAL NOT NULL CHECK (wet_day_hours BETWEEN 0 AND 24),
    leave_out_stuck INTEGER NOT NULL CHECK (leave_out_stuck IN (0, 1)),
    sulphur_dioxide REAL,
    chloride REAL
) STRICT""",
    """CREATE TABLE weighing (
    key INTEGER PRIMARY KEY AUTOINCREMENT,
    coupon INTEGER NOT NULL REFERENCES coupon (key),
    exposed_from TEXT,
    exposed_to TEXT NOT NULL,
    before_g REAL NOT NULL,
    after_g TEXT NOT NULL,
    blank_before_g REAL,
    blank_after_g TEXT NOT NULL,
    thickness_mm REAL,
    area_cm2 REAL,
    masked_cm2 REAL NOT NULL,
    density_g_cm3 REAL NOT NULL,
    bare INTEGER NOT NULL CHECK (bare IN (0, 1)),
    pits INTEGER,
    pits_on_cm2 REAL,
    pit_openings_mm2 TEXT NOT NULL,
    pit_depths_um TEXT NOT NULL,
    note TEXT NOT NULL,
    recorded TEXT NOT NULL,
    state TEXT NOT NULL CHECK (state IN ('current', 'superseded', 'withdrawn')),
    replaces INTEGER REFERENCES weighing (key)
) STRICT""",
    """CREATE UNIQUE INDEX one_current_weighing ON weighing (coupon) WHERE state = 'current'""",
    """CREATE INDEX weighing_of_coupon ON weighing (coupon)""",
    """CREATE INDEX weighing_replaced ON weighing (replaces) WHERE replaces IS NOT NULL""",
)
"""What format 5 added to format 4."""
