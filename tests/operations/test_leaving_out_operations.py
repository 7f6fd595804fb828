"""Coupons left out of the findings: with a reason only, kept, changed, taken back, their grades as they were."""

from __future__ import annotations

from datetime import datetime

import pytest

from rustboard.board.left_out import MOST_REASON
from rustboard.board.model import Coupon, Inspection
from rustboard.board.position import Position
from rustboard.operations.coupons import add_coupon, remove_coupon
from rustboard.operations.grading import GivenGrade, grade_coupon
from rustboard.operations.inspections import add_inspection
from rustboard.operations.leaving_out import leave_out, take_back_in
from rustboard.support.problems import InputError


@pytest.fixture
def session(session):
    """An open board with two coupons, the first of them graded once."""
    for number in range(2):
        session.do(add_coupon, Coupon(f"C{number + 1}", Position(0, number)))
    session.do(add_inspection, Inspection(datetime(2026, 3, 2, 9)))
    session.do(grade_coupon, GivenGrade(1, 1, 7))
    return session


def reasons(session):
    return {each.coupon: each.reason for each in session.record.left_out.values()}


def test_a_coupon_is_left_out_with_its_reason_and_keeps_its_grades(session):
    changes = session.do(leave_out, 1, "  fell off\non day 3 ")
    assert reasons(session) == {1: "fell off on day 3"}
    assert changes.summary.text() == "Leave C1 out of the findings: fell off on day 3"
    assert [each.grade for *_, each in session.record.current_gradings()] == [7]


def test_who_left_it_out_and_when_is_kept_and_stands_in_the_record_of_changes(session):
    session.do(leave_out, 1, "fell off")
    (found,) = session.record.left_out.values()
    assert (found.who, found.recorded) == (session.who, session.audit()[0][0])
    assert session.audit()[0][2:] == ("leave_out", session.undo_summary())


def test_another_reason_replaces_the_first_and_undo_brings_that_back(session):
    session.do(leave_out, 1, "fell off")
    changes = session.do(leave_out, 1, "scratched on day 3")
    assert changes.summary.text() == "Change why C1 is left out of the findings: scratched on day 3"
    assert reasons(session) == {1: "scratched on day 3"}
    session.undo()
    assert reasons(session) == {1: "fell off"}
    session.undo()
    assert reasons(session) == {}
    session.redo()
    assert reasons(session) == {1: "fell off"}


def test_the_same_reason_again_changes_nothing(session):
    session.do(leave_out, 1, "fell off")
    assert session.do(leave_out, 1, " fell off ").tables == {}


def test_a_coupon_taken_back_counts_again_and_undo_leaves_it_out_again(session):
    session.do(leave_out, 1, "fell off")
    session.do(leave_out, 2, "hung upside down")
    assert session.do(take_back_in, 1).summary.text() == "Take C1 back into the findings"
    assert reasons(session) == {2: "hung upside down"}
    session.undo()
    assert reasons(session) == {1: "fell off", 2: "hung upside down"}


def test_a_reason_as_long_as_may_be_is_kept_whole(session):
    session.do(leave_out, 1, "é" * MOST_REASON)
    assert reasons(session) == {1: "é" * MOST_REASON}


@pytest.mark.parametrize(("operation", "arguments", "sentence"), [
    (leave_out, (1, ""), "Give a reason why this coupon is left out; the report prints it."),
    (leave_out, (1, " \n\t "), "Give a reason why this coupon is left out; the report prints it."),
    (leave_out, (1, "x" * (MOST_REASON + 1)), "A reason has at most 500 characters; make it shorter."),
    (leave_out, (1, "x" * 100_000), "A reason has at most 500 characters; make it shorter."),
    (leave_out, (99, "fell off"), "This coupon is no longer on the board; it may have been taken away by undo."),
    (take_back_in, (99,), "This coupon is no longer on the board; it may have been taken away by undo."),
    (take_back_in, (1,), "This coupon is not left out of the findings, so there is nothing to take back."),
])  # fmt: skip
def test_what_cannot_be_is_refused_with_a_sentence(session, operation, arguments, sentence):
    with pytest.raises(InputError) as caught:
        session.do(operation, *arguments)
    assert str(caught.value) == sentence
    assert reasons(session) == {}


def test_a_coupon_that_was_never_graded_goes_with_its_reason_and_both_come_back(session):
    session.do(leave_out, 2, "never hung")
    session.do(remove_coupon, 2)
    assert reasons(session) == {}
    session.undo()
    assert reasons(session) == {2: "never hung"}
    assert session.record.coupons[2].id == "C2"
