"""Grades: given, corrected and withdrawn. Nothing is ever overwritten."""

import math
from dataclasses import replace
from datetime import datetime

import pytest

from rustboard.board.model import Coupon, Grading, Inspection
from rustboard.operations.coupons import add_coupon
from rustboard.operations.grading import GivenGrade, grade_coupon, withdraw_grade
from rustboard.operations.inspections import add_inspection


@pytest.fixture(autouse=True)
def _a_coupon_and_an_inspection(session):
    session.do(add_coupon, Coupon("C1"))
    session.do(add_inspection, Inspection(datetime(2026, 3, 2, 9)))


def chain(session):
    return [(each.key, each.grade, each.state, each.replaces) for each in session.gradings(1, 1)]


def test_a_grade_is_recorded_with_all_that_was_said(session):
    given = GivenGrade(1, 1, 7, "S", 0.2, " Ann ", "photo confirmed", "at the\nedge")
    changes = session.do(grade_coupon, given)
    expected = Grading(1, 1, 1, 7, "S", 0.2, "Ann", "photo confirmed", "at the\nedge", "2026-03-02T09:00:00")
    assert session.record.grading(1, 1) == expected
    assert session.gradings(1, 1) == [expected]
    assert (changes.summary.text(), changes.coupons) == ("Grade C1: 7-S", {1})


def test_a_correction_supersedes_the_grade_and_a_second_one_the_first(session):
    session.do(grade_coupon, GivenGrade(1, 1, 7, "S"))
    assert session.do(grade_coupon, GivenGrade(1, 1, 6, "G")).summary.text() == "Correct C1: 7-S to 6-G"
    session.do(grade_coupon, GivenGrade(1, 1, 10))
    assert chain(session) == [(1, 7, "superseded", None), (2, 6, "superseded", 1), (3, 10, "current", 2)]
    assert session.record.grading(1, 1).key == 3


def test_the_same_grade_again_is_no_step(session):
    given = GivenGrade(1, 1, 7, "S", 0.2, "Ann", note="n")
    session.do(grade_coupon, given)
    steps = len(session.audit())
    assert session.do(grade_coupon, given).tables == {}
    assert len(session.audit()) == steps
    assert len(session.gradings(1, 1)) == 1


@pytest.mark.parametrize("difference", [{"distribution": "G"}, {"percent": 0.3}, {"percent": None}, {"grader": "Ben"},
                                        {"source": "photo"}, {"note": "x"}, {"grade": 6}])  # fmt: skip
def test_a_difference_in_anything_that_was_said_is_a_correction(session, difference):
    given = GivenGrade(1, 1, 7, "S", 0.2, "Ann")
    session.do(grade_coupon, given)
    session.do(grade_coupon, replace(given, **difference))
    assert [state for _, _, state, _ in chain(session)] == ["superseded", "current"]


def test_a_withdrawn_grade_is_kept_and_the_coupon_is_ungraded(session, refused):
    session.do(grade_coupon, GivenGrade(1, 1, 7, "S"))
    assert session.do(withdraw_grade, 1, 1).summary.text() == "Withdraw the grade of C1: 7-S"
    assert session.record.grading(1, 1) is None
    assert session.record.current == {}
    assert chain(session) == [(1, 7, "withdrawn", None)]
    assert refused(withdraw_grade, 1, 1) == (
        "This coupon has no grade at this inspection, so there is nothing to withdraw."
    )
    session.do(grade_coupon, GivenGrade(1, 1, 5))
    assert chain(session) == [(1, 7, "withdrawn", None), (2, 5, "current", None)]


def test_corrections_and_withdrawal_are_undone_step_by_step(session):
    session.do(grade_coupon, GivenGrade(1, 1, 7))
    session.do(grade_coupon, GivenGrade(1, 1, 6))
    session.do(withdraw_grade, 1, 1)
    seen = []
    for _ in range(3):
        session.undo()
        grading = session.record.grading(1, 1)
        seen.append(grading and (grading.key, grading.grade))
    assert seen == [(2, 6), (1, 7), None]
    for _ in range(3):
        session.redo()
    assert chain(session) == [(1, 7, "superseded", None), (2, 6, "withdrawn", 1)]


LETTERS = "carries no distribution letter; letters go with grades 9 to 1."
SCALE = "is not a grade; grades are whole numbers from 0 to 10."


@pytest.mark.parametrize(("given", "sentence"), [
    (GivenGrade(1, 1, 11), f"column grade: 11 {SCALE}"),
    (GivenGrade(1, 1, -1), f"column grade: -1 {SCALE}"),
    (GivenGrade(1, 1, 7.5), f"column grade: 7.5 {SCALE}"),
    (GivenGrade(1, 1, True), f"column grade: True {SCALE}"),
    (GivenGrade(1, 1, 2**70), f"column grade: {2**70} {SCALE}"),
    (GivenGrade(1, 1, math.nan), f"column grade: nan {SCALE}"),
    (GivenGrade(1, 1, 7, "Q"),
     "column distribution: “Q” is not a distribution letter; use S, G, P or H, or leave it out."),
    (GivenGrade(1, 1, 10, "S"), f"column distribution: Grade 10 {LETTERS}"),
    (GivenGrade(1, 1, 0, "H"), f"column distribution: Grade 0 {LETTERS}"),
    (GivenGrade(1, 1, 7, "", 100.1), "column percent: Percent rusted is from 0 to 100."),
    (GivenGrade(1, 1, 7, "", math.nan), "column percent: Percent rusted is from 0 to 100."),
    (GivenGrade(1, 1, 7, "", math.inf), "column percent: Percent rusted is from 0 to 100."),
    (GivenGrade(1, 1, 7, source="guess"),
     "“guess” is not a source of grades; use eye, photo, photo confirmed, blind, agreed."),
    (GivenGrade(9, 1, 7), "This coupon is no longer on the board; it may have been taken away by undo."),
    (GivenGrade(1, 9, 7), "This inspection is no longer on the board; it may have been taken away by undo."),
])  # fmt: skip
def test_a_grade_that_the_scale_lacks_is_refused(session, refused, given, sentence):
    assert refused(grade_coupon, given) == sentence
    assert session.gradings(1, 1) == []


@pytest.mark.parametrize("letter", ["S", "G", "P", "H"])
@pytest.mark.parametrize("grade", range(1, 10))
def test_grades_9_to_1_carry_each_letter(session, grade, letter):
    session.do(grade_coupon, GivenGrade(1, 1, grade, letter))
    assert session.record.grading(1, 1)[3:5] == (grade, letter)


def test_a_whole_number_written_as_a_fraction_is_kept_as_a_whole_one(session):
    session.do(grade_coupon, GivenGrade(1, 1, 7.0, percent=1))
    grading = session.record.grading(1, 1)
    assert (repr(grading.grade), repr(grading.percent)) == ("7", "1.0")


def test_the_name_of_who_works_need_not_be_text(session):
    session.who = "\ud800\x00Ann"
    session.do(grade_coupon, GivenGrade(1, 1, 7, grader="\udfff", note="\ud800"))
    session.undo()
    assert [(who, what) for _, who, what, _ in session.audit()[:2]] == [
        ("\ufffd\ufffdAnn", "undo"),
        ("\ufffd\ufffdAnn", "grade_coupon"),
    ]
