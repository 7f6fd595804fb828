"""What measuring records: places of photos, measurements, revisions; and taking them over as grades."""

from dataclasses import replace
from datetime import datetime

import pytest

from rustboard.board.measured import Measurement, PhotoPlacing
from rustboard.board.model import Coupon, Inspection, Photo
from rustboard.board.position import Position
from rustboard.operations.coupons import add_coupon, remove_coupon
from rustboard.operations.grading import GivenGrade, grade_coupon
from rustboard.operations.inspections import add_inspection
from rustboard.operations.measuring import (
    accept_measurement,
    accept_measurements,
    keep_measuring,
    place_photo,
)
from rustboard.operations.photos import add_photo

SETTINGS, MASKS = "a" * 24, "b" * 16
PLACE = (2.0, 0.0, 5.0, 0.0, 2.0, 5.0, 0.0, 0.0, 1.0)
FIRST = Measurement(
    key=0,
    photo=1,
    coupon=1,
    algorithm=1,
    inputs=SETTINGS + MASKS,
    percent=0.2,
    low=0.1,
    high=0.4,
    spots=3,
    largest_mm2=1.5,
    distribution="S",
    debris_percent=0.0,
    unseen_percent=1.0,
    resolvable_percent=0.01,
    confident=True,
    newest=True,
    motion=(0.1, -0.2, 0.3, 1.01),
    present="there",
    warnings=("surface wet",),
    measured="",
)


@pytest.fixture(autouse=True)
def _a_photo_of_two_coupons(session):
    for column, name in enumerate(("C1", "C2")):
        session.do(add_coupon, Coupon(name, Position(0, column)))
    session.do(add_inspection, Inspection(datetime(2026, 3, 2, 9)))
    photo = Photo("IMG_1.jpg", "a.jpg", "0" * 64, 4000, 3000, datetime(2026, 3, 2, 9, 5), 1)
    session.do(add_photo, photo)


def keep(session, *measurements):
    return session.do(keep_measuring, (), measurements)


def test_the_place_of_a_photo_is_kept_with_how_it_was_found(session):
    session.do(place_photo, PhotoPlacing(1, PLACE, 0.01, "markers", 0.6, warnings=("surface wet",)))
    photo = session.record.photos[1]
    assert (photo.mm_to_px, photo.lens, photo.placed_by) == (PLACE, 0.01, "markers")
    assert (photo.placing_error_px, photo.warnings) == (0.6, ("surface wet",))
    assert session.undo_summary().text() == "Find the board in IMG_1.jpg"


def test_why_a_board_was_not_found_is_kept_until_it_is_found(session):
    session.do(place_photo, PhotoPlacing(1, None, because="Only one marker was seen."))
    assert session.record.photos[1].unplaced_because == "Only one marker was seen."
    session.do(place_photo, PhotoPlacing(1, PLACE, placed_by="corners"))
    assert session.record.photos[1].unplaced_because == ""


def test_a_measurement_is_recorded_with_all_it_says_and_comes_back_by_undo_and_redo(session):
    keep(session, FIRST)
    expected = FIRST._replace(key=1, measured="2026-03-02T09:00:00")
    assert session.record.measured == {1: {1: expected}}
    session.undo()
    assert session.record.measured == {}
    session.redo()
    assert session.record.measured == {1: {1: expected}}


def test_a_revision_keeps_the_older_answer_and_says_why_in_the_record_of_changes(session):
    keep(session, FIRST)
    changes = keep(session, FIRST._replace(percent=0.05, low=0.0, high=0.1, reason="it was dirt"))
    kept = session.record.measured[1][1]
    assert (kept.percent, kept.replaces, kept.reason) == (0.05, 1, "it was dirt")
    text = "Measure 1 photo; revised: C1 on 2026-03-02 0.2 % to 0.05 % (it was dirt)"
    assert changes.summary.text() == text
    assert session.audit()[0][3].text() == text
    session.undo()
    assert session.record.measured[1][1].percent == 0.2


