"""The eye against the photo: only figures of the same inspection that still fit; open grades are marked as such."""

from __future__ import annotations

import json
from contextlib import closing
from dataclasses import replace

import pytest
from graded_blind import grade_blind
from measured_boards import measured_board, measurement

from rustboard.app.main import run
from rustboard.operations.coupons import edit_coupon
from rustboard.operations.grading import GivenGrade, grade_coupon
from rustboard.operations.inspections import add_inspection
from rustboard.operations.measuring import accept_measurement
from rustboard.session.agreement import ALL_BLIND, OPEN, AgreementRequest, Scope, scopes, study_grades
from rustboard.session.jobs import Progress
from rustboard.session.session import Session

ANN = {"Ann": {"C01": 7, "C02": 7, "C03": 6, "C04": 2}}
"""By the photo each coupon has 0.12 %, which is grade 7 (more than 0.1, at most 0.3 %), if nothing else is said."""


@pytest.fixture
def measured(tmp_path):
    """An open board with two photos, each measured, of two inspections."""
    with closing(Session(measured_board(tmp_path / "Fence"))) as session:
        yield session


def studied(session, scope=ALL_BLIND):
    return study_grades(AgreementRequest(session.record.snapshot(), scope), Progress())


def photo_pairs(session, scope=ALL_BLIND):
    photo = studied(session, scope).study.photo
    return {} if photo is None else {each.a: each.agreement.pairs for each in photo.graders}


def test_each_grader_is_compared_with_the_photo_of_the_same_inspection(measured):
    grade_blind(measured, 1, ANN)
    found = studied(measured)
    (pair,) = found.study.photo.graders
    assert (pair.a, pair.agreement.pairs, pair.agreement.exact, pair.agreement.within_one) == ("Ann", 4, 2, 3)
    (wide,) = found.differing  # one apart from the photo alone is not worth a row
    assert (wide.coupon, wide.photo, wide.width, wide.among_graders) == (4, 7, 5, False)


def test_where_graders_differ_the_photo_stands_beside_them_also_when_it_agrees_with_one(measured):
    grade_blind(measured, 1, {"Ann": dict.fromkeys(("C01", "C02", "C03", "C04"), 7),
                              "Bo": {"C01": 6, "C02": 7, "C03": 7, "C04": 7}})  # fmt: skip
    (found,) = studied(measured).differing
    assert (found.coupon, found.photo, found.width, found.among_graders) == (1, 7, 1, True)


def test_a_figure_that_no_longer_fits_is_left_out(measured):
    grade_blind(measured, 1, ANN)
    coupon = measured.record.coupons[2]
    moved = tuple((x + 4, y) for x, y in coupon.outline_mm)
    measured.do(edit_coupon, replace(coupon, outline_mm=moved))
    assert photo_pairs(measured) == {"Ann": 3}


def test_a_photo_of_another_inspection_says_nothing(measured):
    at = measured.record.inspections[2].at
    measured.do(add_inspection, replace(measured.record.inspections[2], at=at.replace(day=at.day + 3), key=0))
    grade_blind(measured, 3, ANN)
    assert photo_pairs(measured) == {}
    assert studied(measured).words.photo == ()


def test_what_could_not_be_measured_is_left_out(tmp_path):
    folder = measured_board(tmp_path / "b", measurement(1, 1, None, low=None, high=None, confident=False))
    with closing(Session(folder)) as session:
        grade_blind(session, 1, ANN)
        assert photo_pairs(session) == {"Ann": 3}


def test_open_grades_by_eye_are_a_choice_of_their_own_and_said_not_to_be_blind(measured, desk):
    for coupon, grade in ((1, 7), (2, 9)):
        measured.do(grade_coupon, GivenGrade(coupon, 1, grade, grader="Cy"))
    measured.do(accept_measurement, 1, 3, "Cy")  # taken over from the photo: it cannot be compared with it
    grade_blind(measured, 2, ANN)
    assert scopes(measured.record) == [Scope("one", 2), OPEN]
    assert photo_pairs(measured, OPEN) == {"Cy": 2}
    assert photo_pairs(measured) == {"Ann": 4}
    found = studied(measured, OPEN)
    assert (found.study.pairs, found.study.repeats, found.study.together, found.pairs) == ((), (), None, {})
    assert [each.by_rule for each in found.differing] == [None]
    folder = measured.folder
    measured.close()
    person = desk.sit_down(folder)
    person.do("inspection.agreement")
    box = person.window.agreement.screen.head.box
    box.setCurrentIndex(1)
    box.activated.emit(1)
    text = person.window.agreement.screen.words.sentences.text()
    assert text.startswith("Not blind\nThese grades were given knowing which coupon it was")
    assert "Cy and the photo can be compared on 2 coupons" in text
    panel = person.window.agreement.screen.coupons.panel
    assert panel.given.text() == "Cy 9, the photo 7"
    assert not panel.keys[5].isVisible(), "nobody agrees on what one person graded openly"


def test_the_command_tells_both_apart(measured, capsys):
    measured.do(grade_coupon, GivenGrade(2, 1, 9, grader="Cy"))
    grade_blind(measured, 2, ANN)
    assert run(["agreement", str(measured.folder)]) == 0
    said = capsys.readouterr().out
    assert said.index("Ann and the photo") < said.index("Open grades and photo") < said.index("Not blind: these")
    assert run(["agreement", str(measured.folder), "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert [(each["grader"], each["coupons"]) for each in data["photo"]["graders"]] == [("Ann", 4)]
    assert [(each["grader"], each["coupons"]) for each in data["photo_not_blind"]["graders"]] == [("Cy", 1)]
    assert [each["photo"] for each in data["differing"]] == [7]


def test_open_grades_of_an_inspection_that_is_hidden_now_do_not_enter(measured):
    measured.do(grade_coupon, GivenGrade(1, 1, 7, grader="Cy"))
    assert scopes(measured.record) == [OPEN]
    grade_blind(measured, 1, ANN, revealed=False)
    assert scopes(measured.record) == []
    assert (studied(measured, OPEN).looks, photo_pairs(measured, OPEN)) == (0, {})


def test_a_board_without_blind_grades_still_offers_to_grade_blind(measured, desk):
    measured.do(grade_coupon, GivenGrade(1, 1, 2, grader="Cy"))
    folder = measured.folder
    measured.close()
    person = desk.sit_down(folder)
    person.do("inspection.agreement")
    head = person.window.agreement.screen.head
    assert head.blind.isVisible()
    person.click(head.blind)
    assert person.answers.asked == ["StartBlindDialog"]
