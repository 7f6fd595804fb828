"""Values planted past the program in a file whose tables are ours: a sentence, or safe to show; never an accident."""

from __future__ import annotations

import json
import sqlite3
from contextlib import closing
from dataclasses import replace

import pytest
from store_boards import (
    NOW,
    damaged,
    do,
    graded_board,
    opened,
    plant,
    problems_told,
    raw,
    refusal_of_reading,
    tables_of,
)

from rustboard.board.model import Board
from rustboard.operations.boards import edit_board
from rustboard.session.session import Session
from rustboard.store.check import check_board
from rustboard.support.problems import InputError


@pytest.fixture
def folder(tmp_path):
    return graded_board(tmp_path / "b")


@pytest.mark.parametrize(("table", "change"), [
    ("inspection", "at = 'teatime'"),
    ("inspection", "at = ''"),
    ("inspection", "at = '0001-01-01T00:00:00'"),
    ("inspection", "at = '9999-12-31T23:59:59+23:59'"),
    ("board", "started = '2026-02-30'"),
    ("board", "markers = '{'"),
    ("board", "markers = '[[0, 1, 2]]'"),
    ("board", "markers = '[[0, 1e999, 2, 3]]'"),
    ("board", "markers = '[[1e999, 1, 2, 30]]'"),
    ("board", "markers = '[7]'"),
    ("board", "markers = '" + "[" * 100_000 + "'"),
    ("board", "markers = '[[0, 1" + "0" * 5000 + ", 2, 30]]'"),
    ("board", "width_mm = 9e999"),
    ("board", "height_mm = -5"),
    ("board", "row_count = 4000000000"),
    ("board", "column_count = 0"),
    ("board", "facing_deg = 361"),
    ("treatment", "coats = 9223372036854775807"),
    ("treatment", "cost_per_m2 = -9e999"),
    ("treatment", "id = ''"),
    ("coupon", "outline_mm = 'no JSON'"),
    ("coupon", "outline_mm = '[[0, 0], [NaN, 1], [2, 2]]'"),
    ("coupon", "outline_mm = '[[0, 0], [\"a\", 1], [2, 2]]'"),
    ("coupon", "outline_mm = '[[0, 0, 0], [1, 1, 1]]'"),
    ("coupon", "outline_mm = '{\"x\": 1}'"),
    ("coupon", "row_number = -1, column_number = 0"),
    ("coupon", "row_number = 60, column_number = 0"),
    ("coupon", "row_number = 9223372036854775807, column_number = 9223372036854775807"),
    ("coupon", "row_number = 2, column_number = NULL"),
    ("coupon", "role = 'spy'"),
    ("coupon", "treatment = -7"),
    ("grading", "grade = 11"),
    ("grading", "grade = -9223372036854775808"),
    ("grading", "percent = 100.5"),
    ("grading", "percent = -9e999"),
    ("grading", "distribution = 'Q'"),
    ("grading", "source = 'guess'"),
    ("grading", "coupon = -1"),
    ("photo", "width_px = 0"),
    ("photo", "height_px = 4611686018427387904"),
    ("photo", "mm_to_px = '[1, 2, 3]'"),
    ("photo", "mm_to_px = '[1, 2, 3, 4, 5, 6, 7, 8, Infinity]'"),
    ("photo", "taken = 'yesterday'"),
    ("axis_label", "number = 9223372036854775807"),
    ("axis_label", "axis = 'diagonal'"),
])  # fmt: skip
def test_a_value_that_no_version_writes_refuses_the_board(folder, table, change):
    plant(folder, f"UPDATE {table} SET {change} WHERE key = 1")
    assert refusal_of_reading(folder) == damaged(table)


def test_a_board_without_its_row_is_refused(folder):
    plant(folder, "DELETE FROM board")
    assert refusal_of_reading(folder) == "The file holds no board; restore a copy from the backups folder."


def test_a_coupon_outside_the_grid_refuses_the_board_and_is_named(folder):
    plant(folder, "UPDATE coupon SET row_number = 25, column_number = 6 WHERE key = 2")
    assert refusal_of_reading(folder) == (
        "Coupon C02 is at Z7, which the board does not have; the file was altered. "
        "Restore a copy from the backups folder."
    )


@pytest.mark.parametrize(
    "change", ["coupon SET treatment = 99", "grading SET coupon = 99", "grading SET inspection = 99"]
)
def test_a_row_that_points_nowhere_refuses_the_board(folder, change):
    plant(folder, f"UPDATE {change} WHERE key = 1")
    assert refusal_of_reading(folder) == (
        "Some rows point at coupons or inspections that are not there; restore a copy from the backups folder."
    )


