"""The weather of a board as sums over time, from which every figure and every picture of it is read."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import pairwise
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray

from rustboard.weather.cautions import cautions_of
from rustboard.weather.clocks import Clock
from rustboard.weather.exposure import Exposure
from rustboard.weather.readings import BoardWeather, Numbers
from rustboard.weather.segments import Growth
from rustboard.weather.sums import Sums, clock_of_board, sums_of

Sum = Literal["covered", "by logger", "by hand", "wet", "wet by logger", "rain"]
"""What grows with time: hours known by loggers and by hand together, by each, hours wet, mm of rain."""

_HOUR: Final = 3_600.0
_DAY: Final = 86_400.0
_ALL: Final = 1 - 1e-9
"""A share that is all of it, but for what the last bit of a sum says."""


@dataclass(frozen=True, slots=True, eq=False)
class Pieces:
    """Stretches of time without overlap, in order, each with its air. The raw material of pictures.

    Attributes:
        start, end: seconds as `WeatherTrack.seconds_of` counts them.
        temperature_c, humidity_percent: NaN where that is not known.
        wet: 1 wet, 0 dry, the share of the day for a day noted by hand, NaN not known.
        by_hand: whether it comes from the day log.
    """

    start: Numbers
    end: Numbers
    temperature_c: Numbers
    humidity_percent: Numbers
    wet: Numbers
    by_hand: NDArray[np.bool_]


class WeatherTrack:
    """The weather of a board, merged: which source counts when, and what it sums up to. Made by `make_track`."""

    def __init__(self, weather: BoardWeather, clock: Clock, sums: Sums) -> None:
        """Keep what was summed up."""
        self._weather, self._clock, self._sums = weather, clock, sums

    def seconds_of(self, when: datetime) -> float:
        """Return a moment by the board's clock as seconds of true time (UTC where the site's zone is known).

        Of a time that clocks show twice it is the first; one that they skip is the moment they were put forward.
        """
        return self._clock.true_moment(when)

    def is_empty(self) -> bool:
        """Return whether nothing at all is known."""
        return self.span() is None

    def span(self) -> tuple[float, float] | None:
        """Return the first and the last second of which anything is known, or None."""
        parts = [each for each in self._sums.known() if len(each)]
        if not parts:
            return None
        return min(float(each.start[0]) for each in parts), max(float(each.end[-1]) for each in parts)

    def total(self, what: Sum, seconds: Numbers) -> Numbers:
        """Return how much of something there was from the beginning until each moment; it never falls."""
        grown = self._sums.growth[what].until(np.asarray(seconds, np.float64))
        return grown if what == "rain" else grown / _HOUR

    def pieces(self) -> Pieces:
        """Return the stretches of time with their air, for pictures."""
        air = self._sums.air
        return Pieces(air.segments.start, air.segments.end, air.temperature, air.humidity, air.wet, air.by_hand)

    def exposure(self, start: datetime, end: datetime) -> Exposure:
        """Return what there was between two moments by the board's clock.

        Raises:
            ValueError: the end is before the start.
        """
        if end < start:
            raise ValueError("the end is before the start")
        return self._exposure(start, end, self.seconds_of(start), self.seconds_of(end))

    def exposures(self, moments: Sequence[datetime]) -> list[Exposure]:
        """Return what there was between each two neighbouring moments."""
        return [self.exposure(start, end) for start, end in pairwise(moments)]

    def _exposure(self, start: datetime, end: datetime, low: float, high: float) -> Exposure:
        length = max(0.0, high - low)
        sums = self._sums
        covered, logger, hand = (
            self._share(sums.growth[each], low, high, length) for each in ("covered", "by logger", "by hand")
        )
        humid, warm = (self._share(each, low, high, length) for each in (sums.humid_known, sums.warm_known))
        rain_known, rain_logger = (
            self._share(each, low, high, length) for each in (sums.rain_known, sums.rain_logger)
        )
        lowest, highest = sums.temperature_range(low, high)
        found = Exposure(
            start=start,
            end=end,
            days=length / _DAY,
            coverage=covered,
            coverage_by_logger=logger,
            coverage_by_hand=hand,
            wet_hours=self._hours("wet", low, high, covered),
            wet_hours_by_logger=self._hours("wet by logger", low, high, logger),
            wet_hours_by_hand=self._hours("wet by hand", low, high, hand),
            wet_hours_90=self._hours("wet 90", low, high, logger),
            leaf_wet_hours=self._hours("leaf wet", low, high, self._share(sums.leaf_known, low, high, length)),
            dew_hours=self._hours("dew", low, high, logger),
            rain_mm=self._amount("rain", low, high, rain_known),
            rain_mm_by_logger=self._amount("rain by logger", low, high, rain_logger),
            rain_mm_by_hand=self._amount("rain by hand", low, high, max(0.0, rain_known - rain_logger)),
            rain_coverage=rain_known,
            wet_spells=sums.spells_between(low, high) if logger > 0 else None,
            mean_temperature_c=_mean(sums.warmth, sums.warm_known, low, high),
            lowest_temperature_c=lowest,
            highest_temperature_c=highest,
            temperature_coverage=warm,
            mean_rh_percent=_mean(sums.humidity, sums.humid_known, low, high),
            mean_dew_point_c=_mean(sums.dew_points, sums.dew_known, low, high),
            humidity_coverage=humid,
            frost_hours=self._hours("frost", low, high, self._share(sums.warm_logger, low, high, length)),
            stuck_hours=sums.growth["stuck"].between(low, high) / _HOUR,
        )
        return cautions_of(found, self._weather, sums, low, high)

    @staticmethod
    def _share(known: Growth, low: float, high: float, length: float) -> float:
        if length <= 0:
            return 0.0
        share = min(1.0, known.between(low, high) / length)
        return 1.0 if share > _ALL else share

    def _hours(self, what: str, low: float, high: float, known: float) -> float | None:
        return self._sums.growth[what].between(low, high) / _HOUR if known > 0 else None

    def _amount(self, what: str, low: float, high: float, known: float) -> float | None:
        return self._sums.growth[what].between(low, high) if known > 0 else None


def _mean(grown: Growth, known: Growth, low: float, high: float) -> float | None:
    seconds = known.between(low, high)
    return grown.between(low, high) / seconds if seconds > 0 else None


def make_track(weather: BoardWeather) -> WeatherTrack:
    """Merge what is known and sum it up. Takes a second or two for a million readings: for a job.

    Raises:
        InputError: a clock is of no zone that there is.
    """
    clock = clock_of_board(weather)
    return WeatherTrack(weather, clock, sums_of(weather, clock))
