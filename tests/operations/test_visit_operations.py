"""Inspections, treatments and photos: added, edited, removed while unused."""

import math
from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from rustboard.board.model import MOST_TREATMENTS, Coupon, Inspection, Photo, Treatment
from rustboard.operations.coupons import add_coupon
from rustboard.operations.grading import GivenGrade, grade_coupon
from rustboard.operations.inspections import add_inspection, edit_inspection, remove_inspection
from rustboard.operations.photos import add_photo
from rustboard.operations.treatments import add_treatment, add_treatments, edit_treatment, remove_treatment

NINE = datetime(2026, 3, 2, 9)
PHOTO = Photo("IMG.jpg", "undated-0123456789abcdef.jpg", "ab" * 32, 4000, 3000)


def test_an_inspection_is_added_as_it_was_described(session):
    changes = session.do(add_inspection, Inspection(NINE, " Ann", "overcast", "wet", "a\nb"))
    assert session.record.inspections == {1: Inspection(NINE, "Ann", "overcast", "wet", "a\nb", 1)}
    assert changes.summary.text() == "Add inspection of 2026-03-02 09:00"
    assert changes.tables == {"inspection": {1}}


def test_the_time_of_an_inspection_is_the_clock_on_the_wall_to_the_second(session):
    session.do(add_inspection, Inspection(datetime(2026, 3, 2, 9, 0, 5, 7, tzinfo=UTC)))
    assert session.record.inspections[1].at == datetime(2026, 3, 2, 9, 0, 5)


def test_an_inspection_is_edited(session, refused):
    session.do(add_inspection, Inspection(NINE))
    later = NINE + timedelta(minutes=5)
    changes = session.do(edit_inspection, Inspection(later, "Ben", key=1))
    assert session.record.inspections[1] == Inspection(later, "Ben", key=1)
    assert changes.summary.text() == "Edit inspection of 2026-03-02 09:00: at, grader"
    assert session.do(edit_inspection, Inspection(later, "Ben", key=1)).tables == {}
    assert refused(edit_inspection, Inspection(NINE, key=9)) == (
        "This inspection is no longer on the board; it may have been taken away by undo."
    )


@pytest.mark.parametrize(("at", "sentence"), [
    (NINE, "There is an inspection at this date and time already; use that one or change the time."),
    (datetime(1899, 12, 31), "The year of an inspection is between 1900 and 2200; check the date."),
    (datetime(2201, 1, 1), "The year of an inspection is between 1900 and 2200; check the date."),
    (datetime.max, "The year of an inspection is between 1900 and 2200; check the date."),
])  # fmt: skip
def test_an_inspection_at_a_time_that_cannot_be_is_refused(session, refused, at, sentence):
    session.do(add_inspection, Inspection(NINE))
    session.do(add_inspection, Inspection(NINE + timedelta(days=1)))
    assert refused(add_inspection, Inspection(at)) == sentence
    assert refused(edit_inspection, Inspection(at, key=2)) == sentence


def test_only_an_inspection_in_which_nothing_happened_is_removed(session, refused):
    for days in range(3):
        session.do(add_inspection, Inspection(NINE + timedelta(days=days)))
    session.do(add_coupon, Coupon("C1"))
    session.do(grade_coupon, GivenGrade(1, 1, 7))
    session.do(add_photo, replace(PHOTO, inspection=2))
    for key in (1, 2):
        assert refused(remove_inspection, key) == (
            "This inspection has grades or photos, which are never erased; edit its date instead."
        )
    assert session.do(remove_inspection, 3).summary.text() == "Remove inspection of 2026-03-04 09:00"
    assert sorted(session.record.inspections) == [1, 2]


def test_a_treatment_is_added_edited_and_removed(session):
    described = Treatment("T1", "hot wax", "wax", "brushed", "none", "beeswax", 2, "lot 7", 3.1, 40, "a\nb")
    assert session.do(add_treatment, described).summary.text() == "Add treatment hot wax"
    assert session.record.treatments == {1: replace(described, key=1)}
    changes = session.do(edit_treatment, replace(described, name="", coats=None, key=1))
    assert changes.summary.text() == "Edit treatment hot wax: name, coats"
    assert session.do(remove_treatment, 1).summary.text() == "Remove treatment T1"
    assert session.record.treatments == {}


