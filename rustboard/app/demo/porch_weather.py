"""The invented weather under the porch roof, autumn 2025: a logger that came late, and notes by hand before it."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from typing import Final

from rustboard.app.demo.climate import Climate, DayKind
from rustboard.app.demo.weather_told import ToldDisturbance, ToldWeather, ToldWeighing
from rustboard.board.weather import Condition, DayNote, Site

_KINDS: Final[dict[date, DayKind]] = {
    date(2025, 9, 17): "fog",
    date(2025, 9, 24): "rain",
    date(2025, 10, 2): "rain",
    date(2025, 10, 3): "rain",
    date(2025, 10, 9): "fog",
    date(2025, 10, 14): "dry",
    date(2025, 10, 15): "dry",
    date(2025, 10, 19): "frost",
    date(2025, 10, 23): "rain",
    date(2025, 10, 24): "showers",
    date(2025, 10, 26): "fog",
    date(2025, 10, 31): "rain",
}

_BY_HAND: Final[tuple[tuple[Condition, ...], ...]] = (
    ("dry",), ("dry",), ("fog",), ("dry",), ("dry",), ("dew",), ("dew",), ("dry",), ("dry",), ("rain",), ("dry",),
)  # fmt: skip

PORCH_WEATHER: Final = ToldWeather(
    climate=Climate(13.0, 6.0, _KINDS, indoors=True, seed=32),
    logger="porch",
    title="Porch, under the roof, times as the clock on the wall",
    file_name="porch logger.csv",
    clock="UTC+02:00",
    first=datetime(2025, 9, 26, 18, 0),
    last=datetime(2025, 11, 3, 9, 0),
    site=Site(zone="Europe/Berlin", chloride=8.0, sulphur_dioxide=4.0),
    days=tuple(
        DayNote(date(2025, 9, 15) + timedelta(days=number), conditions) for number, conditions in enumerate(_BY_HAND)
    ),
    disturbances=(ToldDisturbance(datetime(2025, 10, 6, 9, 0), "debris cleared", note="Cobwebs."),),
    weighed=(
        ToldWeighing("P04", 167.412, (166.905, 166.861, 166.852, 166.845), 165.930, (165.922, 165.915, 165.908)),
        ToldWeighing("P08", 167.105, (166.494, 166.452, 166.443, 166.436), 165.930, (165.922, 165.915, 165.908)),
    ),
    taken_down=datetime(2025, 11, 3, 9, 30),
)
