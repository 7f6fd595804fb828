"""Photos: added in sets, tied to inspections by their time, their clocks put right, removed."""

from __future__ import annotations

import tempfile
from contextlib import closing
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rustboard.board.measured import Measurement
from rustboard.board.model import Board, Coupon, Inspection, Photo
from rustboard.board.position import Position
from rustboard.operations.coupons import add_coupon
from rustboard.operations.grading import GivenGrade, grade_coupon
from rustboard.operations.inspections import add_inspection, edit_inspection
from rustboard.operations.photo_ties import FROM_A_PHOTO
from rustboard.operations.photos import add_photos, remove_photo, set_taken, shift_clock, tie_photo, tie_photo_alone
from rustboard.session.photo_days import kept_by_grades
from rustboard.session.session import Session
from rustboard.store.board_store import create_board
from rustboard.store.measuring_tables import MEASUREMENTS
from rustboard.store.tables import BoardRow
from rustboard.support.summary import Summary

NINE = datetime(2026, 3, 2, 9)
DAY = timedelta(days=1)


def minutes(number: float) -> datetime:
    return NINE + timedelta(minutes=number)


def photo(number: int, taken: datetime | None = NINE) -> Photo:
    digest = f"{number:064x}"
    return Photo(f"IMG_{number}.jpg", f"x-{number:016x}.jpg", digest, 400, 300, taken=taken, camera_time=taken)


def measured_in(tx, photo_key: int, coupon_key: int) -> Summary:
    found = Measurement(0, photo_key, coupon_key, 1, "", 1.0, 0.5, 2.0, 1, 1.0, "S", 0.0, 0.0, 0.01, True, True,
                        (0.0, 0.0, 0.0, 1.0), "there", (), "2026-03-02T09:00:00")  # fmt: skip
    key = tx.put(MEASUREMENTS, found)
    tx.put(MEASUREMENTS, found._replace(key=key, state="superseded"))
    tx.put(MEASUREMENTS, found._replace(replaces=key))
    return Summary("Measure")


def visits(session: Session) -> list[datetime]:
    return [each.at for each in session.record.inspections_in_order()]


def visit_of(session: Session, number: int) -> datetime | None:
    """Return the time of the inspection that a photo belongs to."""
    (found,) = (each for each in session.record.photos.values() if each.name == f"IMG_{number}.jpg")
    return None if found.inspection is None else session.record.inspections[found.inspection].at


def test_a_photo_of_a_day_without_an_inspection_makes_one(session):
    changes = session.do(add_photos, [photo(1)])
    assert session.record.inspections == {1: Inspection(NINE, note=FROM_A_PHOTO, key=1)}
    assert session.record.photos[1] == replace(photo(1), inspection=1, key=1)
    assert changes.summary.text() == "Add photo IMG_1.jpg, 1 new inspection"


def test_a_photo_belongs_to_the_nearest_inspection_of_its_day(session):
    for at in (NINE, NINE.replace(hour=15), NINE + DAY):
        session.do(add_inspection, Inspection(at))
    changes = session.do(add_photos, [photo(1, NINE.replace(hour=11)), photo(2, NINE.replace(hour=23))])
    assert (visit_of(session, 1), visit_of(session, 2)) == (NINE, NINE.replace(hour=15))
    assert changes.summary.text() == "Add 2 photos, 0 new inspections"


def test_photos_within_half_an_hour_share_an_inspection_and_later_ones_do_not(session):
    session.do(
        add_photos, [photo(number, minutes(at)) for number, at in enumerate((0, 30, 60, 91, -DAY.days * 1440))]
    )
    assert visits(session) == [NINE - DAY, NINE, minutes(91)]
    assert [visit_of(session, number) for number in range(5)] == [NINE, NINE, NINE, minutes(91), NINE - DAY]


def test_half_an_hour_counts_across_midnight(session):
    late = NINE.replace(hour=23, minute=50)
    session.do(add_photos, [photo(1, late), photo(2, late + timedelta(minutes=20))])
    assert visits(session) == [late]


def test_a_set_is_one_step_of_undo_and_comes_back(session):
    session.do(add_photos, [photo(1), photo(2, NINE + DAY), photo(3, None)])
    before = session.record.snapshot()
    assert visit_of(session, 3) is None
    session.undo()
    assert (session.record.photos, session.record.inspections) == ({}, {})
    session.redo()
    assert session.record == before


def test_times_are_kept_as_the_clock_on_the_wall_showed_them(session):
    session.do(add_photos, [photo(1, datetime(2026, 3, 2, 9, 0, 5, 7, tzinfo=UTC))])
    assert session.record.photos[1].taken == session.record.photos[1].camera_time == datetime(2026, 3, 2, 9, 0, 5)


