"""The tables of ``board.rustboard`` as SQL, format by format; `rustboard.store.schema` puts them together."""

from __future__ import annotations

from typing import Final

FIRST_PHOTO_TABLE: Final = (
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
GRADING_INDEXES: Final = (
    """CREATE UNIQUE INDEX one_current_grade ON grading (coupon, inspection) WHERE state = 'current'""",
    # For the foreign keys too: undo takes rows out and puts them back, and each time SQLite looks who points at them.
    """CREATE INDEX grading_of_coupon ON grading (coupon, inspection)""",
    """CREATE INDEX grading_of_inspection ON grading (inspection)""",
    """CREATE INDEX grading_replaced ON grading (replaces) WHERE replaces IS NOT NULL""",
)
FIRST_GRADING_TABLE: Final = (
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
    *GRADING_INDEXES,
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
    *FIRST_GRADING_TABLE,
    """CREATE INDEX coupon_of_treatment ON coupon (treatment)""",
    *FIRST_PHOTO_TABLE,
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

PHOTO_TABLE: Final = (
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

GRADING_TABLE: Final = (
    """CREATE TABLE grading (
    key INTEGER PRIMARY KEY AUTOINCREMENT,
    coupon INTEGER NOT NULL REFERENCES coupon (key),
    inspection INTEGER NOT NULL REFERENCES inspection (key),
    grade INTEGER NOT NULL CHECK (grade BETWEEN 0 AND 10),
    distribution TEXT NOT NULL CHECK (distribution IN ('', 'S', 'G', 'P', 'H')),
    percent REAL CHECK (percent BETWEEN 0 AND 100),
    grader TEXT NOT NULL,
    source TEXT NOT NULL CHECK (source IN ('eye', 'photo', 'photo confirmed', 'blind', 'agreed')),
    note TEXT NOT NULL,
    recorded TEXT NOT NULL,
    state TEXT NOT NULL CHECK (state IN ('current', 'superseded', 'withdrawn')),
    replaces INTEGER REFERENCES grading (key)
) STRICT""",
    *GRADING_INDEXES,
)
"""With the sources that format 4 added."""

BLIND_TABLES: Final[tuple[str, ...]] = (
    """CREATE TABLE blind_inspection (
    key INTEGER PRIMARY KEY AUTOINCREMENT,
    inspection INTEGER NOT NULL UNIQUE REFERENCES inspection (key),
    basis TEXT NOT NULL CHECK (basis IN ('photo', 'bench')),
    photo INTEGER REFERENCES photo (key),
    repeat_percent REAL NOT NULL CHECK (repeat_percent BETWEEN 0 AND 100),
    started TEXT NOT NULL,
    revealed TEXT
) STRICT""",
    """CREATE INDEX blind_inspection_photo ON blind_inspection (photo) WHERE photo IS NOT NULL""",
    """CREATE TABLE blind_round (
    key INTEGER PRIMARY KEY AUTOINCREMENT,
    blind INTEGER NOT NULL REFERENCES blind_inspection (key),
    grader TEXT NOT NULL,
    seed INTEGER NOT NULL,
    showings TEXT NOT NULL,
    started TEXT NOT NULL,
    finished TEXT
) STRICT""",
    """CREATE INDEX blind_round_of_blind ON blind_round (blind)""",
    """CREATE TABLE blind_grade (
    key INTEGER PRIMARY KEY AUTOINCREMENT,
    round INTEGER NOT NULL REFERENCES blind_round (key),
    number INTEGER NOT NULL CHECK (number >= 0),
    coupon INTEGER NOT NULL REFERENCES coupon (key),
    grade INTEGER NOT NULL CHECK (grade BETWEEN 0 AND 10),
    distribution TEXT NOT NULL CHECK (distribution IN ('', 'S', 'G', 'P', 'H')),
    percent REAL CHECK (percent BETWEEN 0 AND 100),
    note TEXT NOT NULL,
    recorded TEXT NOT NULL,
    state TEXT NOT NULL CHECK (state IN ('current', 'superseded', 'withdrawn')),
    replaces INTEGER REFERENCES blind_grade (key)
) STRICT""",
    """CREATE UNIQUE INDEX one_current_blind_grade ON blind_grade (round, number) WHERE state = 'current'""",
    """CREATE INDEX blind_grade_of_round ON blind_grade (round, number)""",
    """CREATE INDEX blind_grade_of_coupon ON blind_grade (coupon)""",
    """CREATE INDEX blind_grade_replaced ON blind_grade (replaces) WHERE replaces IS NOT NULL""",
    """CREATE TABLE pair_choice (
    key INTEGER PRIMARY KEY AUTOINCREMENT,
    inspection INTEGER NOT NULL REFERENCES inspection (key),
    grader TEXT NOT NULL,
    left_coupon INTEGER NOT NULL REFERENCES coupon (key),
    right_coupon INTEGER NOT NULL REFERENCES coupon (key),
    rustier TEXT NOT NULL CHECK (rustier IN ('left', 'right', 'neither')),
    recorded TEXT NOT NULL,
    state TEXT NOT NULL CHECK (state IN ('current', 'superseded', 'withdrawn')),
    replaces INTEGER REFERENCES pair_choice (key),
    CHECK (left_coupon <> right_coupon)
) STRICT""",
    """CREATE INDEX pair_choice_of_inspection ON pair_choice (inspection)""",
    """CREATE INDEX pair_choice_left ON pair_choice (left_coupon)""",
    """CREATE INDEX pair_choice_right ON pair_choice (right_coupon)""",
    """CREATE INDEX pair_choice_replaced ON pair_choice (replaces) WHERE replaces IS NOT NULL""",
    """CREATE TABLE damage (
    key INTEGER PRIMARY KEY AUTOINCREMENT,
    coupon INTEGER NOT NULL REFERENCES coupon (key),
    inspection INTEGER NOT NULL REFERENCES inspection (key),
    kind TEXT NOT NULL CHECK (kind IN ('edge rust', 'stain', 'blisters', 'peeling', 'creep')),
    percent REAL CHECK (percent BETWEEN 0 AND 100),
    severity TEXT NOT NULL CHECK (severity IN ('', 'vs', 's', 'm', 'x')),
    scribe_mm REAL,
    widths_mm TEXT NOT NULL,
    grader TEXT NOT NULL,
    note TEXT NOT NULL,
    recorded TEXT NOT NULL,
    state TEXT NOT NULL CHECK (state IN ('current', 'superseded', 'withdrawn')),
    replaces INTEGER REFERENCES damage (key)
) STRICT""",
    """CREATE UNIQUE INDEX one_current_damage ON damage (coupon, inspection, kind) WHERE state = 'current'""",
    """CREATE INDEX damage_of_coupon ON damage (coupon, inspection)""",
    """CREATE INDEX damage_of_inspection ON damage (inspection)""",
    """CREATE INDEX damage_replaced ON damage (replaces) WHERE replaces IS NOT NULL""",
)
"""What format 4 added to format 3, beside the sources of grades."""