@pytest.mark.parametrize("same", [
    {},
    {"percent": 0.205},  # less than a twentieth
    {"percent": 0.2, "high": 0.41},
    {"debris_percent": 0.002},  # less than can be seen
    {"inputs": SETTINGS + "c" * 16},
    {"motion": (0.11, -0.2, 0.3, 1.01)},
])  # fmt: skip
def test_what_says_the_same_is_not_recorded_again(session, same):
    keep(session, FIRST)
    keep(session, FIRST._replace(**same))
    assert session.record.measured[1][1].key == 1


@pytest.mark.parametrize("other", [
    {"percent": 0.25},
    {"high": 0.6},
    {"newest": False},
    {"percent": None, "low": None, "high": None, "present": "missing"},
    {"warnings": ()},
    {"distribution": "G"},
    {"inputs": "c" * 24 + MASKS},  # measured by other settings, such as another outline
])  # fmt: skip
def test_what_says_something_else_supersedes(session, other):
    keep(session, FIRST)
    keep(session, FIRST._replace(**other))
    assert session.record.measured[1][1].replaces == 1


def test_a_measurement_of_what_is_gone_is_refused_and_nothing_is_recorded(session, refused):
    sentence = refused(keep_measuring, (), [FIRST, FIRST._replace(coupon=9)])
    assert sentence == "This coupon is no longer on the board; it may have been taken away by undo."


def test_accepting_gives_the_grade_of_the_percent_and_names_who_accepted(session):
    keep(session, FIRST)
    session.do(accept_measurement, 1, 1, "Ann")
    grading = session.record.grading(1, 1)
    assert (grading.grade, grading.distribution, grading.percent) == (7, "S", 0.2)  # D610: 0.1 < 0.2 <= 0.3 is a 7
    assert (grading.grader, grading.source) == ("Ann", "photo confirmed")


def test_accepting_over_the_eyes_grade_keeps_both(session):
    session.do(grade_coupon, GivenGrade(1, 1, 8, grader="Ann"))
    keep(session, FIRST)
    session.do(accept_measurement, 1, 1, "Ann")
    assert [(each.grade, each.source, each.state) for each in session.gradings(1, 1)] == [
        (8, "eye", "superseded"),
        (7, "photo confirmed", "current"),
    ]
    assert session.record.measured[1][1].percent == 0.2


def test_accepting_many_leaves_the_graded_ones_as_they_are(session):
    session.do(grade_coupon, GivenGrade(1, 1, 8))
    keep(session, FIRST, FIRST._replace(coupon=2, percent=2.0, low=1.0, high=3.0))
    assert session.do(accept_measurements, 1, [1, 2], "Ann").summary.text() == (
        "Take over 1 measured grade from IMG_1.jpg"
    )
    assert (session.record.grading(1, 1).grade, session.record.grading(2, 1).grade) == (8, 5)
    session.undo()
    assert session.record.grading(2, 1) is None


def test_there_must_be_something_to_accept(session, refused):
    assert "There is no measurement of this coupon" in refused(accept_measurement, 1, 1, "Ann")
    keep(session, FIRST._replace(percent=None, low=None, high=None, present="missing"))
    assert "There is no measurement of this coupon" in refused(accept_measurement, 1, 1, "Ann")
    keep(session, FIRST)
    session.do(grade_coupon, GivenGrade(1, 1, 8))
    assert "graded at this inspection already" in refused(accept_measurements, 1, [1], "Ann")


def test_a_photo_of_no_inspection_gives_no_grade(session, refused):
    session.do(add_photo, replace(session.record.photos[1], key=0, sha256="1" * 64, file="b.jpg", inspection=None))
    keep(session, FIRST._replace(photo=2))
    assert "belongs to no inspection" in refused(accept_measurement, 2, 1, "Ann")


def test_a_measured_coupon_is_not_removed(session, refused):
    keep(session, FIRST)
    assert refused(remove_coupon, 1) == (
        "Coupon C1 was measured or is in the day log, which is never erased; take it off the board instead."
    )
