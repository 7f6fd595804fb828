"""The sums over time that a track is made of."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from typing import Final

import numpy as np
from numpy.typing import NDArray

from rustboard.board.weather import DayNote
from rustboard.weather.clocks import STEADY, Clock, seconds_since_1970, zone_clock
from rustboard.weather.dew_point import dew_point_c
from rustboard.weather.merging import Series, series_of
from rustboard.weather.rain import rain_segments
from rustboard.weather.readings import BoardWeather, Numbers
from rustboard.weather.segments import NOTHING, Growth, Segments
from rustboard.weather.sources import (
    Filled,
    chosen,
    day_mean_c,
    day_rain_mm,
    day_segments,
    filled,
    is_assumed,
    standing_for,
    wet_share,
)
from rustboard.weather.spells import ends_of_spells
from rustboard.weather.wetness import could_have_dew, is_above_leaf_threshold, is_leaf_wet, is_wet_hour

_HOUR: Final = 3_600.0
_DAY_S: Final = 86_400
_MARGIN_DAYS: Final = 800
"""Inspections may lie this far beyond all that is known of the weather; beyond that a clock keeps its last offset."""


@dataclass(frozen=True, slots=True, eq=False)
class Sums:
    """What grows with time, and the stretches it grows in.

    Attributes:
        loggers: the merged series.
        air: where temperature or humidity is known, with its values; ``air_wet`` as `Pieces.wet`.
        rain: where rain is known.
        growth: by name, seconds of something (rain: mm).
        warmth, humidity, dew_points: values times seconds, for means; ``*_known``: the seconds for which they are.
        spell_ends: when wet spells had dried.
    """

    loggers: tuple[Series, ...]
    air: Filled
    air_temperature: Numbers
    air_humidity: Numbers
    air_wet: Numbers
    air_low: Numbers
    air_high: Numbers
    rain: Filled
    growth: dict[str, Growth]
    warmth: Growth
    warm_known: Growth
    warm_logger: Growth
    humidity: Growth
    humid_known: Growth
    dew_points: Growth
    leaf_known: Growth
    rain_known: Growth
    rain_logger: Growth
    spell_ends: Numbers
    assumed: Growth

    def temperature_range(self, low: float, high: float) -> tuple[float | None, float | None]:
        """Return the lowest and the highest temperature of all that touches a stretch of time."""
        touching = self.air.segments.around(low, high)
        lowest, highest = self.air_low[touching], self.air_high[touching]
        lowest, highest = lowest[~np.isnan(lowest)], highest[~np.isnan(highest)]
        return (float(lowest.min()) if len(lowest) else None, float(highest.max()) if len(highest) else None)

    def spells_between(self, low: float, high: float) -> int:
        """Return how many wet spells dried after one moment and until another."""
        first, last = np.searchsorted(self.spell_ends, [low, high], side="right")
        return int(last - first)


def clock_of_board(weather: BoardWeather) -> Clock:
    """Return the board's own clock, over all times that are known.

    Raises:
        InputError: its zone is none that there is.
    """
    zone = weather.site.zone
    if not zone:
        return STEADY
    shown = [int(edge) for each in weather.files if len(each.table) for edge in _edges(each.table.seconds)]
    shown.extend(_day_second(each) for each in weather.day_notes)
    if not shown:
        return STEADY
    return zone_clock(zone, min(shown) // _DAY_S - _MARGIN_DAYS, max(shown) // _DAY_S + _MARGIN_DAYS)


def _edges(seconds: NDArray[np.int64]) -> tuple[int, int]:
    return int(seconds.min()), int(seconds.max())


def _day_second(note: DayNote) -> int:
    return seconds_since_1970(datetime(note.day.year, note.day.month, note.day.day))


@dataclass(slots=True)
class _Parts:
    """What the sums are made from."""

    weather: BoardWeather
    clock: Clock
    loggers: tuple[Series, ...]
    days: Segments
    notes: tuple[DayNote, ...]

    def by_quantity(self, *names: str) -> list[Segments]:
        """Return, for each logger, the stretches of those readings that have all of some quantities."""
        found = []
        for series in self.loggers:
            known = np.ones(len(series.seconds), bool)
            for name in names:
                known &= ~np.isnan(series.of(name))  # type: ignore[arg-type]
            found.append(standing_for(series.seconds, known))
        return found

    def columns(self, name: str) -> list[Numbers]:
        """Return a quantity of each logger."""
        return [series.of(name) for series in self.loggers]  # type: ignore[arg-type]

    def noted(self, numbers: Numbers) -> Segments:
        """Return the days of which a number is noted."""
        return chosen(self.days, ~np.isnan(numbers))


def sums_of(weather: BoardWeather, clock: Clock) -> Sums:
    """Merge and sum up.

    Raises:
        InputError: a clock is of no zone that there is.
    """
    notes = tuple(sorted(weather.day_notes, key=lambda each: each.day))
    parts = _Parts(weather, clock, series_of(weather.files, weather.site), day_segments(notes, clock), notes)
    growth: dict[str, Growth] = {}
    spell_ends, dew_points, leaf_known = _wetness(parts, growth)
    none = np.full(len(notes), np.nan)

    warm = filled(parts.by_quantity("temperature"), parts.noted(_per_note(notes, day_mean_c)))
    warmth = warm.gathered(parts.columns("temperature"), _per_note(notes, day_mean_c))
    growth["frost"] = Growth.over(warm.segments, ((warmth <= 0) & ~warm.is_by_hand).astype(np.float64))
    humid = filled(parts.by_quantity("humidity"), NOTHING)
    humidity = humid.gathered(parts.columns("humidity"), none)
    rain_known, rain_logger, rain = _rain(parts, growth)
    growth["stuck"] = _stuck(parts)
    air = _air(parts)
    return Sums(
        loggers=parts.loggers,
        air=air.filled,
        air_temperature=air.temperature,
        air_humidity=air.humidity,
        air_wet=air.wet,
        air_low=air.low,
        air_high=air.high,
        rain=rain,
        growth=growth,
        warmth=Growth.over(warm.segments, warmth),
        warm_known=_known(warm.segments),
        warm_logger=Growth.over(warm.segments, (~warm.is_by_hand).astype(np.float64)),
        humidity=Growth.over(humid.segments, humidity),
        humid_known=_known(humid.segments),
        dew_points=dew_points,
        leaf_known=leaf_known,
        rain_known=rain_known,
        rain_logger=rain_logger,
        spell_ends=spell_ends,
        assumed=growth["assumed"],
    )


def _per_note(notes: tuple[DayNote, ...], number: Callable[[DayNote], float]) -> Numbers:
    return np.array([number(each) for each in notes], np.float64)


def _known(segments: Segments) -> Growth:
    return Growth.over(segments, np.ones(len(segments)))


def _as_rate(truths: NDArray[np.bool_]) -> Numbers:
    return truths.astype(np.float64)


def _wetness(parts: _Parts, growth: dict[str, Growth]) -> tuple[Numbers, Growth, Growth]:
    """Sum up all that needs temperature and humidity together.

    Returns:
        Ends of wet spells, dew points, and where the wetness of leaves can be told.
    """
    site = parts.weather.site
    shares = np.array([wet_share(each, site) for each in parts.notes])
    found = filled(parts.by_quantity("temperature", "humidity"), parts.noted(shares))
    none = np.full(len(parts.notes), np.nan)
    temperature = found.gathered(parts.columns("temperature"), none)
    humidity = found.gathered(parts.columns("humidity"), none)
    wind = found.gathered(parts.columns("wind"), none)
    by_hand, segments = found.is_by_hand, found.segments
    hand_rate = np.zeros(len(segments))
    hand_rate[by_hand] = shares[segments.of[by_hand]]
    wet = is_wet_hour(temperature, humidity)
    dew = dew_point_c(temperature, humidity, site.dew_point_set)
    growth["covered"] = _known(segments)
    growth["by logger"] = Growth.over(segments, _as_rate(~by_hand))
    growth["by hand"] = Growth.over(segments, _as_rate(by_hand))
    growth["wet by logger"] = Growth.over(segments, _as_rate(wet))
    growth["wet by hand"] = Growth.over(segments, hand_rate)
    growth["wet"] = Growth.over(segments, _as_rate(wet) + hand_rate)
    growth["wet 90"] = Growth.over(segments, _as_rate(is_above_leaf_threshold(temperature, humidity)))
    growth["leaf wet"] = Growth.over(segments, _as_rate(is_leaf_wet(temperature, dew, humidity, wind)))
    hour = parts.clock.shown_at((segments.start + segments.end) / 2) % _DAY_S / _HOUR
    growth["dew"] = Growth.over(segments, _as_rate(could_have_dew(temperature, dew, hour)))
    assumed = np.array([is_assumed(each) for each in parts.notes], bool)
    growth["assumed"] = Growth.over(segments, _as_rate(by_hand & _of_notes(assumed, found)))
    logger = ~by_hand
    mine = Segments(segments.start[logger], segments.end[logger], segments.of[logger])
    return (
        ends_of_spells(mine, wet[logger]),
        Growth.over(segments, np.nan_to_num(dew)),
        Growth.over(segments, _as_rate(~np.isnan(wind) & logger)),
    )


def _of_notes(truths: NDArray[np.bool_], found: Filled) -> NDArray[np.bool_]:
    """Return what is so of the note of each stretch; of a logger's stretch nothing is."""
    told = np.zeros(len(found.segments), bool)
    mine = found.is_by_hand
    told[mine] = truths[found.segments.of[mine]]
    return told


