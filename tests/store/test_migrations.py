"""Bringing older boards up to date, tried with invented formats; and that every real step has its test."""

from __future__ import annotations

import sqlite3
from contextlib import closing

import pytest
from store_boards import NOW, do, empty_board, graded_board, opened, raw, tables_of

from rustboard.board.model import Inspection
from rustboard.board.recipe import Recipe, RecipeStep, TreatmentRecipe
from rustboard.board.record import forerunner_of, is_archived, tags_of
from rustboard.board.shelving import Forerunner
from rustboard.board.weather import DayNote
from rustboard.operations.grading import GivenGrade, grade_coupon, withdraw_grade
from rustboard.operations.inspections import add_inspection
from rustboard.operations.leaving_out import leave_out
from rustboard.operations.shelving import archive, set_forerunner, set_tags
from rustboard.operations.weather import note_day
from rustboard.session.looking import look_at_board
from rustboard.store import board_store, database, schema
from rustboard.store.database import connect
from rustboard.store.migrate import migrate
from rustboard.store.plan_tables import RECIPES
from rustboard.store.schema import Formats
from rustboard.support.problems import InputError
from rustboard.support.summary import Summary


def add_remark(connection):
    connection.execute("CREATE TABLE remark (key INTEGER PRIMARY KEY, text TEXT NOT NULL) STRICT")
    connection.execute("INSERT INTO remark (text) SELECT name FROM board")


def shout(connection):
    connection.execute("UPDATE remark SET text = text || '!'")
    connection.execute("CREATE INDEX remark_text ON remark (text)")


REAL = schema.FORMAT
ONE_ON, TWO_ON = REAL + 1, REAL + 2
REMARK = "CREATE TABLE remark (key INTEGER PRIMARY KEY, text TEXT NOT NULL) STRICT"
INDEXED = (*schema.SCHEMA, REMARK, "CREATE INDEX remark_text ON remark (text)")
# Two invented formats after the real ones.
FORMATS = Formats(
    {**schema.SCHEMAS, ONE_ON: (*schema.SCHEMA, REMARK), TWO_ON: INDEXED},
    {**schema.MIGRATIONS, REAL: add_remark, ONE_ON: shout},
)


def formats_with(step):
    return Formats(FORMATS.schemas, {**FORMATS.migrations, ONE_ON: step})


def run(folder, formats):
    with closing(connect(folder / "board.rustboard", write=True, formats=formats)) as connection:
        return migrate(connection, folder / "board.rustboard", formats)


def content(folder):
    with raw(folder) as connection:
        return list(connection.iterdump()), connection.execute("PRAGMA user_version").fetchone()


@pytest.fixture
def folder(tmp_path):
    return graded_board(tmp_path / "b")


def test_the_steps_run_in_order_and_keep_the_rows(folder):
    before = tables_of(folder)
    assert run(folder, FORMATS) == 2
    with raw(folder) as connection:
        assert connection.execute("SELECT text FROM remark").fetchall() == [("Harbour wall!",)]
        assert connection.execute("PRAGMA user_version").fetchone() == (TWO_ON,)
        assert schema.objects_of(connection) == FORMATS.expected_objects(TWO_ON)
    assert before.items() <= tables_of(folder).items()


def test_a_board_of_the_newest_format_is_left_alone(folder):
    run(folder, FORMATS)
    before = content(folder)
    assert run(folder, FORMATS) == 0
    assert content(folder) == before


def test_the_older_file_is_kept_as_a_copy_first(folder):
    before = (folder / "board.rustboard").read_bytes()
    run(folder, FORMATS)
    assert (folder / "backups" / f"board-before-leaving-format-{REAL}.rustboard").read_bytes() == before


def test_the_journal_is_cleared_and_the_audit_stays(folder):
    with raw(folder) as connection:
        audit = connection.execute("SELECT * FROM audit").fetchall()
    run(folder, FORMATS)
    with raw(folder) as connection:
        assert connection.execute("SELECT count(*) FROM journal").fetchone() == (0,)
        assert connection.execute("SELECT count(*) FROM journal_row").fetchone() == (0,)
        assert connection.execute("SELECT * FROM audit").fetchall() == audit


def breaks(connection):
    connection.execute("DROP TABLE grading")
    raise ZeroDivisionError


def points_nowhere(connection):
    shout(connection)
    connection.execute("UPDATE grading SET coupon = 99 WHERE key = 1")


