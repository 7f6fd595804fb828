"""The clocks of the timeline that count weather, read from the track of the weather."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import TYPE_CHECKING, Final

import numpy as np

from rustboard.board.exposure_clock import ClockKind, ExposureClock, counted_clock
from rustboard.board.series import Days

if TYPE_CHECKING:
    from rustboard.weather.readings import Numbers
    from rustboard.weather.track import Sum, WeatherTrack

MOST_KNOTS: Final = 20_000
"""Places at which a clock is worked out; in between it is taken to run evenly. In a year that is half an hour."""
MOST_TURNS: Final = 4_000
"""Days at which the board's clock is compared with true time; it is put forward and back at night, twice a year."""
_HOURS_A_DAY: Final = 24.0


def seconds_by_day(track: WeatherTrack, zero: datetime, first: float, last: float) -> tuple[Numbers, Numbers]:
    """Return days of exposure with their seconds of true time, from which those of any day between can be read.

    Args:
        track: the weather.
        zero: when exposure began.
        first: day to reach from.
        last: day to reach to.
    """
    count = int(min(MOST_TURNS, max(1, np.ceil(last - first)))) + 1
    days = np.linspace(first, max(last, first + 1.0), count)
    seconds = np.array([track.seconds_of(zero + timedelta(days=float(day))) for day in days], np.float64)
    return days, np.maximum.accumulate(seconds)


def weather_clock(track: WeatherTrack, kind: ClockKind, zero: datetime, days: Days) -> ExposureClock:
    """Return a clock that counts wet hours or mm of rain since exposure began; 0 then, and below it before."""
    what: Sum = "rain" if kind == "rain" else "wet"
    own = np.array([each.day for each in days])
    first, last = min(0.0, float(own[0])), max(0.0, float(own[-1]))
    knots = np.unique(np.concatenate([np.linspace(first, last, _knots(last - first)), own]))
    by_day, by_second = seconds_by_day(track, zero, first, last)
    seconds = np.interp(knots, by_day, by_second)
    start = np.interp([0.0], by_day, by_second)
    values = np.subtract(track.total(what, seconds), track.total(what, start))
    places = np.interp(own, knots, values)
    return counted_clock(kind, places.tolist(), knots.tolist(), values.tolist(), _known(track, kind, zero, last))


def _knots(span: float) -> int:
    return int(min(MOST_KNOTS, max(2, np.ceil(span * _HOURS_A_DAY * 4))))


def _known(track: WeatherTrack, kind: ClockKind, zero: datetime, last: float) -> float:
    """Return the share of the exposure for which it is known whether the coupons were wet, or whether it rained."""
    if last <= 0:
        return 0.0
    whole = track.exposure(zero, zero + timedelta(days=last))
    return whole.rain_coverage if kind == "rain" else whole.coverage