def _rain(parts: _Parts, growth: dict[str, Growth]) -> tuple[Growth, Growth, Filled]:
    """Sum the rain up; return where it is known, where by loggers, and the stretches."""
    segments: list[Segments] = []
    rates: list[Numbers] = []
    for series in parts.loggers:
        own, amounts = rain_segments(series)
        rate = np.full(len(series.seconds), np.nan)
        rate[own.of] = amounts / (own.end - own.start)
        segments.append(own)
        rates.append(rate)
    by_day = _per_note(parts.notes, day_rain_mm)
    found = filled(segments, parts.noted(by_day))
    length = parts.days.end - parts.days.start
    rate = found.gathered(rates, by_day / length)
    by_hand = found.is_by_hand
    growth["rain"] = Growth.over(found.segments, rate)
    growth["rain by logger"] = Growth.over(found.segments, np.where(by_hand, 0.0, rate))
    growth["rain by hand"] = Growth.over(found.segments, np.where(by_hand, rate, 0.0))
    return _known(found.segments), Growth.over(found.segments, _as_rate(~by_hand)), found


def _stuck(parts: _Parts) -> Growth:
    own = [standing_for(series.seconds, series.stuck) for series in parts.loggers]
    return _known(filled(own, NOTHING).segments)


@dataclass(frozen=True, slots=True)
class _Air:
    filled: Filled
    temperature: Numbers
    humidity: Numbers
    wet: Numbers
    low: Numbers
    high: Numbers