def leads_elsewhere(connection):
    shout(connection)
    connection.execute("CREATE TABLE forgotten (x)")


def runs_into_the_disk(connection):
    shout(connection)
    connection.execute("INSERT INTO no_such_table VALUES (1)")


@pytest.mark.parametrize(("step", "error"), [
    (breaks, ZeroDivisionError),
    (points_nowhere, InputError),
    (leads_elsewhere, RuntimeError),
    (runs_into_the_disk, sqlite3.OperationalError),
])  # fmt: skip
def test_when_a_step_fails_all_steps_are_taken_back(folder, step, error):
    before = content(folder)
    with pytest.raises(error):
        run(folder, formats_with(step))
    assert content(folder) == before
    with opened(folder) as store:
        assert len(store.read().coupons) == 3
        assert store.next_step("undo") is not None


def test_without_a_copy_there_is_no_migration(folder):
    (folder / "backups" / "board-2026-03-02.rustboard").unlink()
    (folder / "backups").rmdir()
    (folder / "backups").write_text("a file is in the way")
    before = content(folder)
    with pytest.raises(InputError) as caught:
        run(folder, FORMATS)
    assert caught.value.problem.what == (
        "The board must be brought up to date, and the copy to be made first failed: "
        "Something with this name is already there; choose another name."
    )
    assert content(folder) == before


def test_an_older_file_that_was_altered_is_refused_before_any_step(folder):
    with raw(folder) as connection:
        connection.execute("CREATE TRIGGER t AFTER DELETE ON journal BEGIN DELETE FROM audit; END")
    before = content(folder)
    with pytest.raises(InputError, match="it was altered by another program"):
        run(folder, FORMATS)
    assert content(folder) == before
    assert not (folder / "backups" / f"board-before-leaving-format-{REAL}.rustboard").exists()


def test_an_older_board_is_not_read_as_if_it_were_new(folder):
    with pytest.raises(InputError) as caught:
        connect(folder / "board.rustboard", write=False, formats=FORMATS)
    assert caught.value.problem.what == (
        f"This board is still of format {REAL}, which is brought up to date only where it may be written; open it in "
        "Rustboard once, or copy its folder to a place of your own."
    )


def test_a_gap_between_the_steps_is_refused(folder):
    gap = Formats(FORMATS.schemas, {ONE_ON: shout})
    with pytest.raises(InputError, match=f"No version of Rustboard wrote format {REAL}; the file was altered"):
        run(folder, gap)


def test_opening_a_board_runs_the_steps(folder, monkeypatch):
    # `Formats` is frozen, so the store's own connect and migrate are given other ones.
    monkeypatch.setattr(board_store, "connect", lambda file, write: connect(file, write=write, formats=FORMATS))
    monkeypatch.setattr(board_store, "migrate", lambda connection, file: migrate(connection, file, FORMATS))
    with opened(folder) as store:
        assert store.read_only_reason == ""
        assert store.next_step("undo") is None
        do(store, add_inspection, Inspection(store.read().inspections[1].at.replace(year=2030)))
        assert store.next_step("undo") is not None
    monkeypatch.undo()
    with pytest.raises(InputError, match="written by a newer version"), opened(folder):
        pass


def test_every_real_step_has_a_test_of_its_own():
    """By its name: ``test_from_format_1_to_2`` in this file, and so on."""
    missing = [
        f"test_from_format_{start}_to_{start + 1}"
        for start in schema.MIGRATIONS
        if not callable(globals().get(f"test_from_format_{start}_to_{start + 1}"))
    ]
    assert missing == []


def test_the_formats_are_numbered_without_gaps_and_each_has_its_tables():
    assert sorted(schema.SCHEMAS) == list(range(1, schema.FORMAT + 1))
    assert sorted(schema.MIGRATIONS) == list(range(1, schema.FORMAT))
    assert schema.FORMATS.newest == schema.FORMAT
    assert schema.SCHEMAS[schema.FORMAT] == schema.SCHEMA
    assert database.connect.__kwdefaults__["formats"] is schema.FORMATS


