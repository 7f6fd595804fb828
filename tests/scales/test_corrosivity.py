"""Categories, dose-response function and classes of ISO 9223, by public copies and transcriptions of it.

Keys such as S18 are those of the project's collected facts: S17, S18 public tables of the categories, S19 five public
transcriptions of the dose-response functions, S22 a public textbook with the 1992 edition's classes.
"""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rustboard.scales.corrosivity import (
    CATEGORY_NAMES,
    UPPER_LIMITS,
    Metal,
    Quantity,
    category_of,
    chloride_class,
    steel_dose_response,
    sulphur_class,
    wetness_class,
)
from rustboard.support.problems import InputError

tables = st.sampled_from(list(UPPER_LIMITS))
rates = st.floats(0, 1e5)


# S17, S18 (seen in public copies); the value just over a limit follows from "lower exclusive, upper inclusive".
@pytest.mark.parametrize(
    ("um_y", "name"),
    [
        (0, "C1"),
        (1.3, "C1"),
        (1.31, "C2"),
        (25, "C2"),
        (25.01, "C3"),
        (50, "C3"),
        (50.01, "C4"),
        (80, "C4"),
        (80.01, "C5"),
        (200, "C5"),
        (201, "CX"),
        (700, "CX"),
        (700.01, "beyond CX"),
    ],
)
def test_steel_by_thickness(um_y: float, name: str) -> None:
    assert category_of(um_y).name == name


# S18; 5500 is from memory.
@pytest.mark.parametrize(
    ("grams", "name"),
    [
        (10, "C1"),
        (200, "C2"),
        (200.1, "C3"),
        (400, "C3"),
        (650, "C4"),
        (1500, "C5"),
        (5500, "CX"),
        (5501, "beyond CX"),
    ],
)
def test_steel_by_mass(grams: float, name: str) -> None:
    assert category_of(grams, "g/m2 y").name == name


# S18; the ceilings of CX, 25 and 180, are from memory.
@pytest.mark.parametrize(
    ("value", "quantity", "name"),
    [
        (0.1, "um/y", "C1"),
        (0.7, "um/y", "C2"),
        (2.1, "um/y", "C3"),
        (4.2, "um/y", "C4"),
        (8.4, "um/y", "C5"),
        (25, "um/y", "CX"),
        (25.1, "um/y", "beyond CX"),
        (0.7, "g/m2 y", "C1"),
        (5, "g/m2 y", "C2"),
        (15, "g/m2 y", "C3"),
        (30, "g/m2 y", "C4"),
        (60, "g/m2 y", "C5"),
        (180, "g/m2 y", "CX"),
        (181, "g/m2 y", "beyond CX"),
    ],
)
def test_zinc(value: float, quantity: Quantity, name: str) -> None:
    assert category_of(value, quantity, "zinc").name == name


def test_thickness_and_mass_may_disagree_and_the_answer_says_which_decided() -> None:
    # Worked out in the project's facts, trap 3: 25.2 um/y of 7.86 g/cm3 is 198 g/m2 y.
    by_thickness, by_mass = category_of(25.2), category_of(25.2 * 7.86, "g/m2 y")
    assert (by_thickness.name, by_thickness.quantity) == ("C3", "um/y")
    assert (by_mass.name, by_mass.quantity) == ("C2", "g/m2 y")


@given(tables, rates, rates)
def test_more_corrosion_is_never_a_lower_category(table: tuple[Metal, Quantity], one: float, other: float) -> None:
    metal, quantity = table
    low, high = sorted((one, other))
    at = CATEGORY_NAMES.index
    assert at(category_of(low, quantity, metal).name) <= at(category_of(high, quantity, metal).name)


@pytest.mark.parametrize("value", [-0.1, math.nan, math.inf])
def test_a_rate_that_cannot_be_is_refused(value: float) -> None:
    with pytest.raises(InputError):
        category_of(value)


# Formula of S19, terms and categories worked out in the project's facts (regression values, no published example).
@pytest.mark.parametrize(
    ("given_values", "sulphur", "chloride", "rate", "name"),
    [
        ((10, 75, 10, 3), 26.267, 3.573, 29.840, "C3"),
        ((5, 75, 10, 3), 12.408, 2.925, 15.333, "C2"),
        ((15, 75, 10, 3), 20.052, 4.364, 24.416, "C2"),
        ((20, 80, 10, 60), 16.917, 40.274, 57.191, "C4"),
        ((25, 80, 20, 100), 18.518, 67.520, 86.038, "C5"),
        ((10, 79, 0.7, 0.4), 7.139, 1.169, 8.308, "C2"),
    ],
)
def test_dose_response_of_steel(
    given_values: tuple[float, float, float, float], sulphur: float, chloride: float, rate: float, name: str
) -> None:
    estimate = steel_dose_response(*given_values)
    assert estimate.sulphur_term == pytest.approx(sulphur, abs=6e-4)
    assert estimate.chloride_term == pytest.approx(chloride, abs=6e-4)
    assert estimate.rate_um_y == pytest.approx(rate, abs=6e-4)
    assert estimate.category.name == name
    assert not estimate.extrapolated


