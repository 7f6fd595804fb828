"""Grading blind: hidden, graded in rounds, revealed, agreed; and what is refused on the way."""

from __future__ import annotations

import math
from datetime import datetime, timedelta

import pytest

from rustboard.board.blind import MOST_ROUNDS
from rustboard.board.blind_order import draw_showings
from rustboard.board.model import Coupon, Inspection, Photo, Treatment
from rustboard.board.position import Position
from rustboard.operations import blind
from rustboard.operations.blind import (
    BlindChoice,
    GivenBlind,
    agree_grade,
    begin_round,
    finish_round,
    give_blind,
    reveal,
    start_blind,
    withdraw_blind,
)
from rustboard.operations.blind_steps import (
    ADDED,
    BEGUN,
    CORRECTED,
    FINAL_STEPS,
    FINISHED,
    GIVEN,
    STARTED,
    TAKEN_BACK,
)
from rustboard.operations.coupons import add_coupon, take_off
from rustboard.operations.grading import GivenGrade, grade_coupon, withdraw_grade
from rustboard.operations.inspections import add_inspection
from rustboard.operations.photos import add_photo
from rustboard.operations.treatments import add_treatment

NOW = datetime(2026, 3, 2, 9)
COUPONS = 6
PLACE = (2.0, 0.0, 5.0, 0.0, 2.0, 5.0, 0.0, 0.0, 1.0)
SCALE = "is not a grade; grades are whole numbers from 0 to 10."
LETTERS = "carries no distribution letter; letters go with grades 9 to 1."
UNFIT = (
    "Grading from a photo needs one of this inspection in which the board was found; add one, or grade at the bench."
)
NOT_HIDDEN = "This inspection is not being graded blind any more; it was revealed or taken back."
ROUND_OVER = "This round is finished or was taken back, so nothing more can be graded in it."
HIDDEN = "This inspection is being graded blind; finish and reveal it first, or choose another inspection."


@pytest.fixture(autouse=True)
def _a_board_of_two_inspections_with_a_photo(session):
    session.do(add_treatment, Treatment("T-wax"))
    for number in range(COUPONS):
        session.do(add_coupon, Coupon(f"X{number + 1}", Position(1, number), 1))
    session.do(add_inspection, Inspection(NOW))
    session.do(add_inspection, Inspection(NOW + timedelta(days=7)))
    session.do(add_photo, Photo("IMG_1.jpg", "a.jpg", "0" * 64, 40, 30, NOW, 1, PLACE))


def start(session, inspection=1, repeats=50.0):
    session.do(start_blind, BlindChoice(inspection, "bench", repeat_percent=repeats))
    return session.record.hidden_inspection.key


def begin(session, blind=1, grader="Ann", seed=7):
    (key,) = session.do(begin_round, blind, grader, seed).tables["blind_round"]
    return key


def give_all(session, key, grades):
    """Let a grader give each coupon, by its key, his grade at every look."""
    for number, shown in enumerate(session.record.blind_rounds[key].showings):
        session.do(give_blind, GivenBlind(key, number, grades[shown.coupon - 1]))


def graded_round(session, grader, grades, blind=1):
    key = begin(session, blind, grader, seed=len(grader))
    give_all(session, key, grades)
    session.do(finish_round, key)
    return key


def test_a_started_inspection_is_hidden_and_says_how_it_is_graded(session):
    session.do(start_blind, BlindChoice(1, "photo", 1, 25))
    hidden = session.record.hidden_inspection
    assert (hidden.inspection, hidden.basis, hidden.photo, hidden.repeat_percent) == (1, "photo", 1, 25.0)
    assert (hidden.started, hidden.revealed) == (NOW, None)
    assert session.undo_summary().text() == "Grade the inspection of 2026-03-02 09:00 blind"


def test_at_the_bench_no_photo_is_kept(session):
    session.do(start_blind, BlindChoice(1, "bench", 1))
    assert session.record.hidden_inspection.photo is None


