"""Values planted past the program in the tables of a plan: a sentence, or safe to show; never an accident."""

from __future__ import annotations

import pytest
from store_boards import NOW, damaged, do, graded_board, opened, plant, raw, refusal_of_reading

from rustboard.board.inspection_days import InspectionDays
from rustboard.board.layout import Layout, Lot
from rustboard.board.position import Position
from rustboard.board.question import Question
from rustboard.board.recipe import Recipe, RecipeStep, TreatmentRecipe
from rustboard.store.check import check_board
from rustboard.store.plan_tables import CALENDARS, LAYOUTS, LOTS, QUESTIONS, RECIPES
from rustboard.support.summary import Summary


@pytest.fixture
def planned(tmp_path):
    """A graded board with one row in every table of a plan."""
    folder = graded_board(tmp_path / "planned")
    with opened(folder) as store:
        do(store, put_plan_rows)
    return folder


def put_plan_rows(tx):
    steps = (RecipeStep("degrease", "alkaline cleaner", quantity=5.0, minutes=10.0), RecipeStep("coat", "wax"))
    tx.put(RECIPES, TreatmentRecipe(1, Recipe(steps, "R1", 2)))
    tx.put(QUESTIONS, Question("chosen", (("T1", "T2"),), words="Which lasts?", written=NOW))
    drawn_for = {"drawn_rows": 3, "drawn_columns": 60, "drawn_in_columns": True}
    tx.put(LAYOUTS, Layout(seed=7, drawn_at=NOW, coupon_width_mm=60.0, **drawn_for))
    tx.put(LOTS, Lot(1, Position(0, 1)))
    tx.put(CALENDARS, InspectionDays((0, 1, 2, 4), uid="ab" * 12))
    return Summary("Plan the board")


STEP = '["coat","wax","",null,"ml","coupon",null,null,"ml",null,1,null,"",""]'


def test_the_rows_of_a_plan_are_read_as_they_were_put(planned):
    with opened(planned) as store:
        record = store.read()
    assert [step.product for step in record.recipe_of(1).steps] == ["alkaline cleaner", "wax"]
    assert (record.question.pairs, record.layout.seed, record.calendar.days) == ((("T1", "T2"),), 7, (0, 1, 2, 4))
    assert record.calendar.uid == "ab" * 12
    layout = record.layout
    assert (layout.drawn_rows, layout.drawn_columns, layout.drawn_in_columns) == (3, 60, True)
    assert {each.coupon: each.position for each in record.lots.values()}[1] == Position(0, 1)
    assert check_board(planned).problems == []
    assert check_board(planned).counts["recipe"] == check_board(planned).counts["lot"] == 1


@pytest.mark.parametrize(("table", "change"), [
    ("recipe", "steps = 'no JSON'"),
    ("recipe", "steps = ''"),
    ("recipe", "steps = '{}'"),
    ("recipe", "steps = 'null'"),
    ("recipe", "steps = '[[]]'"),
    ("recipe", "steps = '[7]'"),
    ("recipe", "steps = '[\"coat\"]'"),
    ("recipe", "steps = '[null]'"),
    ("recipe", "steps = '" + "[" * 100_000 + "'"),
    ("recipe", "steps = '[" + ",".join([STEP] * 61) + "]'"),
    ("recipe", f"steps = '[{STEP.replace('coat', 'chant', 1)}]'"),
    ("recipe", f"steps = '[{STEP.replace('null', '-1', 1)}]'"),
    ("recipe", f"steps = '[{STEP.replace('null', '1e999', 1)}]'"),
    ("recipe", f"steps = '[{STEP.replace('null', 'NaN', 1)}]'"),
    ("recipe", f"steps = '[{STEP.replace('null', '1' + '0' * 400, 1)}]'"),
    ("recipe", f"steps = '[{STEP.replace('null', '1' + '0' * 5000, 1)}]'"),
    ("recipe", f"steps = '[{STEP.replace('null', '[5]', 1)}]'"),
    ("recipe", f"steps = '[{STEP.replace(chr(34) + 'ml' + chr(34), '3', 1)}]'"),
    ("recipe", f"steps = '[{STEP.replace('1,null', '2,null')}]'"),
    ("recipe", f"steps = '[{STEP.replace(chr(34) + 'wax' + chr(34), '{}')}]'"),
    ("recipe", "version = -1"),
    ("recipe", "version = 9223372036854775807"),
    ("recipe", "treatment = -1"),
    ("question", "compared = 'everything'"),
    ("question", "pairs = '{}'"),
    ("question", "pairs = '[[\"T1\"]]'"),
    ("question", "pairs = '[[\"T1\", \"\"]]'"),
    ("question", "pairs = '[[1, 2]]'"),
    ("question", "pairs = '[\"T1\"]'"),
    ("question", "pairs = '[" + ",".join(['["T1","T2"]'] * 201) + "]'"),
    ("question", "failing_grade = 10"),
    ("question", "measure = 'colour'"),
    ("question", "worthwhile = 0"),
    ("question", "worthwhile = 9e999"),
    ("question", "assumed_sd = 0"),
    ("question", "assumed_sd = 6"),
    ("question", "written = 'yesterday'"),
    ("question", "written = '0001-01-01T00:00:00'"),
    ("question", "late = 2"),
    ("layout", "method = 'dice'"),
    ("layout", "drain = 'gutter'"),
    ("layout", "free_rows = 0"),
    ("layout", "free_rows = 9223372036854775807"),
    ("layout", "fair_edges = -1"),
    ("layout", "seed = -1"),
    ("layout", "seed = 4294967296"),
    ("layout", "drawn_at = ''"),
    ("layout", "coupon_width_mm = -1"),
    ("layout", "coupon_height_mm = 9e999"),
    ("layout", "hole_below_top_mm = -9e999"),
    ("layout", "drawn_rows = -1"),
    ("layout", "drawn_rows = 61"),
    ("layout", "drawn_columns = 9223372036854775807"),
    ("layout", "drawn_in_columns = 2"),
    ("lot", "row_number = 60"),
    ("lot", "row_number = -1"),
    ("lot", "column_number = 9223372036854775807"),
    ("lot", "coupon = 0"),
    ("calendar", "days = '[1, 0]'"),
    ("calendar", "days = '[0, 0]'"),
    ("calendar", "days = '[-1]'"),
    ("calendar", "days = '[1.5]'"),
    ("calendar", "days = '[\"1\"]'"),
    ("calendar", "days = '[40000]'"),
    ("calendar", "days = '{\"0\": 1}'"),
    ("calendar", "days = '[" + ",".join(map(str, range(401))) + "]'"),
    ("calendar", "hour = 'noon'"),
    ("calendar", "hour = ''"),
    ("calendar", "hour = '25:00'"),
    ("calendar", "remind = 7"),
    ("calendar", "uid = 'x'"),
    ("calendar", "uid = char(10) || uid"),
    ("calendar", "uid = uid || uid"),
])  # fmt: skip
def test_a_value_of_a_plan_that_no_version_writes_refuses_the_board(planned, table, change):
    plant(planned, f"UPDATE {table} SET {change} WHERE key = 1")
    assert refusal_of_reading(planned) == damaged(table)


