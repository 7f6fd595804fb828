"""The invented weather on the harbour wall, spring 2026: salt, rain, dew, a dry week, and a flat battery."""

from __future__ import annotations

from datetime import date, datetime
from typing import Final

from rustboard.app.demo.climate import Climate, DayKind
from rustboard.app.demo.weather_told import ToldDisturbance, ToldWeather
from rustboard.board.weather import DayNote, Site

_MARCH: Final[dict[int, DayKind]] = {
    2: "fair", 3: "dew", 4: "fair", 5: "rain", 6: "showers", 7: "spray", 8: "fair", 9: "dry", 10: "frost", 11: "fair",
    12: "fair", 13: "dew", 14: "showers", 15: "fog", 16: "rain", 17: "showers", 18: "fair", 19: "dry", 20: "frost",
    21: "fair", 22: "rain", 23: "dry", 24: "showers", 25: "rain", 26: "fair", 27: "dew", 28: "spray", 29: "rain",
    30: "fair", 31: "fog",
}  # fmt: skip
_APRIL: Final[dict[int, DayKind]] = {
    1: "rain", 2: "showers", 3: "fair", 4: "dew", 5: "fair", 6: "fair", 7: "dry", 8: "dry", 9: "dry", 10: "dry",
    11: "dry", 12: "dry", 13: "dry", 14: "fair", 15: "dew", 16: "rain", 17: "dew", 18: "dew", 19: "dew", 20: "fair",
    21: "showers", 22: "fair", 23: "fog", 24: "rain", 25: "fair", 26: "spray", 27: "showers",
}  # fmt: skip

_CLIMATE: Final = Climate(
    first_c=5.0,
    last_c=11.0,
    kinds={date(2026, 3, day): kind for day, kind in _MARCH.items()}
    | {date(2026, 4, day): kind for day, kind in _APRIL.items()},
    seed=31,
    silent=((datetime(2026, 3, 24, 8, 0), datetime(2026, 3, 26, 9, 0)),),
)

HARBOUR_WEATHER: Final = ToldWeather(
    climate=_CLIMATE,
    logger="harbour wall",
    title="Harbour wall, logger beside the board, times without summer time (UTC+01:00)",
    file_name="harbour logger.csv",
    clock="UTC+01:00",
    first=datetime(2026, 3, 2, 7, 0),
    last=datetime(2026, 4, 27, 8, 30),
    site=Site(zone="Europe/Berlin", chloride=55.0, sulphur_dioxide=4.0),
    days=(
        DayNote(date(2026, 3, 3), ("dew",), 0.0, 9.0, 0.5, note="Gone by eight."),
        DayNote(date(2026, 3, 24), ("rain",), 3.0, 10.0, 4.0, note="The logger's battery is flat."),
        DayNote(date(2026, 3, 25), ("rain",), 9.0, 8.0, 5.0, 16.0),
        DayNote(date(2026, 3, 26), ("dew",), 0.0, 11.0, 2.0, note="New battery at nine."),
    ),
    disturbances=(
        ToldDisturbance(datetime(2026, 3, 7, 15, 0), "other", note="Spray over the wall at high water."),
        ToldDisturbance(datetime(2026, 3, 12, 9, 0), "other", note="A boat lies against the wall."),
        ToldDisturbance(datetime(2026, 3, 23, 9, 40), "debris cleared", "C04", "A bird's dropping, rinsed off."),
        ToldDisturbance(datetime(2026, 3, 30, 9, 40), "debris cleared", note="With a soft brush."),
    ),
)