# What a file of each format holds. A change here is a change of the format: it needs a new number and a migration.
FORMAT_1 = {
    "board": "key name row_count column_count width_mm height_mm edge_margin_mm started site shelter incline_deg "
    "facing_deg customer shop note markers",
    "axis_label": "key axis number label",
    "treatment": "key id name family preparation finish protectant coats batch cost_per_m2 minutes_per_m2 note",
    "coupon": "key id row_number column_number treatment role substrate outline_mm note",
    "inspection": "key at grader light surface note",
    "grading": "key coupon inspection grade distribution percent grader source note recorded state replaces",
    "photo": "key name file sha256 width_px height_px taken inspection mm_to_px",
    "journal": "key at pattern parts undone",
    "journal_row": "entry step table_name row_key before after",
    "audit": "key at who operation pattern parts",
    "sqlite_sequence": "name seq",
}
FORMAT_1_INDEXES = {
    "one_current_grade", "grading_of_coupon", "grading_of_inspection", "grading_replaced", "coupon_of_treatment",
    "photo_of_inspection",
}  # fmt: skip

FORMAT_2 = FORMAT_1 | {
    "recipe": "key treatment library_id version steps",
    "question": "key compared pairs failing_grade measure worthwhile assumed_sd words written late",
    "layout": "key method drain free_rows fair_edges seed drawn_at coupon_width_mm coupon_height_mm "
    "hole_below_top_mm drawn_rows drawn_columns drawn_in_columns",
    "lot": "key coupon row_number column_number",
    "calendar": "key days hour remind uid",
}
FORMAT_3 = FORMAT_2 | {
    "photo": f"{FORMAT_1['photo']} camera_time offset_minutes lens placed_by placing_error_px unplaced_because "
    "warnings",
    "measurement": "key photo coupon algorithm inputs percent low high spots largest_mm2 distribution debris_percent "
    "unseen_percent resolvable_percent confident newest motion present warnings measured state replaces reason",
    "stroke": "key photo coupon adds radius_mm points_mm",
    "excluded_area": "key coupon kind outline_mm",
    "card": "key kind outline_mm",
    "disturbance": "key at kind coupon note",
}
FORMAT_3_INDEXES = FORMAT_1_INDEXES | {
    "one_current_measurement", "measurement_of_coupon", "measurement_replaced", "stroke_of_photo", "stroke_of_coupon",
    "excluded_area_of_coupon", "disturbance_of_coupon",
}  # fmt: skip


FORMAT_4 = FORMAT_3 | {
    "blind_inspection": "key inspection basis photo repeat_percent started revealed",
    "blind_round": "key blind grader seed showings started finished",
    "blind_grade": "key round number coupon grade distribution percent note recorded state replaces",
    "pair_choice": "key inspection grader left_coupon right_coupon rustier recorded state replaces",
    "damage": "key coupon inspection kind percent severity scribe_mm widths_mm grader note recorded state replaces",
}
FORMAT_4_INDEXES = FORMAT_3_INDEXES | {
    "blind_inspection_photo", "blind_round_of_blind", "one_current_blind_grade", "blind_grade_of_round",
    "blind_grade_of_coupon", "blind_grade_replaced", "pair_choice_of_inspection", "pair_choice_left",
    "pair_choice_right", "pair_choice_replaced", "one_current_damage", "damage_of_coupon", "damage_of_inspection",
    "damage_replaced",
}  # fmt: skip


FORMAT_5 = FORMAT_4 | {
    "weather_file": "key name sha256 logger clock quantities count first last left_out told added content",
    "weather_content": "sha256 part bytes",
    "day_note": "key day conditions rain_mm highest_c lowest_c wet_hours note",
    "site": "key zone dew_point_set dew_day_hours wet_day_hours leave_out_stuck sulphur_dioxide chloride",
    "weighing": "key coupon exposed_from exposed_to before_g after_g blank_before_g blank_after_g thickness_mm "
    "area_cm2 masked_cm2 density_g_cm3 bare pits pits_on_cm2 pit_openings_mm2 pit_depths_um note recorded "
    "state replaces",
}
FORMAT_5_INDEXES = FORMAT_4_INDEXES | {
    "one_weather_file", "one_current_weighing", "weighing_of_coupon", "weighing_replaced",
}  # fmt: skip


FORMAT_6 = FORMAT_5 | {"left_out": "key coupon reason who recorded"}
FORMAT_6_INDEXES = FORMAT_5_INDEXES
FORMAT_7 = FORMAT_6 | {
    "tag": "key word",
    "shelving": "key archived",
    "forerunner": "key name started kept changed folder",
}
FORMAT_7_INDEXES = FORMAT_6_INDEXES


def columns_of(connection):
    tables = [name for (name,) in connection.execute("SELECT name FROM sqlite_schema WHERE type = 'table'")]
    return {name: " ".join(row[1] for row in connection.execute(f"PRAGMA table_info({name})")) for name in tables}