def test_the_check_names_each_row_that_points_nowhere(folder):
    plant(folder, "UPDATE grading SET replaces = 99 WHERE key = 2", "UPDATE photo SET inspection = 98")
    assert sorted(check_board(folder).problems, reverse=True) == [
        "Row 2 of grading points at a row of grading that is not there.",
        "Row 1 of photo points at a row of inspection that is not there.",
    ]
    with closing(Session(folder)) as session:
        assert session.record.newest_photo() is None


def test_a_text_of_many_megabytes_refuses_the_board(folder):
    plant(folder, "UPDATE coupon SET note = printf('%.*c', 9000000, 'x') WHERE key = 1")
    assert refusal_of_reading(folder) == (
        "A text in the board is longer than this program ever writes; the file was altered."
    )


def test_a_long_text_is_cut_and_control_characters_are_replaced(folder):
    plant(
        folder,
        "UPDATE coupon SET id = 'C' || char(27) || '[31m' || char(0x202e) WHERE key = 1",
        "UPDATE coupon SET note = printf('%.*c', 1000000, 'x') || char(7) WHERE key = 1",
        "UPDATE grading SET grader = 'A' || char(10) || 'nn', note = 'a' || char(1, 10) || 'b' WHERE key = 1",
        "UPDATE board SET name = printf('%.*c', 5000, 'n')",
    )
    with closing(Session(folder)) as session:
        coupon, grading = session.record.coupons[1], session.record.current[1][1]
        assert coupon.id == "C\ufffd[31m\ufffd"
        assert len(coupon.note) == 20_000
        assert (grading.grader, grading.note) == ("A nn", "a\ufffd\nb")
        assert len(session.record.board.name) == 1_000
    assert check_board(folder).problems == []


def test_a_text_that_is_not_unicode_refuses_the_board(folder):
    plant(folder, "UPDATE coupon SET note = CAST(x'fffe41' AS TEXT) WHERE key = 1")
    assert refusal_of_reading(folder).startswith("The board file is damaged or cut short")


def test_more_coupons_than_any_board_has_refuse_the_board(folder):
    plant(folder, "INSERT INTO coupon (id, role, substrate, outline_mm, note) WITH n(i) AS (SELECT 1 UNION ALL "
          "SELECT i + 1 FROM n WHERE i < 1200) SELECT 'X' || i, 'test', '', '[]', '' FROM n")  # fmt: skip
    assert refusal_of_reading(folder) == (
        "The table coupon has more rows than any board (at most 1000); the file was altered."
    )


@pytest.mark.parametrize("file", ["../../secret.jpg", "a/../b.jpg", "/etc/passwd", "C:\\secret.jpg", "..", "",
                                  "NUL.jpg", "x" * 5000 + ".jpg", "\x01.jpg", "photo.jpg:stream"])  # fmt: skip
def test_a_photo_outside_the_photos_folder_is_never_looked_at(folder, tmp_path, file):
    (tmp_path / "secret.jpg").write_bytes(b"private")
    with raw(folder) as connection:
        connection.execute("UPDATE photo SET file = ?", (file,))
    with closing(Session(folder)) as session:
        assert session.photo_file(1) is None
    (problem,) = check_board(folder).problems
    assert problem.endswith("is recorded outside the photos folder.")


def test_a_letter_that_the_scale_lacks_is_named_by_the_check(folder):
    plant(folder, "UPDATE grading SET distribution = 'S', grade = 10 WHERE key = 1")
    assert check_board(folder).problems == [
        "Gradings of 10 or 0 with a distribution letter, which the scale lacks: 1."
    ]


JOURNAL_DAMAGE = "The record of this step is damaged, so it cannot be taken back or done again."
NOT_AS_LEFT = "The board is no longer as this step left it, so it cannot be taken back or done again."


@pytest.mark.parametrize(("change", "sentence"), [
    ("table_name = 'audit'", JOURNAL_DAMAGE),
    ("table_name = 'audit', before = NULL, after = NULL", JOURNAL_DAMAGE),
    ("table_name = 'sqlite_schema'", JOURNAL_DAMAGE),
    ("table_name = 'coupon; DROP TABLE audit'", JOURNAL_DAMAGE),
    ("table_name = 'coupon'", JOURNAL_DAMAGE),
    ("before = '[1]'", JOURNAL_DAMAGE),
    ("before = 'no JSON'", JOURNAL_DAMAGE),
    ("before = '" + "[" * 100_000 + "'", JOURNAL_DAMAGE),
    ("before = '{}'", JOURNAL_DAMAGE),
    ("before = NULL", JOURNAL_DAMAGE),
    ("row_key = 2", JOURNAL_DAMAGE),
    ("before = replace(before, '\"Harbour wall\"', '\"\\ud800\"')", JOURNAL_DAMAGE),
    ("before = replace(before, '\"Harbour wall\"', '99999999999999999999')", JOURNAL_DAMAGE),
    ("before = replace(before, '\"Harbour wall\"', '[\"list\"]')", JOURNAL_DAMAGE),
    ("before = replace(before, '\"Harbour wall\"', 'null')", damaged("board")),
    ("before = replace(before, '3, 7', '3000, 7')", damaged("board")),
    ("after = replace(after, '\"new name\"', '\"another\"')", NOT_AS_LEFT),
])  # fmt: skip
def test_a_planted_journal_is_refused_and_changes_nothing(folder, change, sentence):
    with opened(folder) as store:
        do(store, edit_board, Board("new name"))
    plant(folder, f"UPDATE journal_row SET {change} WHERE entry = (SELECT max(entry) FROM journal_row)")
    before = tables_of(folder)
    with closing(Session(folder)) as session:
        with pytest.raises(InputError) as caught:
            session.undo()
        assert caught.value.problem.what == sentence
        assert session.record.board.name == "new name"
    assert tables_of(folder) == before
    told = "Steps whose record is damaged, so that they cannot be taken back: 1."
    assert check_board(folder).problems == ([] if sentence == NOT_AS_LEFT else [told])