@pytest.mark.parametrize(("choice", "sentence"), [
    (BlindChoice(9, "bench"), "This inspection is no longer on the board; it may have been taken away by undo."),
    (BlindChoice(1, "sofa"), "Grade blind from a photo or at the bench, with 0 to 100 % of the coupons shown twice."),
    *((BlindChoice(1, "bench", None, share),
       "Grade blind from a photo or at the bench, with 0 to 100 % of the coupons shown twice.")
      for share in (-1, 100.5, math.nan, math.inf)),
    (BlindChoice(1, "photo"), UNFIT),
    (BlindChoice(2, "photo", 1), UNFIT),
    (BlindChoice(1, "photo", 9), "This photo is no longer on the board; it may have been taken away by undo."),
])  # fmt: skip
def test_a_choice_that_cannot_be_is_refused(refused, choice, sentence):
    assert refused(start_blind, choice) == sentence


def test_a_photo_in_which_the_board_was_not_found_is_refused(session, refused):
    session.do(add_photo, Photo("IMG_2.jpg", "b.jpg", "1" * 64, 40, 30, NOW, 1))
    assert "in which the board was found" in refused(start_blind, BlindChoice(1, "photo", 2))


def test_one_inspection_is_hidden_at_a_time_and_each_graded_blind_once(session, refused):
    start(session)
    again = "This inspection has been graded blind already; add another inspection."
    assert refused(start_blind, BlindChoice(1, "bench")) == again
    other = "Another inspection is being graded blind; finish and reveal it first."
    assert refused(start_blind, BlindChoice(2, "bench")) == other
    graded_round(session, "Ann", [5] * COUPONS)
    session.do(reveal, 1)
    assert refused(start_blind, BlindChoice(1, "bench")) == again
    assert start(session, inspection=2) == 2


def test_a_board_holds_a_bounded_number_of_blind_inspections(session, refused, monkeypatch):
    monkeypatch.setattr(blind, "MOST_BLIND_INSPECTIONS", 1)
    start(session)
    graded_round(session, "Ann", [5] * COUPONS)
    session.do(reveal, 1)
    assert refused(start_blind, BlindChoice(2, "bench")) == (
        "A board holds at most 1 blind inspections; grade this one openly."
    )


def test_without_coupons_on_the_board_there_is_nothing_to_grade(session, refused):
    start(session)
    for key in range(1, COUPONS + 1):
        session.do(take_off, key)
    nothing = "No coupon hangs on the board, so there is nothing to grade; add coupons first."
    assert refused(begin_round, 1, "Ann", 7) == nothing
    session.do(reveal, 1)
    assert refused(start_blind, BlindChoice(2, "bench")) == nothing


def test_a_round_keeps_the_order_drawn_from_its_seed(session):
    start(session)
    key = begin(session, grader="  Ann\n", seed=2026)
    kept = session.record.blind_rounds[key]
    assert (kept.grader, kept.seed, kept.started, kept.finished) == ("Ann", 2026, NOW, None)
    assert kept.showings == draw_showings([1, 2, 3, 4, 5, 6], 50, "bench", 2026)
    assert len(kept.showings) == 9


def test_coupons_off_the_board_are_not_shown(session):
    session.do(take_off, 2)
    start(session)
    assert {each.coupon for each in session.record.blind_rounds[begin(session)].showings} == {1, 3, 4, 5, 6}


def test_a_grader_has_one_round_whether_or_not_the_others_are_done(session, refused):
    assert refused(begin_round, 1, "Ann", 7) == NOT_HIDDEN
    start(session)
    assert refused(begin_round, 1, " \n", 7) == "Type the name of who grades."
    key = begin(session)
    session.do(begin_round, 1, "Bo", 7)  # who leaves his round does not keep the others waiting
    give_all(session, key, [5] * COUPONS)
    session.do(finish_round, key)
    for name in ("Ann", "ann", " ANN "):
        assert refused(begin_round, 1, name, 7).endswith("has a round at this inspection already; everybody has one.")
    session.do(reveal, 1)
    assert refused(begin_round, 1, "Cy", 7) == NOT_HIDDEN