def indexes_of(connection):
    named = connection.execute("SELECT name FROM sqlite_schema WHERE type = 'index' AND sql IS NOT NULL")
    return {name for (name,) in named}


def test_a_new_file_has_the_tables_columns_and_indexes_of_format_7(tmp_path):
    with raw(empty_board(tmp_path / "new")) as connection:
        assert columns_of(connection) == FORMAT_7
        assert indexes_of(connection) == FORMAT_7_INDEXES


# ---- the real steps


OLDER = {
    1: (schema.FORMAT_1, FORMAT_1, FORMAT_1_INDEXES),
    2: (schema.FORMAT_2, FORMAT_2, FORMAT_1_INDEXES),
    3: (schema.FORMAT_3, FORMAT_3, FORMAT_3_INDEXES),
    4: (schema.FORMAT_4, FORMAT_4, FORMAT_4_INDEXES),
    5: (schema.FORMAT_5, FORMAT_5, FORMAT_5_INDEXES),
    6: (schema.FORMAT_6, FORMAT_6, FORMAT_6_INDEXES),
}


def as_format(number, folder):
    """Put a graded board's rows into a file made from the tables of an older format, as that version wrote it."""
    statements, tables, indexes = OLDER[number]
    newer, file = folder / "newer.rustboard", folder / "board.rustboard"
    file.rename(newer)
    with closing(sqlite3.connect(file, isolation_level=None)) as connection:
        for statement in statements:
            connection.execute(statement)
        assert columns_of(connection) == tables
        assert indexes_of(connection) == indexes
        connection.execute(f"PRAGMA application_id = {schema.APPLICATION_ID}")
        connection.execute(f"PRAGMA user_version = {number}")
        connection.execute("ATTACH ? AS newer", (str(newer),))
        for name, columns in tables.items():
            if name == "sqlite_sequence":
                connection.execute("DELETE FROM sqlite_sequence")
                known = ", ".join(f"'{each}'" for each in tables)
                connection.execute(f"INSERT INTO sqlite_sequence SELECT * FROM newer.{name} WHERE name IN ({known})")
            else:
                connection.execute(f"INSERT INTO {name} SELECT {', '.join(columns.split())} FROM newer.{name}")
        connection.execute("DETACH newer")
    newer.unlink()
    (folder / "backups" / "board-2026-03-02.rustboard").unlink()
    return folder


def as_format_1(folder):
    return as_format(1, folder)


def start_of(rows, tables):
    """Return the rows without the columns that came later (the photo's came at its end)."""
    width = len(FORMAT_1["photo"].split())
    return {name: [row[:width] for row in rows[name]] if name == "photo" else rows[name] for name in tables}


def test_from_format_1_to_2(tmp_path):
    folder = as_format_1(graded_board(tmp_path / "old", coupons=8))
    older, rows = (folder / "board.rustboard").read_bytes(), tables_of(folder)
    with raw(folder) as connection:
        audit = connection.execute("SELECT * FROM audit").fetchall()
        assert connection.execute("SELECT count(*) FROM journal").fetchone() != (0,)
    assert {name: len(rows[name]) for name in ("treatment", "coupon", "inspection", "grading", "photo")} == {
        "treatment": 1, "coupon": 8, "inspection": 2, "grading": 16, "photo": 1,
    }  # fmt: skip

    with opened(folder) as store:
        record = store.read()
        assert store.next_step("undo") is None
        do(store, carry_recipe, 1)
        assert store.read().recipe_of(1) == RECIPE
    assert len(record.coupons) == 8
    assert (record.recipes, record.questions, record.layouts, record.lots, record.calendars) == ({}, {}, {}, {}, {})

    assert (folder / "backups" / "board-before-leaving-format-1.rustboard").read_bytes() == older
    with raw(folder) as connection:
        assert FORMAT_2.keys() <= columns_of(connection).keys()
        assert connection.execute("SELECT * FROM audit").fetchall()[: len(audit)] == audit
    assert rows.items() <= start_of(tables_of(folder), rows).items()


