"""Ratings of other scales through the percent rusted."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rustboard.scales.other_ratings import (
    FORMULA_REACHES_10,
    RI_AREAS,
    RatingRange,
    derived_ratings,
    protection_rating,
    protection_unrounded,
    ratings_between,
    ri_either_side,
    ri_nearest,
)
from rustboard.scales.rust_grade import grade_from_percent, limits_percent
from rustboard.support.problems import InputError

percents = st.floats(0, 100)


# ISO 10289 table, seen in public copies; upper limit inclusive.
@pytest.mark.parametrize(
    ("percent", "rating"),
    [
        (0, 10),
        (1e-9, 9),
        (0.1, 9),
        (0.12, 8),
        (0.25, 8),
        (0.5, 7),
        (1.0, 6),
        (2.5, 5),
        (5, 4),
        (10, 3),
        (25, 2),
        (50, 1),
        (50.1, 0),
        (100, 0),
    ],
)
def test_the_protection_rating_is_that_of_the_table(percent: float, rating: int) -> None:
    assert protection_rating(percent) == rating


# ISO 10289 formula, seen in public copies, values computed from it.
@pytest.mark.parametrize(("percent", "value"), [(0.046416, 10), (0.1, 9), (1, 6), (10, 3), (100, 0), (0.12, 8.762)])
def test_the_unrounded_formula_has_its_published_values(percent: float, value: float) -> None:
    assert protection_unrounded(percent) == pytest.approx(value, abs=0.0005)


# Areas where table and rounded formula of ISO 10289 part, seen and computed.
@pytest.mark.parametrize(
    ("percent", "by_formula", "by_table"), [(0.12, 9, 8), (0.3, 8, 7), (1.2, 6, 5), (12, 3, 2), (60, 1, 0)]
)
def test_where_table_and_formula_disagree_the_table_counts(percent: float, by_formula: int, by_table: int) -> None:
    unrounded = protection_unrounded(percent)
    assert unrounded is not None
    assert round(unrounded) == by_formula
    assert protection_rating(percent) == by_table
    assert derived_ratings(0, percent).protection == RatingRange(by_table, by_table)


# Where rounding the formula switches, computed from it.
@pytest.mark.parametrize(
    ("percent", "half"), [(0.0681, 9.5), (0.3162, 7.5), (1.468, 5.5), (14.68, 2.5), (68.13, 0.5)]
)
def test_the_formula_is_halfway_where_its_rounding_switches(percent: float, half: float) -> None:
    assert protection_unrounded(percent) == pytest.approx(half, abs=0.001)


def test_the_formula_is_not_used_where_it_would_reach_10_or_more() -> None:
    assert pytest.approx(0.046416, abs=5e-7) == FORMULA_REACHES_10  # ISO 10289, seen in a public copy
    assert protection_unrounded(FORMULA_REACHES_10) is None
    assert protection_unrounded(0.02) is None
    assert protection_unrounded(0) is None


@pytest.mark.parametrize("degree", range(6))
def test_the_area_an_iso_4628_degree_pictures_is_that_degree(degree: int) -> None:
    for area in RI_AREAS[degree]:
        assert ri_nearest(area) == degree
        assert ri_either_side(area) == (degree, degree)


@pytest.mark.parametrize(
    ("percent", "degree"),
    [
        (1e-6, 1),
        (0.15, 1),
        (0.16, 2),
        (0.70, 2),
        (0.71, 3),
        (2.8, 3),
        (2.9, 4),
        (17.8, 4),
        (17.9, 5),
        (45, 5),
        (90, 5),
    ],
)
def test_between_pictures_the_degree_is_the_nearest_by_ratio(percent: float, degree: int) -> None:
    # Partings: sqrt(0.05 x 0.5), sqrt(0.5 x 1), sqrt(1 x 8), sqrt(8 x 40); our own rule.
    assert ri_nearest(percent) == degree


@pytest.mark.parametrize(
    ("percent", "sides"), [(0.001, (0, 1)), (0.2, (1, 2)), (3, (3, 4)), (20, (4, 5)), (45, (5, 5)), (80, (5, 5))]
)
def test_the_pictures_on_either_side_are_told(percent: float, sides: tuple[int, int]) -> None:
    assert ri_either_side(percent) == sides


@given(percents)
def test_the_nearest_degree_is_one_of_the_two_beside_it(percent: float) -> None:
    assert ri_nearest(percent) in ri_either_side(percent)


@given(percents, percents)
def test_more_rust_never_rates_better(one: float, other: float) -> None:
    less, more = sorted((one, other))
    assert ri_nearest(less) <= ri_nearest(more)
    assert protection_rating(less) >= protection_rating(more)


def test_published_pairings_of_degrees_and_grades_disagree_so_none_is_used() -> None:
    by_area = [grade_from_percent(area[0]) for area in RI_AREAS]
    # Grades of the pictured areas by the limits of ASTM D610 themselves, the same as one published table, seen.
    assert by_area == [10, 8, 6, 6, 4, 1]
    # ISO 4628-3 table B.2 from memory (Ri 5 as 1 to 2): one grade better at Ri 1 and Ri 2.
    remembered = [10, 9, 7, 6, 4, 1]
    assert [degree for degree in range(6) if by_area[degree] != remembered[degree]] == [1, 2]
    # Through the percent both sides of the quarrel come out as what they are: neighbouring or shared degrees.
    assert derived_ratings(9).ri == (1, 1)
    assert derived_ratings(7).ri == (1, 2)
    assert derived_ratings(6).ri == (2, 3)


@pytest.mark.parametrize(
    ("grade", "ri", "protection"),
    [
        (10, (0, 1), (10, 9)),
        (9, (1, 1), (9, 9)),
        (8, (1, 1), (9, 9)),
        (7, (1, 2), (8, 7)),
        (6, (2, 3), (7, 6)),
        (5, (3, 4), (5, 4)),
        (4, (4, 4), (4, 3)),
        (3, (4, 4), (2, 2)),
        (2, (4, 5), (2, 1)),
        (1, (5, 5), (1, 1)),
        (0, (5, 5), (0, 0)),
    ],
)
def test_a_grade_without_a_percent_stands_for_its_interval(
    grade: int, ri: tuple[int, int], protection: tuple[int, int]
) -> None:
    derived = derived_ratings(grade)
    assert (derived.low, derived.high) == limits_percent(grade)
    assert derived.ri == ri
    assert derived.protection == protection


@given(st.integers(0, 10), st.floats(0, 1))
def test_every_percent_of_a_grade_rates_within_the_range_of_the_grade(grade: int, share: float) -> None:
    lower, upper = limits_percent(grade)
    percent = min(upper, lower + share * (upper - lower))
    if grade_from_percent(percent) != grade:  # the lower limit itself belongs to the grade above
        percent = math.nextafter(lower, 100)
    whole = derived_ratings(grade)
    assert whole.ri.light <= ri_nearest(percent) <= whole.ri.heavy
    assert whole.protection.light >= protection_rating(percent) >= whole.protection.heavy


def test_a_stated_percent_counts_and_the_grade_beside_it_does_not() -> None:
    derived = derived_ratings(10, percent=12)
    assert derived.ri.text() == "4"
    assert derived.protection.text() == "2"
    assert derived.protection_unrounded[0] == derived.protection_unrounded[1] == pytest.approx(2.762, abs=0.0005)


def test_a_measured_range_becomes_a_range_of_ratings() -> None:
    derived = ratings_between(0.05, 0.3)
    assert derived.ri.text() == "1 to 2"
    assert derived.protection.text() == "9 to 7"
    assert ratings_between(0.1, 0.3, low_counts=False).protection.text() == "8 to 7"


def test_a_range_upside_down_is_refused() -> None:
    with pytest.raises(InputError, match="upside down"):
        ratings_between(2, 1)


@pytest.mark.parametrize("rate", [ri_nearest, ri_either_side, protection_rating, protection_unrounded])
@pytest.mark.parametrize("percent", [-1, 100.5, math.nan])
def test_an_impossible_percent_is_refused_by_every_scale(rate: object, percent: float) -> None:
    with pytest.raises(InputError, match="is not a percent"):
        rate(percent)  # type: ignore[operator]