def test_an_inspection_has_a_bounded_number_of_graders(session, refused):
    for key in range(2, COUPONS + 1):
        session.do(take_off, key)
    start(session, repeats=0)
    for number in range(MOST_ROUNDS):
        graded_round(session, f"G{number}", [5])
    assert refused(begin_round, 1, "one more", 7) == "An inspection has at most 20 graders; reveal it."


def test_no_round_is_begun_whose_grades_could_not_all_be_read_back(session, refused, monkeypatch):
    start(session, repeats=0)
    graded_round(session, "Ann", [5] * COUPONS)
    monkeypatch.setattr(blind, "MOST_BLIND_GRADES", 3 * COUPONS - 1)
    assert refused(begin_round, 1, "Bo", 7) == (
        f"A board holds at most {3 * COUPONS - 1} blind grades; reveal, and grade openly."
    )
    monkeypatch.setattr(blind, "MOST_BLIND_GRADES", 3 * COUPONS)
    begin(session, grader="Bo")


def test_a_given_grade_is_that_of_the_coupon_that_was_shown(session):
    start(session)
    key = begin(session)
    shown = session.record.blind_rounds[key].showings[2]
    session.do(give_blind, GivenBlind(key, 2, 7, "S", 0.2, " a\x07 note "))
    given = session.record.blind_grades[key][2]
    assert (given.coupon, given.grade, given.distribution, given.percent) == (shown.coupon, 7, "S", 0.2)
    assert "\x07" not in given.note
    assert session.record.current == {}


def test_a_corrected_grade_is_superseded_and_kept(session):
    start(session)
    key = begin(session)
    session.do(give_blind, GivenBlind(key, 0, 7))
    session.do(give_blind, GivenBlind(key, 0, 6))
    given = session.record.blind_grades[key][0]
    assert (given.grade, given.replaces) == (6, 1)
    assert session.undo_summary().text() == "Correct blind grade 1 of 9: 7 to 6"


def test_the_same_grade_given_again_changes_nothing(session):
    start(session)
    key = begin(session)
    session.do(give_blind, GivenBlind(key, 0, 7))
    assert session.do(give_blind, GivenBlind(key, 0, 7)).tables == {}


def test_a_note_added_to_a_blind_grade_does_not_call_itself_a_correction(session):
    start(session)
    key = begin(session)
    session.do(give_blind, GivenBlind(key, 0, 7))
    session.do(give_blind, GivenBlind(key, 0, 7, note="drip edge"))
    assert session.record.blind_grades[key][0].note == "drip edge"
    assert session.undo_summary().text() == "Add to blind grade 1 of 9: note or percent"


@pytest.mark.parametrize(("given", "sentence"), [
    (GivenBlind(1, 0, 11), f"column grade: 11 {SCALE}"),
    (GivenBlind(1, 0, 7.5), f"column grade: 7.5 {SCALE}"),
    (GivenBlind(1, 0, 10, "S"), f"column distribution: Grade 10 {LETTERS}"),
    (GivenBlind(1, 0, 7, "", math.nan), "column percent: Percent rusted is from 0 to 100."),
    (GivenBlind(1, -1, 7), "This round shows no such coupon; go back to the first that has no grade."),
    (GivenBlind(1, 9, 7), "This round shows no such coupon; go back to the first that has no grade."),
    (GivenBlind(2, 0, 7), ROUND_OVER),
])  # fmt: skip
def test_a_grade_that_cannot_be_is_refused(session, refused, given, sentence):
    start(session)
    begin(session)
    assert refused(give_blind, given) == sentence


def test_a_withdrawn_blind_grade_no_longer_counts(session, refused):
    start(session)
    key = begin(session)
    nothing = "This coupon has no grade in this round, so there is nothing to withdraw."
    assert refused(withdraw_blind, key, 0) == nothing
    session.do(give_blind, GivenBlind(key, 0, 7))
    session.do(withdraw_blind, key, 0)
    assert session.record.blind_grades == {}
    assert refused(withdraw_blind, key, 0) == nothing


