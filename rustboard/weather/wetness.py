"""When a surface is wet: the ISO hour, a threshold for leaves, a decision tree for leaves, dew under a clear sky."""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

from rustboard.weather.readings import Numbers

Truths = NDArray[np.bool_]

WET_ABOVE_PERCENT: Final = 80.0
LEAF_WET_FROM_PERCENT: Final = 90.0
ZERO_C: Final = 273.15

STEFAN_BOLTZMANN: Final = 5.670374419e-8
"""W/(m2 K4), from memory (exact since the SI of 2019)."""
EMISSIVITY: Final = 0.9
"""Of a painted, waxed or rusted surface (common practice, no source)."""
STILL_AIR_W_M2K: Final = 10.0
"""Heat given by air that hardly moves to a plate, natural convection and a breath of wind together (own assumption;
4 in dead calm, 20 and more in wind: a real surface cools less then)."""
NIGHT_FROM_HOUR: Final = 20.0
NIGHT_UNTIL_HOUR: Final = 6.0
"""By the board's clock, all year (own assumption): a surface seen by the sun is not cooled by the sky."""
_ROUNDS: Final = 5


def is_wet_hour(temperature_c: Numbers, humidity_percent: Numbers) -> Truths:
    """Return where RH > 80 % and T > 0 C, the time of wetness of ISO 9223 (both limits themselves are dry)."""
    return (humidity_percent > WET_ABOVE_PERCENT) & (temperature_c > 0)


def is_above_leaf_threshold(temperature_c: Numbers, humidity_percent: Numbers) -> Truths:
    """Return where RH >= 90 % and T > 0 C, a threshold used for the wetness of leaves; indicative."""
    return (humidity_percent >= LEAF_WET_FROM_PERCENT) & (temperature_c > 0)


def is_leaf_wet(temperature_c: Numbers, dew_point: Numbers, humidity_percent: Numbers, wind_m_s: Numbers) -> Truths:
    """Return where the decision tree for leaves says wet; made for leaves, so indicative for steel.

    Below 0 C, where the tree does not hold, it says dry. Source: the classification tree with stepwise linear
    discriminants published in Plant Disease 86 (2002), as a public page prints it.
    """
    depression = temperature_c - dew_point
    root = np.sqrt(np.maximum(temperature_c, 0))
    calm = (
        1.6064 * root
        + 0.0036 * temperature_c**2
        + 0.1531 * humidity_percent
        - 0.4599 * wind_m_s * depression
        - 0.0035 * temperature_c * humidity_percent
    )
    windy = (
        0.7921 * root
        + 0.0046 * humidity_percent
        - 2.3889 * wind_m_s
        - 0.0390 * temperature_c * wind_m_s
        + 1.0613 * wind_m_s * depression
    )
    wet = np.where(wind_m_s < 2.5, calm > 14.4674, (humidity_percent >= 87.8) & (windy > 37))
    found: Truths = (depression < 3.7) & wet & (temperature_c >= 0)
    return found


def sky_temperature_k(temperature_c: Numbers, dew_point: Numbers, hour: Numbers) -> Numbers:
    """Return what a clear sky radiates like, K, from air temperature and dew point (C) and the hour of the day.

    Tsky = Ta (0.711 + 0.0056 Td + 0.000073 Td^2 + 0.013 cos(15 deg x hour))^(1/4), as a public heat balance model
    quotes it.
    """
    share = 0.711 + 0.0056 * dew_point + 0.000073 * dew_point**2 + 0.013 * np.cos(np.radians(15 * hour))
    return (temperature_c + ZERO_C) * share**0.25


def surface_temperature_c(
    temperature_c: Numbers, sky_k: Numbers, heat_w_m2k: float = STILL_AIR_W_M2K, emissivity: float = EMISSIVITY
) -> Numbers:
    """Return the temperature of an insulated surface that faces a clear sky at night, C.

    It loses by radiation what the air gives it: h (Ta - Ts) = emissivity sigma (Ts^4 - Tsky^4); solved by Newton's
    steps.
    """
    air = temperature_c + ZERO_C
    radiated = emissivity * STEFAN_BOLTZMANN
    surface = air - 3.0
    for _ in range(_ROUNDS):
        balance = heat_w_m2k * (air - surface) - radiated * (surface**4 - sky_k**4)
        surface = surface + balance / (heat_w_m2k + 4 * radiated * surface**3)
    return surface - ZERO_C


def is_night(hour: Numbers) -> Truths:
    """Return which hours of the day count as night."""
    return (hour >= NIGHT_FROM_HOUR) | (hour < NIGHT_UNTIL_HOUR)


def could_have_dew(temperature_c: Numbers, dew_point: Numbers, hour: Numbers) -> Truths:
    """Return when a surface under a clear night sky would have been at or below the dew point, and above 0 C.

    An upper figure: it takes every night for clear and every surface for insulated at its back.
    """
    possible: Truths = is_night(hour) & (dew_point > 0)
    air, dew = temperature_c[possible], dew_point[possible]
    sky = sky_temperature_k(air, dew, hour[possible])
    # A surface comes to rest at or below the dew point where at the dew point itself it gains no heat any more.
    radiated = EMISSIVITY * STEFAN_BOLTZMANN * ((dew + ZERO_C) ** 4 - sky**4)
    possible[possible] = STILL_AIR_W_M2K * (air - dew) <= radiated
    return possible
