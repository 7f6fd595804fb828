"""The next board with one thing changed, made from an old one on the disk."""

from __future__ import annotations

from contextlib import closing

import pytest
from boards_together import FIRST, later, three_boards

from rustboard.board.next_board import NextChoice, changed_words, changes
from rustboard.board.record import forerunner_of
from rustboard.operations.blind import BlindChoice, start_blind
from rustboard.session.looking import look_at_board
from rustboard.session.next_board import make_next, old_board, suggested
from rustboard.session.session import Session
from rustboard.support.problems import InputError


@pytest.fixture
def yard(tmp_path):
    return three_boards(tmp_path / "boards")[1]


def made(yard, tmp_path, choice, **more):
    folder = tmp_path / "boards" / "next"
    make_next(yard, choice, folder, "Next", seed=7, clock=later, **more)
    return look_at_board(folder)


def names(record):
    return sorted(
        "control" if each.role == "control" else record.treatment_of(each).title for each in record.coupons.values()
    )


def test_the_best_and_the_one_next_to_it_are_suggested(yard):
    record = old_board(yard)
    found = suggested(record)
    assert [record.treatments[each].title for each in (found.best, found.rival)] == ["hot wax", "varnish"]


def test_what_is_kept_is_hung_by_new_lots_and_the_rest_is_left(yard, tmp_path):
    choice = NextChoice((1, 2), values=(("site", "roof"),))
    record = made(yard, tmp_path, choice)
    assert names(record) == ["control"] * 3 + ["hot wax"] * 3 + ["varnish"] * 3
    assert {each.title for each in record.treatments.values()} == {"hot wax", "varnish", "bare"}
    assert record.board.site == "roof"
    assert record.board.started is None
    assert len(record.lots) == 9
    assert record.layout.seed == 7
    assert record.layout.method == "rows"
    assert not record.inspections


def test_the_board_keeps_what_it_repeats_and_what_was_changed(yard, tmp_path):
    record = made(yard, tmp_path, NextChoice((1, 2), values=(("protectant", "lanolin"),), target=1))
    found = forerunner_of(record)
    assert (found.name, found.started, found.folder) == ("Back yard", FIRST, "yard")
    assert found.kept == "hot wax, varnish, controls"
    assert found.changed == "protectant from beeswax blend to lanolin"
    changed = next(each for each in record.treatments.values() if each.protectant == "lanolin")
    assert changed.title == "hot wax, protectant: lanolin"


def test_making_it_is_one_step_that_can_be_taken_back(yard, tmp_path):
    make_next(yard, NextChoice((1,), values=(("site", "x"),)), tmp_path / "n", "N", seed=1, clock=later)
    with closing(Session(tmp_path / "n", clock=later)) as session:
        session.undo()
        assert not session.record.coupons
        assert forerunner_of(session.record) is None
        session.redo()
        assert forerunner_of(session.record).name == "Back yard"


@pytest.mark.parametrize("count", [1, 2, 5])
def test_so_many_coupons_of_each(yard, tmp_path, count):
    record = made(yard, tmp_path, NextChoice((1, 3), values=(("coupons each", count),)))
    assert names(record) == ["control"] * count + ["hot wax"] * count + ["oil"] * count
    assert len({each.position for each in record.coupons.values()}) == 3 * count
    assert len({each.id for each in record.coupons.values()}) == 3 * count
    assert all(record.board.has(each.position) for each in record.coupons.values())


def test_other_steel_without_controls(yard, tmp_path):
    record = made(yard, tmp_path, NextChoice((1,), controls=False, values=(("steel", "galvanised"),)))
    assert names(record) == ["hot wax"] * 3
    assert {each.substrate for each in record.coupons.values()} == {"galvanised"}


def test_what_is_typed_as_it_was_is_no_change_and_more_than_one_is_part_of_the_record(yard):
    record = old_board(yard)
    same = NextChoice((1,), values=(("site", " YARD"), ("protectant", "beeswax blend")))
    assert changes(record, same) == ()
    assert changed_words(()) == "nothing, the same again"
    two = NextChoice((1,), values=(("site", "roof"), ("incline", 30)))
    assert changed_words(changes(record, two)) == "2 things at once: site from yard to roof; incline from none to 30"


@pytest.mark.parametrize(
    ("choice", "sentence"),
    [
        (NextChoice(()), "Keep at least one treatment"),
        (NextChoice((1,), values=(("coupons each", 0),)), "1 to 200 coupons"),
        (NextChoice((1,), values=(("coupons each", 2.5),)), "1 to 200 coupons"),
        (NextChoice((1,), values=(("incline", 200),)), "0 to 180 degrees"),
        (NextChoice((1,), values=(("coats", 1.5),)), "whole number"),
        (NextChoice((1,), values=(("coats", 101),)), "whole number"),
    ],
)
def test_what_cannot_be_is_refused_and_leaves_nothing(yard, tmp_path, choice, sentence):
    with pytest.raises(InputError, match=sentence):
        make_next(yard, choice, tmp_path / "boards" / "next", "Next", clock=later)
    assert not (tmp_path / "boards" / "next").exists()


def test_a_board_being_graded_blind_is_not_repeated(yard, tmp_path):
    with closing(Session(yard, clock=later)) as session:
        session.do(start_blind, BlindChoice(1, "bench", None, 50.0))
    with pytest.raises(InputError, match="is being graded blind"):
        make_next(yard, NextChoice((1,)), tmp_path / "next", "Next", clock=later)
