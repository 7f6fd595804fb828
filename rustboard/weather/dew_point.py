"""Vapour pressure and dew point by a named set of coefficients.

Five sets have the form of Magnus: ``es = es0 exp(a T / (b + T))`` over water, with T in C, from which the dew point
follows as ``b g / (a - g)`` with ``g = ln(RH / 100) + a T / (b + T)``. The sixth is the longer formula of Hyland and
Wexler that ASHRAE prints, turned round step by step. A dew point belongs to its set: at 20 C the sets differ by
0.03 K, in deep frost by 0.1 K. None corrects for the pressure of the air (up to 0.5 %).
"""

from __future__ import annotations

from typing import Final, NamedTuple

import numpy as np

from rustboard.board.weather import DewPointSet
from rustboard.weather.readings import Numbers


class Coefficients(NamedTuple):
    """One set: ``a``, ``b`` in C, and the vapour pressure at 0 C in Pa."""

    a: float
    b_c: float
    zero_pa: float


COEFFICIENTS: Final[dict[DewPointSet, Coefficients]] = {
    # a and b from a public calculator's page; the pressure at 0 C from memory.
    "Alduchov and Eskridge 1996": Coefficients(17.625, 243.04, 610.94),
    # WMO guide to instruments, annex 4.B, as a manufacturer's manual prints it.
    "WMO guide": Coefficients(17.62, 243.12, 611.2),
    # As agricultural weather services use them.
    "Tetens": Coefficients(17.27, 237.3, 610.8),
    # From memory.
    "Bolton 1980": Coefficients(17.67, 243.5, 611.2),
    # Reproduces the published tests of a meteorological library exactly.
    "IFS over water": Coefficients(17.502, 240.97, 611.21),
}

_FULL: Final = 100.0
_ZERO_C: Final = 273.15
_ROUNDS: Final = 4
_EXACT: Final[tuple[float, ...]] = (-5.8002206e3, 1.3914993, -4.8640239e-2, 4.1764768e-5, -1.4452093e-8, 6.5459673)
"""ln(es / Pa) = c0 / T + c1 + c2 T + c3 T^2 + c4 T^3 + c5 ln T, T in K, over water, 0 to 200 C (ASHRAE handbook, from
memory; a reference library that cites it has the same); below 0 C it goes on for water that is colder than ice."""


def saturation_pressure_pa(temperature_c: Numbers, by: DewPointSet) -> Numbers:
    """Return the vapour pressure over water at saturation, Pa, of temperatures in C."""
    if by not in COEFFICIENTS:
        return np.exp(_log_pressure(temperature_c + _ZERO_C))
    a, b, zero = COEFFICIENTS[by]
    return zero * np.exp(a * temperature_c / (b + temperature_c))


def dew_point_c(temperature_c: Numbers, humidity_percent: Numbers, by: DewPointSet) -> Numbers:
    """Return dew points in C; NaN where the humidity is 0 or less, or anything is NaN."""
    share = np.where(humidity_percent > 0, humidity_percent, np.nan) / _FULL
    if by not in COEFFICIENTS:
        return _solved(np.log(share) + _log_pressure(temperature_c + _ZERO_C), temperature_c, humidity_percent)
    a, b, _ = COEFFICIENTS[by]
    gamma = np.log(share) + a * temperature_c / (b + temperature_c)
    return b * gamma / (a - gamma)


def humidity_percent(temperature_c: Numbers, dew_point: Numbers, by: DewPointSet) -> Numbers:
    """Return the relative humidity in % of air at a temperature (C) with a dew point (C); at most 100."""
    if by not in COEFFICIENTS:
        exponent = _log_pressure(dew_point + _ZERO_C) - _log_pressure(temperature_c + _ZERO_C)
    else:
        a, b, _ = COEFFICIENTS[by]
        exponent = a * dew_point / (b + dew_point) - a * temperature_c / (b + temperature_c)
    return np.minimum(_FULL * np.exp(exponent), _FULL)


def _log_pressure(kelvin: Numbers) -> Numbers:
    c0, c1, c2, c3, c4, c5 = _EXACT
    found: Numbers = c0 / kelvin + c1 + kelvin * (c2 + kelvin * (c3 + kelvin * c4)) + c5 * np.log(kelvin)
    return found


def _solved(log_pressure: Numbers, temperature_c: Numbers, humidity: Numbers) -> Numbers:
    """Return the temperature in C at which vapour is saturated, by Newton's steps from what a short formula says."""
    c0, _, c2, c3, c4, c5 = _EXACT
    kelvin = dew_point_c(temperature_c, humidity, "WMO guide") + _ZERO_C
    for _ in range(_ROUNDS):
        slope = -c0 / kelvin**2 + c2 + kelvin * (2 * c3 + 3 * c4 * kelvin) + c5 / kelvin
        kelvin = kelvin - (_log_pressure(kelvin) - log_pressure) / slope
    return kelvin - _ZERO_C