def test_from_format_2_to_3(tmp_path):
    folder = as_format(2, graded_board(tmp_path / "old", coupons=8))
    with raw(folder) as connection:
        connection.execute("UPDATE photo SET mm_to_px = '[2, 0, 5, 0, 2, 5, 0, 0, 1]'")
    older, rows = (folder / "board.rustboard").read_bytes(), tables_of(folder)
    with opened(folder) as store:
        record = store.read()
        assert store.next_step("undo") is None
    (photo,) = record.photos.values()
    assert (photo.placed_by, photo.lens, photo.camera_time, photo.unplaced_because) == ("given", 0.0, None, "")
    assert photo.mm_to_px == (2, 0, 5, 0, 2, 5, 0, 0, 1)
    assert (record.measured, record.strokes, record.excluded_areas, record.cards) == ({}, {}, {}, {})
    assert record.disturbances == {}

    assert (folder / "backups" / "board-before-leaving-format-2.rustboard").read_bytes() == older
    with raw(folder) as connection:
        assert connection.execute("PRAGMA user_version").fetchone() == (schema.FORMAT,)
        assert FORMAT_3.items() <= columns_of(connection).items()
    assert rows.items() <= start_of(tables_of(folder), rows).items()


def test_from_format_3_to_4(tmp_path):
    folder = graded_board(tmp_path / "old", coupons=8)
    with opened(folder) as store:  # a chain of corrections, and a grade taken back
        do(store, grade_coupon, GivenGrade(1, 1, 8, "G", 0.08, "Ann", note="slip"))
        do(store, grade_coupon, GivenGrade(1, 1, 7, "G", 0.2, "Ann", source="photo confirmed"))
        do(store, withdraw_grade, 2, 1)
    as_format(3, folder)
    with raw(folder) as connection:  # the newest grades were given and undone, so their numbers are used
        connection.execute("UPDATE sqlite_sequence SET seq = 40 WHERE name = 'grading'")
        audit = connection.execute("SELECT * FROM audit").fetchall()
    older, rows = (folder / "board.rustboard").read_bytes(), tables_of(folder)
    assert len(rows["grading"]) == 18
    with opened(folder) as store:
        record, chain = store.read(), store.gradings(1, 1)
        assert store.next_step("undo") is None
    assert [(each.grade, each.state, each.replaces) for each in chain] == [
        (9, "superseded", None), (8, "superseded", 1), (7, "current", 17),
    ]  # fmt: skip
    assert (record.current[1][1].source, record.current[1][1].percent) == ("photo confirmed", 0.2)
    assert 1 not in record.current[2]
    assert record.blind_inspections == record.blind_rounds == record.blind_grades == {}
    assert record.pair_choices == record.damages == {}

    assert (folder / "backups" / "board-before-leaving-format-3.rustboard").read_bytes() == older
    with raw(folder) as connection:
        assert connection.execute("PRAGMA user_version").fetchone() == (schema.FORMAT,)
        assert FORMAT_4.items() <= columns_of(connection).items()
        assert indexes_of(connection) >= FORMAT_4_INDEXES
        assert connection.execute("SELECT * FROM audit").fetchall() == audit
        assert connection.execute("PRAGMA foreign_key_check").fetchall() == []
    assert rows.items() <= tables_of(folder).items()
    with opened(folder) as store:
        do(store, grade_coupon, GivenGrade(2, 1, 6, source="blind"))
        assert [each.key for each in store.gradings(2, 1)] == [2, 41]


def test_from_format_4_to_5(tmp_path):
    folder = as_format(4, graded_board(tmp_path / "old", coupons=8))
    older, rows = (folder / "board.rustboard").read_bytes(), tables_of(folder)
    with raw(folder) as connection:
        audit = connection.execute("SELECT * FROM audit").fetchall()
    with opened(folder) as store:
        record = store.read()
        assert store.next_step("undo") is None
        do(store, note_day, DayNote(NOW.date(), ("dew",)))
        assert [each.conditions for each in store.read().day_notes.values()] == [("dew",)]
    assert record.weather_files == record.day_notes == record.sites == record.weighings == {}
    assert len(record.current) == 8

    assert (folder / "backups" / "board-before-leaving-format-4.rustboard").read_bytes() == older
    with raw(folder) as connection:
        assert connection.execute("PRAGMA user_version").fetchone() == (schema.FORMAT,)
        assert FORMAT_5.items() <= columns_of(connection).items()
        assert indexes_of(connection) >= FORMAT_5_INDEXES
        assert connection.execute("SELECT * FROM audit").fetchall()[: len(audit)] == audit
    assert rows.items() <= tables_of(folder).items()