def test_a_round_is_finished_when_every_showing_has_its_grade_and_then_stays_so(session, refused):
    start(session)
    key = begin(session)
    give_all(session, key, [5] * COUPONS)
    session.do(withdraw_blind, key, 4)
    session.do(withdraw_blind, key, 8)
    assert refused(finish_round, key) == "2 of the 9 showings have no grade yet; grade them first."
    for number in (4, 8):
        session.do(give_blind, GivenBlind(key, number, 5))
    session.do(finish_round, key)
    assert session.record.blind_rounds[key].finished == NOW
    assert refused(finish_round, key) == ROUND_OVER
    assert refused(give_blind, GivenBlind(key, 0, 4)) == ROUND_OVER
    assert refused(withdraw_blind, key, 0) == ROUND_OVER


def test_revealing_gives_the_board_its_grades_by_the_rule(session):
    start(session)
    ann = graded_round(session, "Ann", [8, 7, 10, 3, 0, 9])
    bo = graded_round(session, "Bo", [7, 9, 10, 3, 2, 9])
    session.do(reveal, 1)
    assert session.record.hidden_inspection is None
    assert session.record.blind_inspections[1].revealed == NOW
    found = {key: graded[1] for key, graded in session.record.current.items()}
    assert {key: each.grade for key, each in found.items()} == {1: 7, 2: 7, 3: 10, 4: 3, 5: 0, 6: 9}
    assert {(each.source, each.grader, each.percent) for each in found.values()} == {("blind", "Ann, Bo", None)}
    assert {ann, bo} == set(session.record.blind_grades)


def test_the_first_look_counts_for_the_board(session):
    start(session, repeats=100)
    key = begin(session)
    for number, shown in enumerate(session.record.blind_rounds[key].showings):
        session.do(give_blind, GivenBlind(key, number, 2 if shown.again else 8))
    session.do(finish_round, key)
    session.do(reveal, 1)
    assert {each[1].grade for each in session.record.current.values()} == {8}


def test_notes_come_over_with_the_name_of_who_wrote_them(session):
    start(session, repeats=0)
    for name, note in (("Ann", "drip"), ("Bo", ""), ("Cy", "edge")):
        key = begin(session, grader=name, seed=1)
        for number in range(COUPONS):
            session.do(give_blind, GivenBlind(key, number, 5, note=note))
        session.do(finish_round, key)
    session.do(reveal, 1)
    assert session.record.current[1][1].note == "Ann: drip; Cy: edge"


def test_a_round_that_was_not_finished_ends_as_it_is_and_its_grades_count(session):
    start(session)
    graded_round(session, "Ann", [8] * COUPONS)
    key = begin(session, grader="Bo")
    session.do(give_blind, GivenBlind(key, 0, 2))
    shown = session.record.blind_rounds[key].showings[0].coupon
    session.do(reveal, 1)
    assert session.record.blind_rounds[key].finished == NOW
    grades = {each: graded[1].grade for each, graded in session.record.current.items()}
    assert grades == dict.fromkeys(range(1, COUPONS + 1), 8) | {shown: 2}
    assert session.record.current[shown][1].grader == "Ann, Bo"


def test_grades_given_openly_before_are_superseded_and_kept(session):
    session.do(grade_coupon, GivenGrade(1, 1, 4, grader="Ann"))
    start(session)
    assert session.record.current[1][1].grade == 4
    graded_round(session, "Bo", [8] * COUPONS)
    session.do(reveal, 1)
    assert [(each.grade, each.source, each.state) for each in session.gradings(1, 1)] == [
        (4, "eye", "superseded"),
        (8, "blind", "current"),
    ]


def test_revealing_what_nobody_graded_leaves_the_inspection_as_it_was(session, refused):
    session.do(grade_coupon, GivenGrade(1, 1, 4))
    before = session.record.snapshot()
    start(session)
    begin(session)
    session.do(reveal, 1)
    assert session.record == before
    session.do(grade_coupon, GivenGrade(2, 1, 4))
    assert refused(reveal, 1) == NOT_HIDDEN
    assert start(session) != 1


def test_giving_up_before_the_first_grade_does_not_end_the_way_back(session):
    start(session)
    begin(session)
    session.do(reveal, 1)
    assert (
        session.undo_summary().text() == "Stop grading the inspection of 2026-03-02 09:00 blind; nothing was graded"
    )
    assert session.undo_summary().pattern not in FINAL_STEPS
    while session.undo() is not None:
        pass
    assert session.record.inspections == {}


