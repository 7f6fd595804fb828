"""When a surface is wet, against the published rules and worked values."""

from __future__ import annotations

import numpy as np
import pytest

from rustboard.weather.wetness import (
    could_have_dew,
    is_above_leaf_threshold,
    is_leaf_wet,
    is_night,
    is_wet_hour,
    sky_temperature_k,
    surface_temperature_c,
)


def one(function, *numbers):
    return function(*(np.array([float(each)]) for each in numbers))[0]


@pytest.mark.parametrize(("temperature", "humidity", "wet"), [
    (10, 80.0, False), (0.1, 80.1, True), (0.0, 95, False), (-3, 100, False), (10, 100, True), (25, 79.9, False),
])  # fmt: skip
def test_an_hour_counts_as_wet_above_80_percent_and_above_0_c(temperature, humidity, wet):
    # ISO 9223: RH > 80 % and T > 0 C (facts S21; the limits themselves are dry).
    assert one(is_wet_hour, temperature, humidity) == wet


@pytest.mark.parametrize(("temperature", "humidity", "wet"), [(5, 90.0, True), (5, 89.9, False), (-1, 99, False)])
def test_the_threshold_for_leaves_is_90_percent(temperature, humidity, wet):
    # Leaf wetness practice, by abstracts (facts section 8, level 2).
    assert one(is_above_leaf_threshold, temperature, humidity) == wet


@pytest.mark.parametrize(("temperature", "depression", "humidity", "wind", "wet"), [
    (10, 0.5, 95, 1.0, True),  # 16.429 > 14.4674 (facts section 8)
    (15, 3.0, 82, 1.5, False),  # 13.211
    (10, 3.7, 95, 1.0, False),  # too far from the dew point
    (10, 0.5, 95, 3.0, False),  # windy: 37 is out of reach here
    (10, 0.5, 87.7, 3.0, False),
    (-1, 0.2, 98, 0.5, False),  # guarded: the tree takes a root of the temperature
])  # fmt: skip
def test_the_decision_tree_for_leaves(temperature, depression, humidity, wind, wet):
    assert one(is_leaf_wet, temperature, temperature - depression, humidity, wind) == wet


def test_without_wind_the_tree_says_nothing_wet():
    assert not one(is_leaf_wet, 10, 9.5, 95, np.nan)


def test_a_clear_sky_at_midnight_radiates_like_276_k_over_air_of_293_k():
    # 276.14 K: Ta 293.15 K, Td 10 C (facts section 8, formula S49, number worked out).
    assert one(sky_temperature_k, 20, 10, 0) == pytest.approx(276.14, abs=0.005)


@pytest.mark.parametrize(("heat", "cooling"), [(4, -9.6), (10, -5.6), (20, -3.3), (25, -2.7)])
def test_a_surface_under_a_clear_sky_cools_less_in_wind(heat, cooling):
    # Air 10 C, dew point 5 C, emissivity 0.9 (facts section 8; up to 16 K in still air and 3 K at 4.5 m/s measured).
    air, dew_point = np.array([10.0]), np.array([5.0])
    sky = sky_temperature_k(air, dew_point, np.array([0.0]))
    surface = surface_temperature_c(air, sky, heat_w_m2k=heat, emissivity=0.9)
    assert float(surface[0] - air[0]) == pytest.approx(cooling, abs=0.05)


def test_dew_is_expected_on_a_damp_clear_night_alone():
    assert one(could_have_dew, 10, 8, 2.0)
    assert not one(could_have_dew, 10, 8, 12.0)  # by day
    assert not one(could_have_dew, 10, -5, 2.0)  # dry air, and hoar frost at most
    assert not one(could_have_dew, np.nan, np.nan, 2.0)


def test_night_is_from_eight_to_six():
    hours = np.array([19.9, 20.0, 23.9, 0.0, 5.9, 6.0, 12.0])
    assert is_night(hours).tolist() == [False, True, True, True, True, False, False]
