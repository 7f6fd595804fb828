"""Measures of single coupons: worked out by hand, with invariants."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from judged_boards import judged_board, subject_for

from rustboard.board.exposure_clock import control_clock
from rustboard.board.series import inspection_days
from rustboard.findings.coupons.measures import Failure, weighted_mean_grade

DAYS = (0, 10, 20, 40)


def only(record, **question):
    (found,) = subject_for(record, **question).measures.values()
    return found


def test_the_mean_over_the_exposure_goes_evenly_from_grade_to_grade():
    # By hand: 10 to 8 over 10 days (90), 8 to 8 over 10 (80), 8 to 4 over 20 (120): 290 / 40.
    found = only(judged_board({"wax": [[10, 8, 8, 4]]}, days=DAYS))
    assert found.mean_grade == pytest.approx(7.25)
    assert (found.last_grade, found.gradings, found.last_place) == (4, 4, 40.0)


def test_a_coupon_first_graded_later_was_without_rust_when_exposure_began():
    # By hand: 10 to 8 over 20 days (180), 8 to 4 over 20 (120): 300 / 40.
    found = only(judged_board({"wax": [[None, None, 8, 4]]}, days=DAYS))
    assert found.mean_grade == pytest.approx(7.5)


def test_where_the_clock_stands_still_it_is_the_plain_mean():
    assert weighted_mean_grade([(3.0, 8.0), (3.0, 4.0)]) == 6.0
    assert weighted_mean_grade([(0.0, 7.0)]) == 7.0


def test_failing_lies_between_two_gradings_whoever_missed_some():
    record = judged_board({"wax": [[10, None, 7, 5]], "oil": [[7, 6, 5, 4]], "film": [[9, 9, 9, 8]]}, days=DAYS)
    wax, oil, film = (each.failure for each in subject_for(record, failing_grade=7).measures.values())
    assert wax == Failure(0.0, 20.0)
    assert oil == Failure(0.0, 0.0)
    assert film == Failure(40.0, None)


def test_a_better_grade_later_does_not_take_failing_back():
    found = only(judged_board({"wax": [[10, 7, 8, 8]]}, days=DAYS), failing_grade=7)
    assert found.failure == Failure(0.0, 10.0, recovered=True)


def test_a_stated_percent_decides_whether_a_coupon_has_failed():
    # ASTM D610: over 0.1 % is a 7, up to 0.1 % an 8.
    record = judged_board({"wax": [[10, 7, 6, 5]]}, days=DAYS, percents={("C100", 10): 0.1, ("C100", 20): 0.11})
    assert only(record, failing_grade=7).failure == Failure(10.0, 20.0)


def test_the_control_clock_tells_how_far_the_controls_had_gone():
    record = judged_board({"wax": [[10, 9, 7, 6]]}, control=[[10, 6, 2, 2]], days=DAYS)
    clock = control_clock(record, inspection_days(record))
    wax = subject_for(record, clock=clock).measures[100]
    assert wax.failure == Failure(4.0, 8.0)
    # By hand: 10 to 9 over 4 grades (38), 9 to 7 over 4 (32), nothing where the controls stood still: 70 / 8.
    assert wax.mean_grade == pytest.approx(8.75)


def test_time_above_failing_is_the_middle_of_the_interval_or_all_that_was_watched():
    record = judged_board({"wax": [[10, 10, 6, 5], [10, 9, 9, 9]]}, days=DAYS)
    values = subject_for(record, measure="days to failing grade").values
    assert list(values.values()) == [15.0, 40.0]


histories = st.lists(
    st.tuples(st.floats(0, 400), st.integers(0, 10)), min_size=1, max_size=12, unique_by=lambda x: x[0]
)


@given(histories)
def test_a_mean_grade_lies_between_the_worst_and_the_best(history):
    places = sorted((place, float(grade)) for place, grade in history)
    grades = [grade for _, grade in places]
    assert min(grades) - 1e-9 <= weighted_mean_grade(places) <= max(grades) + 1e-9


@given(histories)
def test_mirrored_grades_mirror_the_mean(history):
    places = sorted((place, float(grade)) for place, grade in history)
    mirrored = [(place, 10 - grade) for place, grade in places]
    assert weighted_mean_grade(mirrored) == pytest.approx(10 - weighted_mean_grade(places))