def test_what_cannot_be_added_is_refused_whole(session, refused):
    assert refused(add_photos, []) == "There is no photo to add; choose some."
    assert refused(add_photos, [photo(1), photo(1)]) == "IMG_1.jpg: This photo is on the board already."
    assert refused(add_photos, [photo(1), photo(2, datetime(1850, 1, 1))]).startswith(
        "IMG_2.jpg: The photo was taken"
    )
    assert "no longer on the board" in refused(add_photos, [replace(photo(1), inspection=7)])


def everything(session: Session) -> object:
    record = session.record
    at = {key: each.at for key, each in record.inspections.items()}
    photos = {(each.name, each.taken, at.get(each.inspection or 0)) for each in record.photos.values()}
    return photos, sorted((each.at, each.note) for each in record.inspections.values())


times = st.lists(st.integers(0, 3 * 24 * 6).map(lambda tens: minutes(10 * tens)), min_size=1, max_size=8)


@settings(max_examples=20, deadline=None)
@given(taken=times, order=st.randoms(use_true_random=False), parts=st.integers(1, 8), with_visit=st.booleans())
def test_any_order_and_any_division_into_sets_gives_the_same_photos_and_inspections(taken, order, parts, with_visit):
    photos = [photo(number, at) for number, at in enumerate(taken)]
    mixed = list(photos)
    order.shuffle(mixed)
    found = []
    with tempfile.TemporaryDirectory() as folder:
        for name, sets in (("one", [photos]), ("more", [mixed[start::parts] for start in range(parts)])):
            create_board(Path(folder) / name, BoardRow(Board("Harbour wall")))
            with closing(Session(Path(folder) / name, clock=lambda: NINE)) as session:
                if with_visit:
                    session.do(add_inspection, Inspection(NINE + DAY))
                steps = [session.do(add_photos, each) for each in sets if each]
                found.append(everything(session))
                for _ in steps:
                    session.undo()
                assert not session.record.photos
                assert len(session.record.inspections) == with_visit
    assert found[0] == found[1]


def test_a_wrong_clock_is_put_right_and_its_inspections_move_along(session):
    session.do(add_photos, [photo(1), photo(2, minutes(10)), photo(3, NINE + DAY)])
    changes = session.do(shift_clock, [1, 2, 3], 25 * 3600)
    assert visits(session) == [NINE + timedelta(hours=25), NINE + DAY + timedelta(hours=25)]
    assert sorted(session.record.inspections) == [1, 2]
    assert session.record.photos[1].taken == NINE + timedelta(hours=25)
    assert session.record.photos[1].camera_time == NINE
    assert changes.summary.text() == "Shift the time of 3 photos by +25:00:00; 2 inspections moved along"
    session.do(shift_clock, [1, 2, 3], -25 * 3600)
    assert visits(session) == [NINE, NINE + DAY]


def test_photos_put_right_are_tied_to_the_visit_of_their_true_day(session):
    session.do(add_inspection, Inspection(NINE))
    session.do(add_photos, [photo(1, NINE + DAY)])
    assert visits(session) == [NINE, NINE + DAY]
    changes = session.do(shift_clock, [1], -86_400)
    assert visits(session) == [NINE]
    assert visit_of(session, 1) == NINE
    assert changes.summary.text() == "Shift the time of 1 photo by -24:00:00; 1 inspection taken away"
    session.undo()
    assert visits(session) == [NINE, NINE + DAY]


def test_an_inspection_with_a_grade_or_that_was_edited_stays_where_it_is(session):
    session.do(add_coupon, Coupon("C1", Position(0, 0)))
    session.do(add_photos, [photo(1), photo(2, NINE + DAY), photo(3, NINE + 2 * DAY)])
    session.do(grade_coupon, GivenGrade(1, 1, 10))
    session.do(edit_inspection, replace(session.record.inspections[2], light="overcast"))
    session.do(shift_clock, [1, 2, 3], 3600)
    assert visits(session) == [NINE, NINE + DAY, NINE + 2 * DAY + timedelta(hours=1)]
    assert [visit_of(session, number) for number in (1, 2, 3)] == visits(session)


def test_a_shift_that_cannot_be_is_refused(session, refused):
    session.do(add_photos, [photo(1), photo(2, None)])
    assert refused(shift_clock, [], 5) == "There is no photo whose time could be shifted; choose some."
    assert refused(shift_clock, [1, 2], 5) == "IMG_2.jpg: This photo has no time that could be shifted; set its time."
    assert "check the camera's clock" in refused(shift_clock, [1], 200 * 366 * 86_400)
    assert "centuries" in refused(shift_clock, [1], 10**15)
    assert "no longer on the board" in refused(shift_clock, [9], 5)


def test_a_time_that_was_missing_is_given(session, refused):
    session.do(add_photos, [photo(1, None)])
    changes = session.do(set_taken, 1, minutes(5))
    assert visit_of(session, 1) == minutes(5)
    assert session.record.photos[1].camera_time is None
    assert changes.summary.text() == "Set the time of photo IMG_1.jpg to 2026-03-02 09:05"
    assert "check the camera's clock" in refused(set_taken, 1, datetime(1, 1, 1))
    session.undo()
    assert visits(session) == []