@pytest.mark.parametrize(("treatment", "sentence"), [
    (Treatment(" "), "A treatment needs a short id such as T1."),
    (Treatment("t1"), "Another treatment has the id t1; choose a different one."),
    (Treatment("T2", coats=-1), "The number of coats is from 0 to 100; mend the number or leave it empty."),
    (Treatment("T2", coats=2**70), "The number of coats is from 0 to 100; mend the number or leave it empty."),
    (Treatment("T2", cost_per_m2=math.nan),
     "The cost per m² is from 0 to 1,000,000,000; mend the number or leave it empty."),
    (Treatment("T2", minutes_per_m2=math.inf),
     "The minutes per m² are from 0 to 1,000,000; mend the number or leave it empty."),
])  # fmt: skip
def test_a_treatment_that_cannot_be_is_refused(session, refused, treatment, sentence):
    session.do(add_treatment, Treatment("T1"))
    session.do(add_treatment, Treatment("T7"))
    assert refused(add_treatment, treatment) == sentence
    assert refused(edit_treatment, replace(treatment, key=2)) == sentence


def test_a_treatment_that_coupons_have_is_not_removed(session, refused):
    session.do(add_treatment, Treatment("T1", "hot wax"))
    session.do(add_coupon, Coupon("C1", treatment=1))
    assert refused(remove_treatment, 1) == (
        "hot wax is the treatment of 1 coupon (C1); choose another one there first."
    )
    for number in range(2, 8):
        session.do(add_coupon, Coupon(f"C{number}", treatment=1))
    assert refused(remove_treatment, 1) == (
        "hot wax is the treatment of 7 coupons (C1, C2, C3, C4, C5, …); choose another one there first."
    )
    assert refused(remove_treatment, 9) == (
        "This treatment is no longer on the board; it may have been taken away by undo."
    )


def test_a_board_holds_five_hundred_treatments_and_no_more(session, refused):
    session.do(_add_many, MOST_TREATMENTS)
    assert len(session.record.treatments) == MOST_TREATMENTS
    assert refused(add_treatment, Treatment("X")) == "A board holds at most 500 treatments; start a second board."


def _add_many(tx, count):
    from rustboard.support.summary import Summary

    add_treatments(tx, [Treatment(f"T{number}") for number in range(count)])
    return Summary("Add many")


def test_a_photo_is_recorded_with_its_placing(session):
    session.do(add_inspection, Inspection(NINE))
    placed = replace(PHOTO, name="IMG\x07.jpg", taken=NINE, inspection=1, mm_to_px=(1, 0, 0, 0, 1, 0, 0, 0, 1))
    changes = session.do(add_photo, placed)
    assert session.record.photos[1] == replace(placed, name="IMG\ufffd.jpg", key=1)
    assert changes.summary.text() == "Add photo IMG\ufffd.jpg"


@pytest.mark.parametrize(("photo", "sentence"), [
    (PHOTO, "IMG.jpg: This photo is on the board already."),
    (replace(PHOTO, sha256="cd", inspection=9),
     "This inspection is no longer on the board; it may have been taken away by undo."),
    (replace(PHOTO, sha256="cd", taken=datetime(1, 1, 1)),
     "IMG.jpg: The photo was taken in a year before 1900 or after 2200; check the camera's clock."),
])  # fmt: skip
def test_a_photo_that_cannot_be_is_refused(session, refused, photo, sentence):
    session.do(add_photo, PHOTO)
    assert refused(add_photo, photo) == sentence


@pytest.mark.parametrize("wrong", [{"width_px": 0}, {"height_px": 10**9}, {"mm_to_px": (math.nan,) * 9},
                                   {"mm_to_px": (1.0,) * 8}])  # fmt: skip
def test_what_could_not_be_read_back_is_a_mistake_of_ours_and_is_never_written(session, wrong):
    with pytest.raises(ValueError, match="is damaged"):
        session.do(add_photo, replace(PHOTO, **wrong))
    assert session.record.photos == {}