@pytest.mark.parametrize(("change", "table", "parent"), [
    ("recipe SET treatment = 99", "recipe", "treatment"), ("lot SET coupon = 99", "lot", "coupon"),
])  # fmt: skip
def test_a_row_of_a_plan_that_points_nowhere_refuses_the_board_and_the_check_names_it(planned, change, table, parent):
    plant(planned, f"UPDATE {change} WHERE key = 1")
    assert refusal_of_reading(planned).startswith("Some rows point at")
    assert f"Row 1 of {table} points at a row of {parent} that is not there." in check_board(planned).problems


@pytest.mark.parametrize("table", ["layout", "calendar"])
def test_a_second_row_where_there_is_one_at_most_refuses_the_board(planned, table):
    with raw(planned) as connection:
        columns = ", ".join(row[1] for row in connection.execute(f"PRAGMA table_info({table})") if row[1] != "key")
    plant(planned, f"INSERT INTO {table} SELECT 2, {columns} FROM {table}")
    assert refusal_of_reading(planned) == (
        f"The table {table} has more rows than any board (at most 1); the file was altered."
    )


@pytest.mark.parametrize("table", ["layout", "calendar"])
def test_the_one_row_of_a_plan_under_another_key_refuses_the_board(planned, table):
    plant(planned, f"UPDATE {table} SET key = 5")
    assert refusal_of_reading(planned) == damaged(table, key=5)


COPIES = "WITH n(i) AS (SELECT 2 UNION ALL SELECT i + 1 FROM n WHERE i < {0}) "
QUESTION_COLUMNS = "compared, pairs, failing_grade, measure, worthwhile, assumed_sd, words, written, late"


def test_questions_by_the_thousand_are_read_and_the_newest_counts(planned):
    plant(
        planned,
        COPIES.format(3000) + f"INSERT INTO question SELECT i, {QUESTION_COLUMNS} FROM question, n",
        "UPDATE question SET words = 'the newest' WHERE key = 3000",
    )
    with opened(planned) as store:
        record = store.read()
    assert len(record.questions) == 3000
    assert record.question.words == "the newest"


def test_more_questions_than_anybody_asks_refuse_the_board(planned):
    plant(planned, COPIES.format(10_001) + f"INSERT INTO question SELECT i, {QUESTION_COLUMNS} FROM question, n")
    assert refusal_of_reading(planned) == (
        "The table question has more rows than any board (at most 10000); the file was altered."
    )


def test_texts_of_a_plan_are_made_safe_to_show(planned):
    plant(
        planned,
        "UPDATE recipe SET steps = replace(steps, 'wax', 'w\\u001b[31max'), library_id = 'R' || char(7)",
        "UPDATE question SET words = 'a' || char(27) || char(10) || 'b'",
    )
    with opened(planned) as store:
        record = store.read()
    assert record.recipe_of(1).steps[1].product == "w\ufffd[31max"
    assert record.recipe_of(1).library_id == "R\ufffd"
    assert record.question.words == "a\ufffd\nb"
    assert check_board(planned).problems == []
