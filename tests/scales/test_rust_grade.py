"""Rust grades from percent, and their limits."""

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rustboard.scales.rust_grade import (
    check_percent,
    grade_from_percent,
    limits_percent,
    middle_percent,
    percent_text,
)
from rustboard.support.problems import InputError

percents = st.floats(0, 100)
grades = st.integers(0, 10)


# ASTM D610 table, seen in a copy of the standard; lower limit exclusive, upper inclusive.
@pytest.mark.parametrize(
    ("percent", "grade"),
    [
        (0, 10),
        (0.01, 10),
        (0.0100001, 9),
        (0.03, 9),
        (0.1, 8),
        (0.3, 7),
        (1.0, 6),
        (3.0, 5),
        (10, 4),
        (16, 3),
        (33, 2),
        (50, 1),
        (50.01, 0),
        (100, 0),
    ],
)
def test_the_grade_is_that_of_the_published_table(percent: float, grade: int) -> None:
    assert grade_from_percent(percent) == grade


@pytest.mark.parametrize("percent", [-0.0001, 100.0001, math.nan, math.inf, -math.inf])
def test_a_percent_that_no_surface_can_have_is_refused_in_a_sentence(percent: float) -> None:
    with pytest.raises(InputError, match="is not a percent of a surface; give 0 to 100"):
        grade_from_percent(percent)
    with pytest.raises(InputError, match="column percent"):
        check_percent(percent)


@given(percents, percents)
def test_more_rust_is_never_a_better_grade(one: float, other: float) -> None:
    less, more = sorted((one, other))
    assert grade_from_percent(less) >= grade_from_percent(more)


@given(grades)
def test_the_upper_limit_belongs_to_the_grade_and_the_next_number_above_does_not(grade: int) -> None:
    lower, upper = limits_percent(grade)
    assert grade_from_percent(upper) == grade
    assert grade_from_percent(math.nextafter(lower, 100)) == grade
    if grade > 0:
        assert grade_from_percent(math.nextafter(upper, 100)) == grade - 1


def test_the_limits_of_all_grades_join_without_gap_from_nothing_to_the_whole_surface() -> None:
    limits = [limits_percent(grade) for grade in range(10, -1, -1)]
    assert limits[0] == (0, 0.01)
    assert limits[-1] == (50, 100)
    assert all(before[1] == after[0] for before, after in pairwise(limits))


@given(grades)
def test_the_middle_of_a_grade_has_that_grade(grade: int) -> None:
    assert grade_from_percent(middle_percent(grade)) == grade


def test_middles_are_geometric_and_grade_10_takes_half_its_limit() -> None:
    assert middle_percent(7) == pytest.approx(math.sqrt(0.1 * 0.3))
    assert middle_percent(1) == pytest.approx(math.sqrt(33 * 50))
    assert middle_percent(0) == pytest.approx(math.sqrt(50 * 100))
    assert middle_percent(10) == 0.005


@pytest.mark.parametrize("grade", [-1, 11, True, 7.5])
def test_a_grade_the_scale_does_not_have_is_refused(grade: int) -> None:
    for question in (limits_percent, middle_percent, percent_text):
        with pytest.raises(InputError, match="is not a grade"):
            question(grade)


def test_limits_read_plainly() -> None:
    assert [percent_text(grade) for grade in (10, 9, 7, 6, 5, 2, 0)] == [
        "up to 0.01 %",
        "0.01 to 0.03 %",
        "0.1 to 0.3 %",
        "0.3 to 1 %",
        "1 to 3 %",
        "16 to 33 %",
        "over 50 %",
    ]
