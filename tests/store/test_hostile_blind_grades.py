"""Values planted past the program in the tables of blind grading: a sentence, or safe to show; never an accident."""

from __future__ import annotations

import json
from contextlib import closing

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

from rustboard.board.blind import MOST_SHOWINGS, BlindGrade, BlindInspection, BlindRound, Showing
from rustboard.board.damage import Damage
from rustboard.board.pair_choice import PairChoice
from rustboard.operations.blind import finish_round, reveal
from rustboard.session.session import Session
from rustboard.store.blind_tables import BLIND_GRADES, BLIND_INSPECTIONS, BLIND_ROUNDS, DAMAGES, PAIR_CHOICES
from rustboard.store.check import check_board
from rustboard.support.problems import InputError
from rustboard.support.summary import Summary

RECORDED = NOW.isoformat()
SHOWN = (Showing(1), Showing(2, "mirrored"), Showing(3, "half turn"), Showing(1, "mirrored half turn", again=True))
NOWHERE = "Some rows point at coupons or inspections that are not there; restore a copy from the backups folder."


@pytest.fixture
def folder(tmp_path):
    """A graded board with one row in every table of blind grading; its second inspection is hidden."""
    folder = graded_board(tmp_path / "b")
    with opened(folder) as store:
        do(store, put_blind_rows)
    return folder


def put_blind_rows(tx):
    tx.put(BLIND_INSPECTIONS, BlindInspection(2, "photo", 1, 25.0, NOW))
    tx.put(BLIND_ROUNDS, BlindRound(1, "Ann", 7, SHOWN, NOW))
    tx.put(BLIND_GRADES, BlindGrade(0, 1, 0, 1, 7, "S", 0.2, "note", RECORDED))
    tx.put(PAIR_CHOICES, PairChoice(0, 1, "Ann", 1, 2, "left", RECORDED))
    tx.put(DAMAGES, Damage(0, 1, 1, "creep", None, "", 1.0, (2.5, 3.0), "Ann", "", RECORDED))
    return Summary("Grade blind")


def test_the_rows_are_read_as_they_were_put(folder):
    with opened(folder) as store:
        record = store.read()
    assert record.hidden_inspection == BlindInspection(2, "photo", 1, 25.0, NOW, None, 1)
    assert record.blind_rounds == {1: BlindRound(1, "Ann", 7, SHOWN, NOW, None, 1)}
    assert record.blind_grades == {1: {0: BlindGrade(1, 1, 0, 1, 7, "S", 0.2, "note", RECORDED)}}
    assert record.pair_choices == {1: PairChoice(1, 1, "Ann", 1, 2, "left", RECORDED)}
    assert record.damages == {1: Damage(1, 1, 1, "creep", None, "", 1.0, (2.5, 3.0), "Ann", "", RECORDED)}
    assert check_board(folder).problems == []


@pytest.mark.parametrize(("table", "change"), [
    ("blind_inspection", "basis = 'sofa'"),
    ("blind_inspection", "repeat_percent = 100.5"),
    ("blind_inspection", "repeat_percent = -9e999"),
    ("blind_inspection", "started = 'teatime'"),
    ("blind_inspection", "revealed = ''"),
    ("blind_inspection", "revealed = '9999-12-31T23:59:59'"),
    ("blind_inspection", "inspection = 0"),
    ("blind_inspection", "photo = -1"),
    ("blind_round", "grader = ''"),
    ("blind_round", "seed = -1"),
    ("blind_round", "seed = 9223372036854775807"),
    ("blind_round", "finished = 'soon'"),
    ("blind_round", "showings = ''"),
    ("blind_round", "showings = 'no JSON'"),
    ("blind_round", "showings = '{}'"),
    ("blind_round", "showings = 'null'"),
    ("blind_round", "showings = '7'"),
    ("blind_round", "showings = '[7]'"),
    ("blind_round", "showings = '[[]]'"),
    ("blind_round", "showings = '[[1, 0]]'"),
    ("blind_round", "showings = '[[1, 0, 0, 0]]'"),
    ("blind_round", "showings = '[{\"coupon\": 1}]'"),
    ("blind_round", "showings = '[[1, 4, 0]]'"),
    ("blind_round", "showings = '[[1, -1, 0]]'"),
    ("blind_round", "showings = '[[1, 0, 2]]'"),
    ("blind_round", "showings = '[[1.5, 0, 0]]'"),
    ("blind_round", "showings = '[[\"1\", 0, 0]]'"),
    ("blind_round", "showings = '[[null, 0, 0]]'"),
    ("blind_round", "showings = '[[0, 0, 0]]'"),
    ("blind_round", "showings = '[[1, NaN, 0]]'"),
    ("blind_round", "showings = '[[1" + "0" * 5000 + ", 0, 0]]'"),
    ("blind_round", "showings = '" + "[" * 100_000 + "'"),
    ("blind_round", f"showings = '{json.dumps([[1, 0, 0]] * (MOST_SHOWINGS + 1))}'"),
    ("blind_grade", "grade = 11"),
    ("blind_grade", "number = -1"),
    ("blind_grade", f"number = {MOST_SHOWINGS}"),
    ("blind_grade", "distribution = 'Q'"),
    ("blind_grade", "percent = 100.5"),
    ("blind_grade", "percent = 9e999"),
    ("blind_grade", "coupon = -1"),
    ("blind_grade", "replaces = 0"),
    ("pair_choice", "rustier = 'up'"),
    ("pair_choice", "left_coupon = 0"),
    ("pair_choice", "right_coupon = -7"),
    ("damage", "kind = 'sofa'"),
    ("damage", "severity = 'z'"),
    ("damage", "percent = -1"),
    ("damage", "scribe_mm = 1001"),
    ("damage", "widths_mm = '[1e999]'"),
    ("damage", "widths_mm = '[NaN]'"),
    ("damage", "widths_mm = '[-1]'"),
    ("damage", "widths_mm = '[[1]]'"),
    ("damage", "widths_mm = '" + json.dumps([1.0] * 101) + "'"),
    ("damage", "widths_mm = '" + "[" * 100_000 + "'"),
])  # fmt: skip
def test_a_value_that_no_version_writes_refuses_the_board(folder, table, change):
    plant(folder, f"UPDATE {table} SET {change} WHERE key = 1")
    assert refusal_of_reading(folder) == damaged(table)


