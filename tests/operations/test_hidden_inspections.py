"""While an inspection is graded blind nothing is graded openly at it; and what was graded blind is never removed."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest

from rustboard.board.grades_csv import TypedGrade
from rustboard.board.measured import Measurement
from rustboard.board.model import Coupon, Inspection, Photo
from rustboard.board.position import Position
from rustboard.operations.blind import (
    BlindChoice,
    GivenBlind,
    begin_round,
    finish_round,
    give_blind,
    reveal,
    start_blind,
)
from rustboard.operations.coupons import add_coupon, remove_coupon
from rustboard.operations.damage import GivenDamage, note_damage, withdraw_damage
from rustboard.operations.grading import GivenGrade, grade_coupon, withdraw_grade
from rustboard.operations.inspections import add_inspection, remove_inspection
from rustboard.operations.layouts import set_replicates
from rustboard.operations.measuring import accept_measurement, accept_measurements, keep_measuring
from rustboard.operations.photos import add_photo, remove_photo, set_taken, shift_clock, tie_photo, tie_photo_alone
from rustboard.operations.side_by_side import GivenChoice, choose, withdraw_choice
from rustboard.operations.typed_grades import add_typed_grades, match_typed_grades

NOW = datetime(2026, 3, 2, 9)
PLACE = (2.0, 0.0, 5.0, 0.0, 2.0, 5.0, 0.0, 0.0, 1.0)
HIDDEN = "This inspection is being graded blind; finish and reveal it first, or choose another inspection."
MEASURED = Measurement(0, 1, 1, 1, "a" * 40, 0.2, 0.1, 0.4, 3, 1.5, "S", 0.0, 1.0, 0.01, True, True,
                       (0.1, -0.2, 0.3, 1.01), "there", (), "")  # fmt: skip


@pytest.fixture(autouse=True)
def _a_measured_and_graded_board(session):
    for number in range(3):
        session.do(add_coupon, Coupon(f"C{number + 1}", Position(0, number)))
    for day in (0, 7):
        session.do(add_inspection, Inspection(NOW + timedelta(days=day)))
    session.do(add_photo, Photo("IMG_1.jpg", "a.jpg", "0" * 64, 40, 30, NOW, 1, PLACE))
    session.do(keep_measuring, (), (MEASURED, MEASURED._replace(coupon=2)))
    session.do(grade_coupon, GivenGrade(3, 1, 6))
    session.do(note_damage, GivenDamage(3, 1, "stain", 10.0))


@pytest.fixture
def hidden(session):
    session.do(start_blind, BlindChoice(1, "photo", 1, 50))
    return session


def grade_all(session, grader="Ann"):
    (key,) = session.do(begin_round, 1, grader, 7).tables["blind_round"]
    for number in range(len(session.record.blind_rounds[key].showings)):
        session.do(give_blind, GivenBlind(key, number, 7))
    session.do(finish_round, key)


@pytest.mark.parametrize("step", [
    (grade_coupon, GivenGrade(1, 1, 7)),
    (grade_coupon, GivenGrade(1, 1, 7, source="blind")),
    (grade_coupon, GivenGrade(1, 1, 7, source="agreed")),
    (withdraw_grade, 3, 1),
    (accept_measurement, 1, 1, "Ann"),
    (accept_measurements, 1, [1, 2, 3], "Ann"),
    (choose, GivenChoice(1, "Ann", 1, 2, "left")),
    (note_damage, GivenDamage(1, 1, "stain", 10.0)),
    (withdraw_damage, 3, 1, "stain"),
])  # fmt: skip
def test_nothing_is_graded_or_noted_openly_at_a_hidden_inspection(hidden, refused, step):
    hidden.do(keep_measuring, (), (MEASURED._replace(coupon=3),))
    assert refused(*step) == HIDDEN


def typed(session, *days):
    rows = [TypedGrade(2, NOW + timedelta(days=day), True, "C1", 5, "", None, "Ann", "") for day in days]
    matched, problems = match_typed_grades(session.record, rows, "grades.csv")
    assert problems == []
    return matched


def test_a_file_of_grades_is_refused_whole_where_one_is_for_the_hidden_inspection(hidden, refused):
    assert refused(add_typed_grades, typed(hidden, 7, 0)) == HIDDEN
    assert set(hidden.record.current) == {3}
    hidden.do(add_typed_grades, typed(hidden, 7))
    assert hidden.record.current[1][2].grade == 5


def test_other_inspections_are_graded_as_before(hidden):
    hidden.do(grade_coupon, GivenGrade(1, 2, 7))
    hidden.do(withdraw_grade, 1, 2)
    hidden.do(choose, GivenChoice(2, "Ann", 1, 2, "left"))
    hidden.do(note_damage, GivenDamage(1, 2, "stain", 10.0))


def test_a_reveal_ends_it(hidden):
    grade_all(hidden)
    hidden.do(reveal, 1)
    hidden.do(grade_coupon, GivenGrade(1, 1, 5))
    assert hidden.record.current[1][1].source == "eye"


FROM_PHOTO = "IMG_1.jpg: An inspection was graded blind from this photo, so it stays."
STAYS = "IMG_1.jpg: Grades were taken over from this photo or given by it, so it stays with their inspection."


@pytest.mark.parametrize("ended", [False, True])
def test_a_photo_that_was_graded_from_stays_with_its_inspection(hidden, refused, ended):
    grade_all(hidden)
    if ended:
        hidden.do(reveal, 1)
    assert refused(remove_photo, 1) == FROM_PHOTO
    assert refused(tie_photo, 1, 2) == STAYS
    assert refused(tie_photo, 1, None) == STAYS
    assert refused(tie_photo_alone, 1) == STAYS
    hidden.do(shift_clock, [1], 3 * 86_400)
    assert hidden.record.photos[1].inspection == 1
    hidden.do(set_taken, 1, NOW + timedelta(days=7))
    assert hidden.record.photos[1].inspection == 1
    hidden.undo(), hidden.undo()


def test_another_photo_of_the_inspection_goes_as_any(hidden):
    hidden.do(add_photo, Photo("IMG_2.jpg", "b.jpg", "1" * 64, 40, 30, NOW, 1, PLACE))
    hidden.do(remove_photo, 2)
    assert set(hidden.record.photos) == {1}


def test_an_inspection_with_a_blind_round_a_choice_or_damage_stays(session, refused):
    kept = "This inspection has grades or photos, which are never erased; edit its date instead."
    session.do(start_blind, BlindChoice(2, "bench"))
    assert refused(remove_inspection, 2) == kept
    session.undo()
    session.do(choose, GivenChoice(2, "Ann", 1, 2, "left"))
    session.do(withdraw_choice, 1)
    assert refused(remove_inspection, 2) == kept
    session.undo(), session.undo()
    session.do(note_damage, GivenDamage(1, 2, "stain", 10.0))
    session.do(withdraw_damage, 1, 2, "stain")
    assert refused(remove_inspection, 2) == kept
    session.undo(), session.undo()
    session.do(remove_inspection, 2)


@pytest.mark.parametrize("steps", [
    [(start_blind, BlindChoice(2, "bench")), (begin_round, 1, "Ann", 7)],
    [(choose, GivenChoice(2, "Ann", 4, 1, "left")), (withdraw_choice, 1)],
    [(choose, GivenChoice(2, "Ann", 1, 4, "neither"))],
    [(note_damage, GivenDamage(4, 2, "blisters", severity="s")), (withdraw_damage, 4, 2, "blisters")],
])  # fmt: skip
def test_a_coupon_that_was_shown_compared_or_damaged_stays(session, refused, steps):
    session.do(add_coupon, Coupon("C4", Position(1, 0)))
    for step in steps:
        session.do(*step)
    assert refused(remove_coupon, 4) == (
        "Coupon C4 has grades, which are never erased; take it off the board instead."
    )
    assert "which are never" in refused(set_replicates, None, 0)
    for _ in steps:
        session.undo()
    session.do(remove_coupon, 4)


def test_an_inspection_made_from_a_photo_does_not_go_with_it_once_it_was_graded_blind(session):
    """Photos that move away take the inspection they made with them; not one with a blind round."""
    taken = NOW + timedelta(days=20)
    session.do(add_photo, Photo("IMG_3.jpg", "c.jpg", "3" * 64, 40, 30, taken))
    session.do(tie_photo_alone, 2)
    own = session.record.photos[2].inspection
    session.do(start_blind, BlindChoice(own, "bench"))
    session.do(tie_photo, 2, 2)
    assert own in session.record.inspections
    assert session.record.photos[2].inspection == 2
