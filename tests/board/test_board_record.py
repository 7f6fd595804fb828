"""Questions asked of a board in memory."""

from datetime import datetime, timedelta

import pytest

from rustboard.board.model import AxisLabel, Board, Coupon, Grading, Inspection, Photo, Treatment
from rustboard.board.position import parse_position
from rustboard.board.record import BoardRecord

START = datetime(2026, 3, 2, 9)
SQUARE_ON = (1.0, 0.0, 0.0, 0.0, 1.0, 0.0, 0.0, 0.0, 1.0)


def visit(key, days):
    return Inspection(START + timedelta(days=days), key=key)


def graded(coupon, inspection, grade):
    return Grading(coupon * 100 + inspection, coupon, inspection, grade, "", None, "Mara", "eye", "", "2026-03-02")


@pytest.fixture
def record():
    """Three coupons, one off the board, and three visits; inspection keys do not follow time."""
    hung = {"C2": "B1", "C1": "A2", "C3": None}
    coupons = {
        key: Coupon(name, None if place is None else parse_position(place), treatment=1 if key < 3 else None, key=key)
        for key, (name, place) in enumerate(hung.items(), 1)
    }
    record = BoardRecord(
        Board("b"),
        treatments={1: Treatment("T1", key=1)},
        coupons=coupons,
        inspections={5: visit(5, 10), 6: visit(6, 0), 7: visit(7, 4)},
    )
    record.current = {1: {6: graded(1, 6, 10), 5: graded(1, 5, 7)}, 2: {7: graded(2, 7, 9)}}
    return record


def test_inspections_are_in_the_order_of_time(record):
    assert [each.key for each in record.inspections_in_order()] == [6, 7, 5]


def test_coupons_are_in_reading_order_and_those_off_the_board_last(record):
    assert [each.id for each in record.coupons_in_order()] == ["C1", "C2", "C3"]


def test_a_coupon_is_found_by_its_position(record):
    assert record.coupon_at(parse_position("B1")).id == "C2"
    assert record.coupon_at(parse_position("C7")) is None


def test_a_coupon_has_a_treatment_or_none(record):
    assert record.treatment_of(record.coupons[1]).id == "T1"
    assert record.treatment_of(record.coupons[3]) is None


def test_exposure_begins_at_the_first_inspection_unless_stated(record):
    assert record.day_zero() == START
    assert record.day_of(START + timedelta(hours=36)) == 1.5
    record.board = Board("b", started=START - timedelta(days=1))
    assert record.day_of(START) == 1.0
    assert record.day_of(START - timedelta(days=2)) == -1.0


def test_a_board_without_any_date_stands_at_day_zero():
    empty = BoardRecord(Board("b"))
    assert empty.day_zero() is None
    assert empty.day_of(START) == 0.0


def test_a_history_tells_where_a_visit_passed_without_a_grade(record):
    history = record.history(1)
    assert [(point.day, point.grading.grade, point.missed) for point in history] == [
        (0.0, 10, False),
        (10.0, 7, True),
    ]


def test_visits_before_the_first_grade_are_not_missed(record):
    assert [(point.day, point.missed) for point in record.history(2)] == [(4.0, False)]
    assert record.history(3) == []


def test_the_latest_grade_may_be_asked_for_a_time(record):
    assert record.latest(1).grade == 7
    assert record.latest(1, until=record.inspections[7]).grade == 10
    assert record.latest(2, until=record.inspections[6]) is None
    assert record.latest(3) is None


def test_ungraded_are_only_the_coupons_on_the_board(record):
    assert [each.id for each in record.ungraded(7)] == ["C2"]
    assert [each.id for each in record.ungraded(6)] == ["C1"]


def test_current_grades_come_by_time_then_in_reading_order(record):
    assert [(visit.key, coupon.id) for visit, coupon, _ in record.current_gradings()] == [
        (6, "C2"),
        (7, "C1"),
        (5, "C2"),
    ]


def test_labels_of_rows_and_columns_are_kept_apart(record):
    record.axis_labels = {1: AxisLabel("row", 0, "upper"), 2: AxisLabel("column", 0, "shade")}
    assert (record.axis_label("row", 0), record.axis_label("column", 0), record.axis_label("row", 1)) == (
        "upper",
        "shade",
        "",
    )


def test_photos_count_from_when_they_show_the_board(record):
    def photo(key, **more):
        return Photo(f"{key}.jpg", f"{key}.jpg", f"{key}", 10, 10, key=key, **more)

    record.photos = {
        1: photo(1, taken=START + timedelta(days=3), mm_to_px=SQUARE_ON),
        2: photo(2, taken=START + timedelta(days=99), inspection=6, mm_to_px=SQUARE_ON),
        3: photo(3, taken=START + timedelta(days=5)),
        4: photo(4, mm_to_px=SQUARE_ON),
        5: photo(5, inspection=5, mm_to_px=SQUARE_ON),
    }
    assert record.first_photo().key == 2
    assert record.newest_photo().key == 5
    assert record.newest_photo(until=record.inspections[7]).key == 1


def test_a_board_without_photos_has_none(record):
    assert record.first_photo() is None
    assert record.newest_photo() is None