@pytest.mark.parametrize("change", [
    "blind_inspection SET inspection = 99",
    "blind_inspection SET photo = 99",
    "blind_round SET blind = 99",
    "blind_round SET showings = '[[1, 0, 0], [99, 0, 0]]'",
    "blind_round SET showings = '[]'",
    "blind_grade SET round = 99",
    "blind_grade SET number = 4",
    "blind_grade SET coupon = 2",
    "blind_grade SET number = 1",
    "pair_choice SET inspection = 99",
    "pair_choice SET left_coupon = 99",
    "pair_choice SET right_coupon = 99",
    "damage SET inspection = 99",
    "damage SET coupon = 99",
])  # fmt: skip
def test_a_row_that_points_nowhere_or_at_what_was_not_shown_refuses_the_board(folder, change):
    plant(folder, f"UPDATE {change} WHERE key = 1")
    assert refusal_of_reading(folder) == NOWHERE


def test_two_hidden_inspections_refuse_the_board(folder):
    plant(folder, "INSERT INTO blind_inspection VALUES (2, 1, 'bench', NULL, 0, '2026-03-02T09:00:00', NULL)")
    assert refusal_of_reading(folder) == NOWHERE


def test_a_history_that_points_nowhere_is_named_by_the_check(folder):
    plant(folder, "UPDATE blind_grade SET replaces = 99", "UPDATE damage SET replaces = 98")
    assert sorted(check_board(folder).problems) == [
        "Row 1 of blind_grade points at a row of blind_grade that is not there.",
        "Row 1 of damage points at a row of damage that is not there.",
    ]


def test_more_rounds_than_any_board_has_refuse_the_board(folder):
    plant(folder, "INSERT INTO blind_round (blind, grader, seed, showings, started) WITH n(i) AS (SELECT 1 UNION ALL "
          "SELECT i + 1 FROM n WHERE i < 200001) SELECT 1, 'G', 1, '[]', '2026-03-02T09:00:00' FROM n")  # fmt: skip
    assert refusal_of_reading(folder) == (
        "The table blind_round has more rows than any board (at most 200000); the file was altered."
    )


def test_a_round_of_many_megabytes_refuses_the_board(folder):
    plant(folder, "UPDATE blind_round SET showings = '[' || printf('%.*c', 9000000, ' ') || ']' WHERE key = 1")
    assert refusal_of_reading(folder) == (
        "A text in the board is longer than this program ever writes; the file was altered."
    )


def test_texts_are_made_safe_to_show(folder):
    plant(
        folder,
        "UPDATE blind_round SET grader = 'A' || char(10, 27) || 'nn'",
        "UPDATE blind_grade SET note = 'a' || char(1, 10) || 'b', recorded = char(0x202e)",
        "UPDATE pair_choice SET grader = printf('%.*c', 5000, 'n')",
        "UPDATE damage SET note = printf('%.*c', 1000000, 'x') || char(7), grader = char(7)",
    )
    with closing(Session(folder)) as session:
        record = session.record
        assert record.blind_rounds[1].grader == "A \ufffdnn"
        assert (record.blind_grades[1][0].note, record.blind_grades[1][0].recorded) == ("a\ufffd\nb", "\ufffd")
        assert len(record.pair_choices[1].grader) == 1_000
        assert (len(record.damages[1].note), record.damages[1].grader) == (20_000, "\ufffd")
    assert check_board(folder).problems == []


@pytest.mark.parametrize("showings", ["[[1, 0, 0], [1, 0, 0], [1, 0, 0]]", "[[1, 3, 1], [1, 3, 1], [2, 0, 1]]"])
def test_showings_in_no_order_that_was_ever_drawn_can_still_be_revealed(folder, showings):
    plant(folder, f"UPDATE blind_round SET showings = '{showings}'")
    with closing(Session(folder)) as session:
        with pytest.raises(InputError, match="2 of the 3 showings have no grade yet"):
            session.do(finish_round, 1)
        session.do(reveal, 1)
        assert session.record.current[1][2].grade == 7


def test_a_planted_step_does_not_write_a_damaged_round(folder):
    def stamp(tx):
        (one,) = tx.find(BLIND_ROUNDS)
        tx.put(BLIND_ROUNDS, BlindRound(1, "Bo", 7, one.showings, NOW, NOW, 1))
        return Summary("Change a round")

    with opened(folder) as store:
        do(store, stamp)
    with raw(folder) as connection:
        connection.execute(
            "UPDATE journal_row SET before = replace(before, '\"Ann\"', '\"\"') "
            "WHERE entry = (SELECT max(entry) FROM journal_row)"
        )
    before = tables_of(folder)
    with closing(Session(folder)) as session, pytest.raises(InputError) as caught:
        session.undo()
    assert caught.value.problem.what == damaged("blind_round")
    assert tables_of(folder) == before
    told = "Steps whose record is damaged, so that they cannot be taken back: 1."
    assert problems_told(folder) == [told]
