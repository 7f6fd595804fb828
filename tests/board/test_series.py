"""Histories as steps: gaps stay gaps, bands hold every replicate."""

from __future__ import annotations

from datetime import datetime, timedelta
from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from rustboard.board.model import Board, Coupon, Grading, Inspection
from rustboard.board.record import BoardRecord
from rustboard.board.series import (
    band_series,
    coupon_series,
    inspection_days,
    runs_of,
    treatment_series,
)

START = datetime(2026, 3, 2, 9)
TREATMENT = 7

Histories = list[list[int | None]]


def record_of(histories: Histories, hours: list[int], started: datetime | None = START) -> BoardRecord:
    """A board with one coupon a history; ``hours`` are those of the inspections after the start, in any order."""
    record = BoardRecord(Board("Yard", started=started))
    for key, each in enumerate(hours, start=1):
        record.inspections[key] = Inspection(START + timedelta(hours=each), key=key)
    in_order = [each.key for each in record.inspections_in_order()]
    for key, grades in enumerate(histories, start=1):
        record.coupons[key] = Coupon(f"C{key:02d}", treatment=TREATMENT, key=key)
        for inspection, grade in zip(in_order, grades, strict=True):
            if grade is not None:
                grading = Grading(0, key, inspection, grade, "", None, "", "eye", "", "")
                record.current.setdefault(key, {})[inspection] = grading
    return record


@st.composite
def boards(draw: st.DrawFn) -> tuple[BoardRecord, Histories]:
    hours = draw(st.lists(st.integers(-2_000, 20_000), unique=True, max_size=12))
    grade = st.none() | st.integers(0, 10)
    histories = draw(st.lists(st.lists(grade, min_size=len(hours), max_size=len(hours)), min_size=1, max_size=5))
    started = draw(st.sampled_from([START, None]))
    return record_of(histories, hours, started), histories


@given(boards())
def test_no_segment_crosses_an_inspection_in_which_the_coupon_was_not_graded(
    board: tuple[BoardRecord, Histories],
) -> None:
    record, histories = board
    days = [each.day for each in inspection_days(record)]
    for key, history in enumerate(histories, start=1):
        missed = [day for day, grade in zip(days, history, strict=True) if grade is None]
        for segment in coupon_series(record, key).segments():
            assert not [day for day in missed if segment.start <= day <= segment.end]


@given(boards())
def test_every_pair_of_neighbouring_graded_inspections_is_joined_at_the_earlier_grade(
    board: tuple[BoardRecord, Histories],
) -> None:
    record, histories = board
    days = [each.day for each in inspection_days(record)]
    for key, history in enumerate(histories, start=1):
        expected = [
            (start, end, held, then)
            for (start, held), (end, then) in pairwise(zip(days, history, strict=True))
            if held is not None and then is not None
        ]
        assert [tuple(each) for each in coupon_series(record, key).segments()] == expected


@given(boards())
def test_points_are_the_grades_that_count_in_order_of_time(board: tuple[BoardRecord, Histories]) -> None:
    record, histories = board
    for key, history in enumerate(histories, start=1):
        points = coupon_series(record, key).points
        assert [(each.order, each.grade) for each in points] == [
            (order, grade) for order, grade in enumerate(history) if grade is not None
        ]
        assert [each.day for each in points] == sorted(each.day for each in points)
        assert [each.day for each in points] == [each.day for each in record.history(key)]


@given(boards())
def test_a_band_holds_every_replicate_and_counts_them(board: tuple[BoardRecord, Histories]) -> None:
    record, histories = board
    series = treatment_series(record, TREATMENT)
    for point in series.points:
        graded = sorted(each for history in histories if (each := history[point.order]) is not None)
        assert point.graded == len(graded)
        assert (point.low, point.high) == (graded[0], graded[-1])
        # Half of the replicates are at or below the median, half at or above.
        assert 2 * sum(each <= point.median for each in graded) >= len(graded)
        assert 2 * sum(each >= point.median for each in graded) >= len(graded)


@given(boards())
def test_a_band_breaks_exactly_where_no_replicate_was_graded(board: tuple[BoardRecord, Histories]) -> None:
    record, histories = board
    series = treatment_series(record, TREATMENT)
    anyone = [any(history[at] is not None for history in histories) for at in range(len(record.inspections))]
    assert [each.order for each in series.points] == [at for at, graded in enumerate(anyone) if graded]
    assert len(list(series.segments())) == sum(before and after for before, after in pairwise(anyone))


@given(st.sets(st.integers(0, 40)))
def test_every_point_is_in_exactly_one_run_and_runs_have_no_number_missing(orders: set[int]) -> None:
    rising = sorted(orders)
    runs = runs_of(rising)
    assert [at for first, last in runs for at in range(first, last + 1)] == list(range(len(rising)))
    for first, last in runs:
        assert rising[last] - rising[first] == last - first
    for (_, last), (first, _) in pairwise(runs):
        assert rising[first] > rising[last] + 1


def test_a_coupon_graded_again_after_a_missed_inspection_starts_a_new_line() -> None:
    record = record_of([[10, 9, None, 7, None, 6]], [0, 24, 48, 72, 96, 120])
    series = coupon_series(record, 1)
    assert [tuple(each) for each in series.segments()] == [(0.0, 1.0, 10, 9)]
    assert series.runs == ((0, 1), (2, 2), (3, 3))


def test_days_count_from_the_start_of_exposure_and_are_negative_before_it() -> None:
    record = record_of([[10, 10]], [36, -12])
    assert [each.day for each in inspection_days(record)] == [-0.5, 1.5]


def test_days_count_from_the_first_inspection_when_the_start_is_not_noted() -> None:
    record = record_of([[10, 10]], [24, 84], started=None)
    assert [each.day for each in inspection_days(record)] == [0.0, 2.5]


def test_a_board_without_inspections_has_empty_histories() -> None:
    record = record_of([[]], [], started=None)
    assert inspection_days(record) == ()
    assert coupon_series(record, 1).points == ()
    assert treatment_series(record, TREATMENT).runs == ()


def test_two_replicates_have_a_median_between_them() -> None:
    record = record_of([[8], [5]], [0])
    (point,) = band_series(record, [1, 2]).points
    assert (point.low, point.median, point.high, point.graded) == (5, 6.5, 8, 2)


def test_replicates_of_other_treatments_are_left_out() -> None:
    record = record_of([[8], [5]], [0])
    record.coupons[3] = Coupon("C03", treatment=8, key=3)
    record.current[3] = {1: Grading(0, 3, 1, 1, "", None, "", "eye", "", "")}
    assert treatment_series(record, TREATMENT).points[0].low == 5
    assert treatment_series(record, 8).points[0].high == 1
