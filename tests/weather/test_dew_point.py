"""Dew points and vapour pressure against published values, each set of coefficients pinned."""

from __future__ import annotations

import math

import numpy as np
import psychrolib
import pytest

from rustboard.board.weather import DEW_POINT_SETS
from rustboard.weather.dew_point import COEFFICIENTS, dew_point_c, humidity_percent, saturation_pressure_pa

AE96, WMO, TETENS, BOLTON, IFS, EXACT = DEW_POINT_SETS


def dew(temperature, humidity, by):
    return float(dew_point_c(np.array([temperature]), np.array([humidity]), by)[0])


def test_every_set_has_its_coefficients():
    assert [*COEFFICIENTS, EXACT] == list(DEW_POINT_SETS)


def test_tetens_at_20_c_and_50_percent():
    # A public dew point page prints 9.2696286 (facts S43).
    assert dew(20, 50, TETENS) == pytest.approx(9.2696286, abs=5e-8)


@pytest.mark.parametrize(("by", "expected"), [(AE96, 16.698), (WMO, 16.693), (TETENS, 16.696), (BOLTON, 16.705)])
def test_25_c_and_60_percent_by_four_sets(by, expected):
    # 16.70 in handbooks; the third digit worked out from the published coefficients (facts section 8).
    assert dew(25, 60, by) == pytest.approx(expected, abs=5e-4)


@pytest.mark.parametrize(("temperature", "humidity", "expected"), [
    (20, 52.5224541378, 10), (35, 84.5391163313, 32), (25, 15.4779832381, -3), (5, 21.9244774232, -15),
    (-15, 46.1081101229, -24), (0, 46.8714823296, -10),
])  # fmt: skip
def test_ifs_meets_the_tests_of_a_meteorological_library(temperature, humidity, expected):
    # Tests of a public array-API meteorology suite (facts S44), exact to their printed digits.
    assert dew(temperature, humidity, IFS) == pytest.approx(expected, abs=1e-9)


@pytest.mark.parametrize(("temperature", "humidity", "ae96", "wmo"), [
    (20, 80, 16.444, 16.442), (10, 90, 8.435, 8.434), (5, 95, 4.265, 4.265), (0, 80, -3.039, -3.040),
    (-5, 90, -6.386, -6.386), (30, 40, 14.933, 14.925),
])  # fmt: skip
def test_two_sets_over_the_usual_weather(temperature, humidity, ae96, wmo):
    # Worked out from the published coefficients (facts section 8).
    assert dew(temperature, humidity, AE96) == pytest.approx(ae96, abs=5e-4)
    assert dew(temperature, humidity, WMO) == pytest.approx(wmo, abs=5e-4)


@pytest.mark.parametrize(
    ("by", "expected"), [(AE96, 52.541), (WMO, 52.561), (TETENS, 52.516), (BOLTON, 52.512), (IFS, 52.522)]
)
def test_the_humidity_of_20_c_with_a_dew_point_of_10_c_belongs_to_its_set(by, expected):
    # Facts, trap 4: five usual sets, five third digits. The first two stand there the other way round for AE96 and
    # WMO in some lists, so each is pinned here by its own coefficients.
    found = humidity_percent(np.array([20.0]), np.array([10.0]), by)
    assert float(found[0]) == pytest.approx(expected, abs=5e-4)


def test_full_humidity_is_a_dew_point_at_the_temperature_and_none_has_none():
    for by in DEW_POINT_SETS:
        assert dew(12.5, 100, by) == pytest.approx(12.5, abs=1e-12)
        assert math.isnan(dew(12.5, 0, by))
        assert math.isnan(dew(float("nan"), 50, by))


@pytest.mark.parametrize(("temperature", "pressure"), [(5, 872.6), (25, 3169.7), (50, 12351.3)])
def test_vapour_pressure_meets_the_ashrae_table(temperature, pressure):
    # The table as psychrolib's tests print it, to their 0.03 % (facts S45).
    found = float(saturation_pressure_pa(np.array([float(temperature)]), EXACT)[0])
    assert found == pytest.approx(pressure, rel=3e-4)


@pytest.mark.parametrize("temperature", [1.0, 5.0, 12.5, 20.0, 25.0, 37.5, 50.0])
def test_vapour_pressure_is_psychrolibs(temperature):
    """A second source of the same formula."""
    found = float(saturation_pressure_pa(np.array([temperature]), EXACT)[0])
    assert found == pytest.approx(psychrolib_pressure(temperature), rel=1e-9)


def test_vapour_pressure_at_25_c_by_alduchov_and_eskridge():
    # 3161.7 Pa: worked out from the coefficients (facts section 8).
    assert float(saturation_pressure_pa(np.array([25.0]), AE96)[0]) == pytest.approx(3161.7, abs=0.05)


def psychrolib_pressure(temperature):
    psychrolib.SetUnitSystem(psychrolib.SI)
    return psychrolib.GetSatVapPres(temperature)


@pytest.mark.parametrize(("by", "apart"), [
    (AE96, 0.051), (WMO, 0.040), (TETENS, 0.017), (BOLTON, 0.077), (IFS, 0.035), (EXACT, 1e-6),
])  # fmt: skip
def test_psychrolib_agrees_over_the_weather_above_freezing(by, apart):
    """A second source, the formulas of ASHRAE 2017; each set lies as far from it as was found, to 0.001 K."""
    psychrolib.SetUnitSystem(psychrolib.SI)
    differences = []
    for temperature in range(1, 51, 3):
        for humidity in range(5, 101, 5):
            found = dew(temperature, humidity, by)
            if found >= 0:  # below freezing ASHRAE's dew point is over ice, and these sets are over water
                theirs = psychrolib.GetTDewPointFromRelHum(float(temperature), humidity / 100)
                differences.append(abs(found - theirs))
    assert len(differences) > 200
    assert max(differences) <= apart


@pytest.mark.parametrize("by", DEW_POINT_SETS)
def test_humidity_and_dew_point_lead_back_to_each_other(by):
    grid = np.meshgrid(np.arange(-40.0, 51.0, 5), np.arange(1.0, 101.0, 9))
    temperature, humidity = (each.ravel() for each in grid)
    back = humidity_percent(temperature, dew_point_c(temperature, humidity, by), by)
    np.testing.assert_allclose(back, humidity, rtol=1e-10)