def test_a_photo_is_tied_by_hand_and_the_inspection_it_alone_had_made_goes(session):
    session.do(add_inspection, Inspection(NINE))
    session.do(add_photos, [photo(1, NINE + DAY)])
    changes = session.do(tie_photo, 1, 1)
    assert (visits(session), visit_of(session, 1)) == ([NINE], NINE)
    assert changes.summary.text() == "Photo IMG_1.jpg belongs to the inspection of 2026-03-02 09:00"
    assert session.do(tie_photo, 1, 1).tables == {}
    changes = session.do(tie_photo, 1, None)
    assert visit_of(session, 1) is None
    assert changes.summary.text() == "Photo IMG_1.jpg belongs to no inspection"
    session.undo()
    session.undo()
    assert visits(session) == [NINE, NINE + DAY]


def test_a_photo_tied_by_hand_to_an_inspection_that_photos_made_does_not_move_it(session):
    session.do(add_photos, [photo(1), photo(2, NINE - DAY)])
    earlier, later = sorted(session.record.inspections.values(), key=lambda each: each.at)
    session.do(tie_photo, 2 if session.record.photos[2].taken != NINE else 1, later.key)
    session.do(tie_photo, next(iter(session.record.photos)), later.key)
    assert visits(session) == [NINE]
    assert earlier.key not in session.record.inspections


def test_a_photo_gets_an_inspection_of_its_own(session, refused):
    session.do(add_photos, [photo(1), photo(2, minutes(10)), photo(3, None)])
    assert visits(session) == [NINE]
    changes = session.do(tie_photo_alone, 2)
    assert visits(session) == [NINE, minutes(10)]
    assert (visit_of(session, 1), visit_of(session, 2)) == (NINE, minutes(10))
    assert changes.summary.text() == "Photo IMG_2.jpg has an inspection of its own"
    assert session.do(tie_photo_alone, 2).tables == {}
    assert "has no time" in refused(tie_photo_alone, 3)
    session.do(tie_photo, 2, None)
    assert visits(session) == [NINE]
    session.do(add_inspection, Inspection(minutes(10)))
    assert "an inspection at this date and time already" in refused(tie_photo_alone, 2)


@pytest.mark.parametrize("shift", [86_400, 3 * 3600])
def test_a_photo_of_an_inspection_with_grades_stays_with_it_and_the_record_says_so(session, shift):
    session.do(add_coupon, Coupon("C1", Position(0, 0)))
    session.do(add_photos, [photo(1)])
    session.do(add_inspection, Inspection(NINE + timedelta(seconds=shift)))
    session.do(grade_coupon, GivenGrade(1, 1, 10))  # by eye
    changes = session.do(shift_clock, [1], shift)
    assert visit_of(session, 1) == NINE
    assert changes.summary.text().endswith("1 photo kept with the grades of their inspection")
    session.do(set_taken, 1, NINE + 2 * DAY)
    assert visit_of(session, 1) == NINE
    assert [each.key for each in kept_by_grades(session.record, [1])] == [1]


def test_a_photo_is_removed_with_what_was_measured_in_it(session):
    session.do(add_coupon, Coupon("C1", Position(0, 0)))
    session.do(add_photos, [photo(1), photo(2, minutes(5))])
    session.do(measured_in, 1, 1)
    before = session.record.snapshot()
    assert before.measured
    changes = session.do(remove_photo, 1)
    assert changes.summary.text() == "Remove photo IMG_1.jpg"
    assert (list(session.record.photos), session.record.measured) == ([2], {})
    assert visits(session) == [minutes(5)]
    session.do(remove_photo, 2)
    assert visits(session) == []
    session.undo()
    session.undo()
    assert session.record == before


def test_a_photo_from_which_a_grade_was_taken_over_stays(session, refused):
    session.do(add_coupon, Coupon("C1", Position(0, 0)))
    session.do(add_photos, [photo(1)])
    session.do(measured_in, 1, 1)
    session.do(grade_coupon, GivenGrade(1, 1, 6, percent=1.0, source="photo confirmed"))
    said = "IMG_1.jpg: Grades were taken over from this photo or given by it, so it stays with their inspection."
    assert refused(remove_photo, 1) == said
    assert refused(tie_photo, 1, None) == said
    session.do(grade_coupon, GivenGrade(1, 1, 7))
    assert refused(remove_photo, 1) == said
    session.do(shift_clock, [1], 86_400)
    assert (session.record.photos[1].taken, visit_of(session, 1)) == (NINE + DAY, NINE)


@pytest.mark.parametrize("operation", [remove_photo, set_taken, tie_photo])
def test_a_photo_that_is_not_there_is_refused(refused, operation):
    more = {remove_photo: (), set_taken: (NINE,), tie_photo: (None,)}[operation]
    assert "photo is no longer on the board" in refused(operation, 5, *more)
