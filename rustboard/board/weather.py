"""What a board is told of its weather: logger files, the days noted by hand, the site."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date, datetime
from typing import Final, Literal

Quantity = Literal["temperature", "humidity", "rain", "rain total", "rain rate", "wind", "dew point"]
QUANTITIES: Final[tuple[Quantity, ...]] = (
    "temperature",
    "humidity",
    "rain",
    "rain total",
    "rain rate",
    "wind",
    "dew point",
)
"""What a logger may have read: air temperature in C, relative humidity in %, rain since the reading before in mm,
rain by a counter that only goes up in mm, rain in mm/h, wind in m/s, dew point in C."""

QUANTITY_LIMITS: Final[dict[Quantity, tuple[float, float]]] = {
    "temperature": (-90.0, 70.0),
    "humidity": (0.0, 105.0),
    "rain": (0.0, 500.0),
    "rain total": (0.0, 1_000_000.0),
    "rain rate": (0.0, 2_000.0),
    "wind": (0.0, 120.0),
    "dew point": (-110.0, 70.0),
}
"""Lowest and highest reading that can be true; beyond them stands what the weather of the earth never did. Humidity
above 100 is a sensor's error and counts as 100."""

Condition = Literal["dry", "dew", "rain", "fog", "frost", "snow"]
CONDITIONS: Final[tuple[Condition, ...]] = ("dry", "dew", "rain", "fog", "frost", "snow")

DewPointSet = Literal[
    "Alduchov and Eskridge 1996", "WMO guide", "Tetens", "Bolton 1980", "IFS over water", "Hyland and Wexler 1983"
]
DEW_POINT_SETS: Final[tuple[DewPointSet, ...]] = (
    "Alduchov and Eskridge 1996",
    "WMO guide",
    "Tetens",
    "Bolton 1980",
    "IFS over water",
    "Hyland and Wexler 1983",
)
"""Sets of coefficients by which a dew point follows from temperature and humidity; see
`rustboard.weather.dew_point`."""

MOST_WEATHER_FILES: Final = 2_000
MOST_READINGS: Final = 5_000_000
"""Most readings of one file: 95 years at 10 minutes."""
MOST_BOARD_READINGS: Final = 10_000_000
"""Most readings of all files of a board together; a million take about a third of a GB while they are merged."""
MOST_DAY_NOTES: Final = 40_000
MOST_TOLD: Final = 200
"""Most bad rows of one file that are kept in words; the others are counted."""
LARGEST_RAIN_MM: Final = 2_000.0
COLDEST_C: Final = -90.0
HOTTEST_C: Final = 70.0
LARGEST_DEPOSITION: Final = 10_000.0
"""Milligrams per square metre and day; far beyond any place where people live."""


@dataclass(frozen=True, slots=True)
class WeatherFile:
    """A logger's file whose readings are on the board.

    Attributes:
        name: the name the file had.
        sha256: of its bytes, hexadecimal.
        logger: which logger wrote it; files of one logger make one series.
        clock: what its times are told by: empty = the board's own clock, ``UTC``, ``UTC+01:00`` (the same all year),
            or the name of a zone such as ``Europe/Berlin``.
        quantities: what was read.
        count: readings taken over.
        first, last: earliest and latest reading, by the file's clock.
        left_out: rows that could not be used. told: the first of them in words.
        added: when, ISO date and time.
        content: SHA-256 of the readings as they are kept (see `rustboard.weather.packing`), hexadecimal.
    """

    name: str
    sha256: str
    logger: str
    clock: str
    quantities: tuple[Quantity, ...]
    count: int
    first: datetime
    last: datetime
    left_out: int
    told: tuple[str, ...]
    added: str
    content: str
    key: int = 0


@dataclass(frozen=True, slots=True)
class DayNote:
    """The weather of one day, noted by hand.

    Attributes:
        conditions: what was seen, ``dry`` alone or any of the others; empty when only numbers were noted.
        rain_mm: measured, or None. highest_c, lowest_c: temperatures of the day, or None.
        wet_hours: how long the coupons were wet, by hand, or None where nobody can say.
    """

    day: date
    conditions: tuple[Condition, ...] = ()
    rain_mm: float | None = None
    highest_c: float | None = None
    lowest_c: float | None = None
    wet_hours: float | None = None
    note: str = ""
    key: int = 0


@dataclass(frozen=True, slots=True)
class Site:
    """What reading the weather at the board needs to know of the place.

    Attributes:
        zone: of the board's clock, such as ``Europe/Berlin``; empty = not known, every clock is taken as it is.
        dew_point_set: coefficients for dew points.
        dew_day_hours, wet_day_hours: hours wet that a day noted by hand stands for when nobody noted how many: one
            with dew alone, and one with rain, fog or snow (own assumptions, no source).
        leave_out_stuck: whether humidity that stood still at its highest value for a day and longer is left out.
        sulphur_dioxide, chloride: deposition in mg/(m2 d), yearly mean, or None where it is not known.
    """

    zone: str = ""
    dew_point_set: DewPointSet = "WMO guide"
    dew_day_hours: float = 8.0
    wet_day_hours: float = 12.0
    leave_out_stuck: bool = False
    sulphur_dioxide: float | None = None
    chloride: float | None = None
    key: int = 1


def assumed_wet_hours(conditions: Collection[Condition], site: Site) -> float | None:
    """Return the hours a day counts as wet of which nobody noted how long, by the site; None without any wetness.

    Rain, fog and snow go before dew. A day with frost alone is not wet in the sense of ISO 9223.
    """
    if {"rain", "fog", "snow"} & set(conditions):
        return site.wet_day_hours
    return site.dew_day_hours if "dew" in conditions else None
