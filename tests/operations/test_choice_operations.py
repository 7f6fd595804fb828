"""Choosing which of two coupons is more rusted: recorded, bounded, taken back."""

from __future__ import annotations

from datetime import datetime

import pytest

from rustboard.board.model import Coupon, Inspection
from rustboard.board.position import Position
from rustboard.operations import side_by_side
from rustboard.operations.coupons import add_coupon
from rustboard.operations.inspections import add_inspection
from rustboard.operations.side_by_side import GivenChoice, choose, withdraw_choice


@pytest.fixture(autouse=True)
def _two_coupons_and_an_inspection(session):
    for number in range(2):
        session.do(add_coupon, Coupon(f"C{number + 1}", Position(0, number)))
    session.do(add_inspection, Inspection(datetime(2026, 3, 2, 9)))


def test_a_choice_is_kept_with_its_sides_and_who_made_it(session):
    session.do(choose, GivenChoice(1, " Ann\n", 2, 1, "left"))
    (kept,) = session.record.pair_choices.values()
    assert (kept.inspection, kept.grader, kept.left, kept.right, kept.rustier) == (1, "Ann", 2, 1, "left")
    assert kept.recorded == "2026-03-02T09:00:00"
    assert session.undo_summary().text() == "Side by side: choose left"


def test_the_same_pair_may_be_asked_again_and_both_choices_count(session):
    session.do(choose, GivenChoice(1, "Ann", 1, 2, "left"))
    session.do(choose, GivenChoice(1, "Ann", 2, 1, "neither"))
    assert [each.rustier for each in session.record.pair_choices.values()] == ["left", "neither"]


def test_a_choice_taken_back_counts_no_more_and_comes_back_by_undo(session, refused):
    session.do(choose, GivenChoice(1, "Ann", 1, 2, "right"))
    session.do(withdraw_choice, 1)
    assert session.record.pair_choices == {}
    assert refused(withdraw_choice, 1) == "This choice is no longer there, so it cannot be taken back."
    session.undo()
    assert set(session.record.pair_choices) == {1}


@pytest.mark.parametrize(("given", "sentence"), [
    (GivenChoice(1, "Ann", 1, 1, "left"),
     "Choose the left or the right one of two coupons, or say that you cannot tell."),
    (GivenChoice(1, "Ann", 1, 2, "up"),
     "Choose the left or the right one of two coupons, or say that you cannot tell."),
    (GivenChoice(1, "Ann", 1, 9, "left"),
     "This coupon is no longer on the board; it may have been taken away by undo."),
    (GivenChoice(9, "Ann", 1, 2, "left"),
     "This inspection is no longer on the board; it may have been taken away by undo."),
])  # fmt: skip
def test_a_choice_that_cannot_be_is_refused(refused, given, sentence):
    assert refused(choose, given) == sentence


def test_a_board_holds_a_bounded_number_of_choices(session, refused, monkeypatch):
    monkeypatch.setattr(side_by_side, "MOST_PAIR_CHOICES", 1)
    session.do(choose, GivenChoice(1, "Ann", 1, 2, "left"))
    session.do(withdraw_choice, 1)
    assert refused(choose, GivenChoice(1, "Ann", 1, 2, "left")) == "A board holds at most 1 choices side by side."