def test_from_format_5_to_6(tmp_path):
    folder = graded_board(tmp_path / "old", coupons=8)
    with opened(folder) as store:
        do(store, note_day, DayNote(NOW.date(), ("dew",)))
    as_format(5, folder)
    older, rows = (folder / "board.rustboard").read_bytes(), tables_of(folder)
    with raw(folder) as connection:
        audit = connection.execute("SELECT * FROM audit").fetchall()
    with opened(folder) as store:
        record = store.read()
        assert store.next_step("undo") is None
        do(store, leave_out, 3, "fell off")
        assert [(each.coupon, each.reason) for each in store.read().left_out.values()] == [(3, "fell off")]
    assert record.left_out == {}
    assert [each.conditions for each in record.day_notes.values()] == [("dew",)]
    assert len(record.current) == 8

    assert (folder / "backups" / "board-before-leaving-format-5.rustboard").read_bytes() == older
    with raw(folder) as connection:
        assert connection.execute("PRAGMA user_version").fetchone() == (schema.FORMAT,)
        assert FORMAT_6.items() <= columns_of(connection).items()
        assert indexes_of(connection) >= FORMAT_6_INDEXES
        assert connection.execute("SELECT * FROM audit").fetchall()[: len(audit)] == audit
    assert rows.items() <= tables_of(folder).items()


def test_from_format_6_to_7(tmp_path):
    folder = graded_board(tmp_path / "old", coupons=8)
    with opened(folder) as store:
        do(store, leave_out, 3, "fell off")
    as_format(6, folder)
    older, rows = (folder / "board.rustboard").read_bytes(), tables_of(folder)
    with raw(folder) as connection:
        audit = connection.execute("SELECT * FROM audit").fetchall()
    with opened(folder) as store:
        record = store.read()
        assert store.next_step("undo") is None
        do(store, set_tags, ["wax", "harbour"])
        do(store, archive)
        do(store, set_forerunner, Forerunner("Autumn", NOW, "beeswax blend", "two coats instead of one", "Autumn"))
        after = store.read()
    assert record.tags == record.shelvings == record.forerunners == {}
    assert [each.reason for each in record.left_out.values()] == ["fell off"]
    assert len(record.current) == 8
    assert (tags_of(after), is_archived(after)) == (["wax", "harbour"], True)
    assert forerunner_of(after) == Forerunner("Autumn", NOW, "beeswax blend", "two coats instead of one", "Autumn")

    assert (folder / "backups" / "board-before-leaving-format-6.rustboard").read_bytes() == older
    with raw(folder) as connection:
        assert connection.execute("PRAGMA user_version").fetchone() == (7,)
        assert (columns_of(connection), indexes_of(connection)) == (FORMAT_7, FORMAT_7_INDEXES)
        assert schema.objects_of(connection) == schema.FORMATS.expected_objects(7)
        assert connection.execute("SELECT * FROM audit").fetchall()[: len(audit)] == audit
    assert rows.items() <= tables_of(folder).items()


def test_a_photo_added_after_the_step_to_format_3_gets_a_number_never_used_before(tmp_path):
    folder = as_format(2, graded_board(tmp_path / "old"))
    with raw(folder) as connection:
        connection.execute("UPDATE sqlite_sequence SET seq = 40 WHERE name = 'photo'")
    with opened(folder):
        pass
    with raw(folder) as connection:
        assert connection.execute("SELECT seq FROM sqlite_sequence WHERE name = 'photo'").fetchone() == (40,)


RECIPE = Recipe((RecipeStep("degrease", "alkaline cleaner", minutes=10.0), RecipeStep("coat", "wax", quantity=2.0)))


def carry_recipe(tx, treatment):
    tx.put(RECIPES, TreatmentRecipe(treatment, RECIPE))
    return Summary("Give a treatment its recipe")


def test_a_board_of_format_1_is_refused_and_left_alone_where_nothing_may_be_written(tmp_path):
    folder = as_format_1(graded_board(tmp_path / "old"))
    before = (folder / "board.rustboard").read_bytes()
    with pytest.raises(InputError, match="This board is still of format 1, which is brought up to date only where"):
        connect(folder / "board.rustboard", write=False)
    assert (folder / "board.rustboard").read_bytes() == before


def test_a_board_of_format_1_is_looked_at_as_it_will_be_and_left_alone(tmp_path):
    folder = as_format_1(graded_board(tmp_path / "old"))
    before = {each: each.is_file() and each.read_bytes() for each in folder.glob("**/*")}
    seen = look_at_board(folder)
    assert {each: each.is_file() and each.read_bytes() for each in folder.glob("**/*")} == before
    with opened(folder) as store:
        assert store.read() == seen
