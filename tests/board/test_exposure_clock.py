"""The clocks that exposure is told by."""

from __future__ import annotations

from datetime import datetime, timedelta
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rustboard.board.exposure_clock import (
    ExposureClock,
    control_clock,
    controls_lost,
    counted_clock,
    day_clock,
    has_graded_controls,
)
from rustboard.board.model import Board, Coupon, Grading, Inspection
from rustboard.board.record import BoardRecord
from rustboard.board.series import inspection_days

START = datetime(2026, 3, 2, 9)


def board_of(histories: dict[str, list[int | None]], *, controls: int, after: float = 0.0) -> BoardRecord:
    """A board whose first coupons are controls, graded once a week, the first time ``after`` days."""
    record = BoardRecord(Board("Yard", started=START))
    count = max((len(each) for each in histories.values()), default=0)
    for number in range(count):
        at = START + timedelta(days=after + 7 * number)
        record.inspections[number + 1] = Inspection(at, key=number + 1)
    for key, (name, grades) in enumerate(histories.items(), start=1):
        record.coupons[key] = Coupon(name, role="control" if key <= controls else "test", key=key)
        record.current[key] = {
            at: Grading(0, key, at, grade, "", None, "", "eye", "", "")
            for at, grade in enumerate(grades, start=1)
            if grade is not None
        }
    return record


def lost(record: BoardRecord) -> list[float]:
    return controls_lost(record, sorted(record.inspections))


def test_the_control_clock_is_ten_less_the_mean_of_the_controls() -> None:
    record = board_of({"K1": [10, 8, 4], "K2": [10, 6, 2], "C1": [10, 1, 1]}, controls=2)
    assert lost(record) == [0, 3, 7]


def test_a_control_that_was_not_graded_keeps_its_last_known_grade() -> None:
    assert lost(board_of({"K1": [10, 8, 4], "K2": [10, None, 2]}, controls=2)) == [0, 1, 7]


def test_a_better_grade_never_turns_the_clock_back() -> None:
    assert lost(board_of({"K1": [10, 6, 8, 5]}, controls=1)) == [0, 4, 4, 5]


def test_at_zero_the_clock_stands_still() -> None:
    record = board_of({"K1": [10, 0, 0, 0]}, controls=1)
    clock = control_clock(record, inspection_days(record))
    assert clock.places == (0, 10, 10, 10)
    assert [clock.at_day(day) for day in (3.5, 7, 20)] == [5, 10, 10]


def test_the_clock_begins_at_zero_on_the_first_day_whatever_the_first_grade() -> None:
    record = board_of({"K1": [8, 6]}, controls=1, after=4)
    clock = control_clock(record, inspection_days(record))
    assert (clock.at_day(0), clock.at_day(2), clock.at_day(4)) == (0, 1, 2)


def test_without_a_graded_control_there_is_nothing_to_count() -> None:
    assert not has_graded_controls(board_of({"C1": [10, 5]}, controls=0))
    assert not has_graded_controls(board_of({"K1": [None, None]}, controls=1))
    assert has_graded_controls(board_of({"K1": [None, 9]}, controls=1))
    assert lost(board_of({"C1": [10, 5]}, controls=0)) == [0, 0]


def test_days_are_their_own_clock() -> None:
    record = board_of({"C1": [10, 5]}, controls=0)
    clock = day_clock(inspection_days(record))
    assert clock.places == (0, 7)
    assert (clock.at_day(3.25), clock.day_at(3.25)) == (3.25, 3.25)


grades = st.lists(st.one_of(st.none(), st.integers(0, 10)), min_size=1, max_size=12)


@given(grades, grades)
def test_the_control_clock_never_runs_back_and_stays_within_the_scale(
    one: list[int | None], two: list[int | None]
) -> None:
    record = board_of({"K1": one, "K2": two}, controls=2)
    places = control_clock(record, inspection_days(record)).places
    assert all(0 <= before <= after <= 10 for before, after in pairwise((0, *places)))


@st.composite
def clocks(draw: st.DrawFn) -> ExposureClock:
    days = sorted(draw(st.sets(st.integers(0, 50), min_size=2, max_size=8)))
    values = draw(st.lists(st.integers(0, 9), min_size=len(days), max_size=len(days)))
    return counted_clock("rain", [float(each) for each in values], days, values, 1.0)


@given(clocks(), st.floats(-5, 60), st.floats(0, 10))
def test_a_later_day_never_lies_before_an_earlier_one(clock: ExposureClock, day: float, later: float) -> None:
    assert clock.at_day(day) <= clock.at_day(day + later)


@given(clocks(), st.floats(0, 1))
def test_a_place_and_its_day_belong_together(clock: ExposureClock, part: float) -> None:
    value = clock.values[0] + (clock.values[-1] - clock.values[0]) * part
    assert clock.at_day(clock.day_at(value)) == pytest.approx(value, abs=1e-9)


def test_what_is_known_is_a_share() -> None:
    assert counted_clock("rain", [0.0], [0.0], [0.0], 1.0000001).known == 1.0