NO_TEXT = "CAST(X'ff80' AS TEXT)"


@pytest.mark.parametrize("parts", ["'no JSON'", "'{}'", "'7'", "'" + "[" * 100_000 + "'", NO_TEXT])
def test_a_damaged_step_is_none_and_the_board_is_of_use_without_it(folder, parts):
    plant(folder, f"UPDATE journal SET parts = {parts} WHERE key = (SELECT max(key) FROM journal)")
    with closing(Session(folder)) as session:
        assert (session.undo_summary(), session.undo(), session.can_go_back()) == (None, None, False)
        session.do(edit_board, replace(session.record.board, name="new name"))
        assert session.undo_summary().text() == "Edit the board: name"
        assert session.go_back_to_opening() == 1
        assert session.record.board.name == "Harbour wall"
        assert session.undo() is None
    assert check_board(folder).problems == ["Steps whose record is damaged, so that they cannot be taken back: 1."]


def test_a_step_damaged_while_the_board_is_open_ends_the_way_back(folder):
    with closing(Session(folder)) as session:
        session.do(edit_board, replace(session.record.board, name="new name"))
        plant(folder, "UPDATE journal SET parts = '{' WHERE key = (SELECT max(key) FROM journal)")
        assert not session.can_go_back()
        assert session.go_back_to_opening() == 0


@pytest.mark.parametrize("column", ["at", "who", "operation", "pattern", "parts"])
def test_a_damaged_line_of_the_audit_is_shown_as_such_among_the_others(folder, column):
    plant(folder, f"UPDATE audit SET {column} = {NO_TEXT} WHERE key = (SELECT max(key) FROM audit)")
    with closing(Session(folder)) as session:
        damaged_line, next_line, *_ = session.audit()
    assert next_line[3].text().startswith("Grade C")
    if column in {"pattern", "parts"}:
        assert damaged_line[3].text() == "This line of the record is damaged"
        assert check_board(folder).problems == ["Lines of the record of changes that are damaged: 1."]
    else:
        assert "\ufffd" in "".join(damaged_line[:3])
        assert check_board(folder).problems == []


def test_parts_of_a_summary_are_made_safe_to_show(folder):
    with raw(folder) as connection:
        connection.execute(
            "UPDATE journal SET pattern = 'a' || char(27) || '{0}', parts = ?", (json.dumps(["\x07", 5]),)
        )
    with closing(Session(folder)) as session:
        assert session.undo_summary().text() == "a\ufffd\ufffd"


def test_a_journal_with_rows_of_no_entry_does_no_harm(folder):
    plant(folder, "INSERT INTO journal_row VALUES (999, 0, 'coupon', 1, NULL, '[1]')")
    with closing(Session(folder)) as session:
        while session.undo() is not None:
            pass
        assert session.record.coupons == {}


def test_a_planted_time_is_not_written_back_by_undo(folder):
    with opened(folder) as store:
        do(store, edit_board, Board("new name", started=NOW))
    plant(folder, "UPDATE journal_row SET before = replace(before, 'null, \"\"', '\"noon\", \"\"') "
          "WHERE entry = (SELECT max(entry) FROM journal_row)")  # fmt: skip
    with closing(Session(folder)) as session, pytest.raises(InputError) as caught:
        session.undo()
    assert caught.value.problem.what == damaged("board")


def test_an_index_that_lies_is_called_damage_or_read_past(folder):
    with raw(folder) as connection:
        connection.execute("PRAGMA writable_schema = ON")
        connection.execute(
            "UPDATE sqlite_schema SET rootpage = (SELECT rootpage FROM sqlite_schema WHERE name = 'coupon') "
            "WHERE name = 'one_current_grade'"
        )
    assert problems_told(folder)
    with closing(sqlite3.connect(folder / "board.rustboard")) as connection:
        assert connection.execute("SELECT count(*) FROM coupon").fetchone() == (3,)