def test_the_dose_response_function_does_not_jump_at_10_degrees() -> None:
    below, above = steel_dose_response(10, 75, 10, 3), steel_dose_response(math.nextafter(10, 11), 75, 10, 3)
    assert above.rate_um_y == pytest.approx(below.rate_um_y, rel=1e-12)


def test_the_band_is_a_third_down_and_half_up() -> None:
    # From memory, medium: -33 % and +50 % for steel.
    estimate = steel_dose_response(10, 75, 10, 3)
    assert estimate.low_um_y == pytest.approx(29.840 * 0.67, abs=1e-3)
    assert estimate.high_um_y == pytest.approx(29.840 * 1.5, abs=1e-3)


# Ranges of S19.
@pytest.mark.parametrize(
    ("values", "word"),
    [
        ((-17.2, 75, 10, 3), "temperature -17.2"),
        ((28.8, 75, 10, 3), "temperature 28.8"),
        ((10, 33.9, 10, 3), "humidity 33.9"),
        ((10, 93.1, 10, 3), "humidity 93.1"),
        ((10, 75, 0.6, 3), "sulphur dioxide deposition 0.6"),
        ((10, 75, 151, 3), "sulphur dioxide deposition 151"),
        ((10, 75, 10, 0.3), "chloride deposition 0.3"),
        ((10, 75, 10, 761), "chloride deposition 761"),
    ],
)
def test_outside_its_range_a_result_is_marked_or_refused(values: tuple[float, ...], word: str) -> None:
    estimate = steel_dose_response(*values)  # type: ignore[misc]
    assert estimate.extrapolated
    (sentence,) = estimate.outside
    assert word in sentence
    with pytest.raises(InputError, match=word):
        steel_dose_response(*values, refuse_outside=True)  # type: ignore[misc]


@pytest.mark.parametrize("values", [(-17.1, 34, 0.7, 0.4), (28.7, 93, 150.4, 760.5)])
def test_the_ends_of_the_ranges_are_inside(values: tuple[float, ...]) -> None:
    assert not steel_dose_response(*values, refuse_outside=True).extrapolated  # type: ignore[misc]


@pytest.mark.parametrize(
    "values", [(math.nan, 75, 10, 3), (10, 101, 10, 3), (10, 75, -1, 3), (10, 75, 10, math.inf), (99, 75, 10, 3)]
)
def test_inputs_that_cannot_be_are_refused(values: tuple[float, ...]) -> None:
    with pytest.raises(InputError):
        steel_dose_response(*values)  # type: ignore[misc]


# S22 (1992 edition); the limit of t4 is from memory.
@pytest.mark.parametrize(
    ("hours", "name"),
    [
        (0, "t1"),
        (10, "t1"),
        (10.1, "t2"),
        (250, "t2"),
        (251, "t3"),
        (2500, "t3"),
        (2501, "t4"),
        (5500, "t4"),
        (5501, "t5"),
        (8784, "t5"),
    ],
)
def test_time_of_wetness(hours: float, name: str) -> None:
    assert wetness_class(hours) == name


def test_a_year_has_no_more_hours() -> None:
    with pytest.raises(InputError):
        wetness_class(8785)


# S22 (1992 edition).
@pytest.mark.parametrize(
    ("deposition", "name"),
    [
        (0, "P0"),
        (10, "P0"),
        (11, "P1"),
        (35, "P1"),
        (36, "P2"),
        (80, "P2"),
        (81, "P3"),
        (200, "P3"),
        (201, "beyond P3"),
    ],
)
def test_sulphur_dioxide(deposition: float, name: str) -> None:
    assert sulphur_class(deposition) == name


@pytest.mark.parametrize(
    ("deposition", "name"),
    [
        (0, "S0"),
        (3, "S0"),
        (4, "S1"),
        (60, "S1"),
        (61, "S2"),
        (300, "S2"),
        (301, "S3"),
        (1500, "S3"),
        (1501, "beyond S3"),
    ],
)
def test_chloride(deposition: float, name: str) -> None:
    assert chloride_class(deposition) == name


def test_a_deposition_below_zero_is_refused() -> None:
    with pytest.raises(InputError):
        chloride_class(-1)