def _air(parts: _Parts) -> _Air:
    """Return the stretches in which anything of the air is known, for pictures and extremes."""
    own = [
        standing_for(series.seconds, ~(np.isnan(series.of("temperature")) & np.isnan(series.of("humidity"))))
        for series in parts.loggers
    ]
    shares = np.array([wet_share(each, parts.weather.site) for each in parts.notes])
    means = _per_note(parts.notes, day_mean_c)
    found = filled(own, chosen(parts.days, ~(np.isnan(shares) & np.isnan(means))))
    temperature = found.gathered(parts.columns("temperature"), means)
    humidity = found.gathered(parts.columns("humidity"), np.full(len(parts.notes), np.nan))
    by_logger = np.where(
        np.isnan(temperature) | np.isnan(humidity), np.nan, _as_rate(is_wet_hour(temperature, humidity))
    )
    wet = found.gathered([np.full(len(each.seconds), np.nan) for each in parts.loggers], shares)
    low, high = temperature.copy(), temperature.copy()
    mine = found.is_by_hand
    notes = [parts.notes[number] for number in found.segments.of[mine]]
    low[mine] = [_first_of(each.lowest_c, each.highest_c) for each in notes]
    high[mine] = [_first_of(each.highest_c, each.lowest_c) for each in notes]
    return _Air(found, temperature, humidity, np.where(mine, wet, by_logger), low, high)


def _first_of(*noted: float | None) -> float:
    return next((each for each in noted if each is not None), float("nan"))