def test_what_was_graded_and_withdrawn_is_kept_when_all_is_revealed(session):
    start(session)
    key = begin(session)
    session.do(give_blind, GivenBlind(key, 0, 7))
    session.do(withdraw_blind, key, 0)
    session.do(reveal, 1)
    assert session.record.blind_inspections[1].revealed == NOW
    assert session.record.current == {}


@pytest.fixture
def revealed(session):
    start(session)
    graded_round(session, "Ann", [8] * COUPONS)
    graded_round(session, "Bo", [6] * COUPONS)
    session.do(reveal, 1)
    return session


def test_an_agreed_grade_keeps_the_one_by_the_rule(revealed):
    revealed.do(agree_grade, 2, 1, 7, "S", "settled in daylight")
    assert [(each.grade, each.source, each.state) for each in revealed.gradings(2, 1)] == [
        (6, "blind", "superseded"),
        (7, "agreed", "current"),
    ]
    agreed = revealed.record.current[2][1]
    assert (agreed.grader, agreed.distribution, agreed.note) == ("Ann, Bo", "S", "settled in daylight")
    assert revealed.undo_summary().text() == "Agree on X2: 7-S"
    revealed.undo()
    assert (revealed.record.current[2][1].grade, revealed.record.current[2][1].source) == (6, "blind")


def test_what_can_not_be_agreed_on_is_refused(revealed, refused):
    revealed.do(add_coupon, Coupon("late", Position(2, 0)))
    nothing = "This coupon was not graded blind at this inspection, so there is nothing to agree on."
    assert refused(agree_grade, 7, 1, 5) == nothing
    assert refused(agree_grade, 1, 2, 5) == nothing
    assert refused(agree_grade, 99, 1, 5).startswith("This coupon is no longer on the board")
    assert refused(agree_grade, 1, 1, 12) == f"column grade: 12 {SCALE}"
    assert refused(agree_grade, 1, 1, 10, "S").startswith("column distribution: Grade 10 carries no")


def test_nothing_is_agreed_on_while_it_is_hidden(session, refused):
    start(session)
    graded_round(session, "Ann", [8] * COUPONS)
    assert refused(agree_grade, 1, 1, 5) == HIDDEN


def test_after_the_reveal_grades_are_corrected_and_withdrawn_as_any(revealed):
    revealed.do(withdraw_grade, 1, 1)
    revealed.do(grade_coupon, GivenGrade(2, 1, 5))
    assert 1 not in revealed.record.current
    assert revealed.record.current[2][1].source == "eye"


def test_no_step_says_what_is_hidden(session):
    """Ids, treatments, positions and other graders' names and grades; numbers of showings and one's own grade may."""
    told = [session.do(start_blind, BlindChoice(1, "bench", repeat_percent=50))]
    for name, grade in (("Ann", 3), ("Bo", 8)):
        told.append(session.do(begin_round, 1, name, 7))
        key = max(session.record.blind_rounds)
        own = [session.do(give_blind, GivenBlind(key, number, grade)) for number in range(9)]
        own.append(session.do(give_blind, GivenBlind(key, 0, grade + 1)))
        own.append(session.do(give_blind, GivenBlind(key, 0, grade + 1, note="edge")))
        own.append(session.do(withdraw_blind, key, 0))
        own.append(session.do(give_blind, GivenBlind(key, 0, grade)))
        assert {int(part) for each in own for part in each.summary.parts[2:]} <= {grade, grade + 1}
        told += own
        told.append(session.do(finish_round, key))
    assert {each.summary.pattern for each in told} == {
        STARTED, BEGUN, GIVEN, CORRECTED, ADDED, TAKEN_BACK, FINISHED,
    }  # fmt: skip
    hidden = [
        "T-wax",
        "Ann",
        "Bo",
        *(f"X{number + 1}" for number in range(COUPONS)),
        *(f"B{n + 1}" for n in range(7)),
    ]
    for each in told:
        assert not any(word in each.summary.text() for word in hidden), each.summary.text()
