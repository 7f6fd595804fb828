"""The sums over time that a track is made of."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime
from typing import Final

import numpy as np
from numpy.typing import NDArray

from rustboard.board.clock_names import seconds_since_1970
from rustboard.board.weather import DayNote
from rustboard.weather.air import Air, Known, air_of
from rustboard.weather.clocks import STEADY, Clock, zone_clock
from rustboard.weather.dew_point import dew_point_c
from rustboard.weather.extremes import Extremes
from rustboard.weather.merging import Series, series_of
from rustboard.weather.rain import rain_segments
from rustboard.weather.readings import BoardWeather, Numbers
from rustboard.weather.segments import NOTHING, Growth, Segments
from rustboard.weather.sources import (
    Filled,
    chosen,
    day_highest_c,
    day_lowest_c,
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
        air: where anything of the air is known, for pictures.
        warm: where anything of the temperature is known, with the ``extremes`` of each stretch.
        rain: where rain is known.
        growth: by name, seconds of something (rain: mm).
        warmth, humidity, dew_points: values times seconds, for means; ``*_known``: the seconds for which they are.
        spell_ends: when wet spells had dried.
    """

    loggers: tuple[Series, ...]
    air: Air
    warm: Filled
    extremes: Extremes
    rain: Filled
    growth: dict[str, Growth]
    warmth: Growth
    warm_known: Growth
    warm_logger: Growth
    humidity: Growth
    humid_known: Growth
    dew_points: Growth
    dew_known: Growth
    leaf_known: Growth
    rain_known: Growth
    rain_logger: Growth
    spell_ends: Numbers
    assumed: Growth

    def known(self) -> tuple[Segments, ...]:
        """Return the stretches in which anything at all is known."""
        return self.air.segments, self.warm.segments, self.rain.segments

    def temperature_range(self, low: float, high: float) -> tuple[float | None, float | None]:
        """Return the lowest and the highest temperature of all that touches a stretch of time.

        That is every reading that stands for some of it, and every day noted by hand that fills some of it.
        """
        touching = self.warm.segments.around(low, high)
        return self.extremes.between(touching.start, touching.stop)

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
    shares: Numbers
    _stood: dict[tuple[str, bytes], Segments] = field(default_factory=dict)

    def by_quantity(self, *names: str) -> list[Segments]:
        """Return, for each logger, the stretches of those readings that have all of some quantities."""
        found = []
        for series in self.loggers:
            known = np.ones(len(series.seconds), bool)
            for name in names:
                known &= ~np.isnan(series.of(name))  # type: ignore[arg-type]
            found.append(self._standing(series, known))
        return found

    def _standing(self, series: Series, known: NDArray[np.bool_]) -> Segments:
        # Most loggers know all of their quantities at the same readings.
        key = (series.logger, known.tobytes())
        if key not in self._stood:
            self._stood[key] = standing_for(series.seconds, known)
        return self._stood[key]

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
    # Of two notes of one day the later one counts: a day is there once.
    by_day = {each.day: each for each in sorted(weather.day_notes, key=lambda each: each.key)}
    notes = tuple(by_day[day] for day in sorted(by_day))
    days = day_segments(notes, clock)
    hours = (days.end - days.start) / _HOUR
    shares = np.array([wet_share(each, weather.site, hour) for each, hour in zip(notes, hours, strict=True)])
    parts = _Parts(weather, clock, series_of(weather.files, weather.site), days, notes, shares)
    growth: dict[str, Growth] = {}
    wetness = _wetness(parts, growth)
    none = np.full(len(notes), np.nan)

    lowest, highest = _per_note(notes, day_lowest_c), _per_note(notes, day_highest_c)
    warm = filled(parts.by_quantity("temperature"), parts.noted(np.fmin(lowest, highest)))
    read = parts.columns("temperature")
    warmth = warm.gathered(read, _per_note(notes, day_mean_c))
    growth["frost"] = Growth.during(warm.segments, (warmth <= 0) & ~warm.is_by_hand)
    humid = filled(parts.by_quantity("humidity"), NOTHING)
    humidity = humid.gathered(parts.columns("humidity"), none)
    rain_known, rain_logger, rain = _rain(parts, growth)
    growth["stuck"] = _stuck(parts)
    return Sums(
        loggers=parts.loggers,
        air=air_of(wetness.wet, wetness.both, Known(warm, warmth), Known(humid, humidity)),
        warm=warm,
        extremes=Extremes(warm.gathered(read, lowest), warm.gathered(read, highest))
        if notes
        else Extremes(warmth, warmth),
        rain=rain,
        growth=growth,
        warmth=Growth.over(warm.segments, np.nan_to_num(warmth)),
        warm_known=Growth.during(warm.segments, ~np.isnan(warmth)),
        warm_logger=Growth.during(warm.segments, ~warm.is_by_hand),
        humidity=Growth.over(humid.segments, humidity),
        humid_known=_known(humid.segments),
        dew_points=wetness.dew_points,
        dew_known=wetness.dew_known,
        leaf_known=wetness.leaf_known,
        rain_known=rain_known,
        rain_logger=rain_logger,
        spell_ends=wetness.spell_ends,
        assumed=growth["assumed"],
    )


def _per_note(notes: tuple[DayNote, ...], number: Callable[[DayNote], float]) -> Numbers:
    return np.array([number(each) for each in notes], np.float64)


def _known(segments: Segments) -> Growth:
    return Growth.during(segments, np.ones(len(segments), bool))


def _as_rate(truths: NDArray[np.bool_]) -> Numbers:
    return truths.astype(np.float64)


@dataclass(frozen=True, slots=True, eq=False)
class _Wetness:
    """What follows from temperature and humidity together, which are ``both``.

    Attributes:
        wet: as `Pieces.wet`. spell_ends: when wet spells had dried. leaf_known: where that of leaves can be told.
    """

    wet: Known
    both: tuple[Numbers, Numbers]
    spell_ends: Numbers
    dew_points: Growth
    dew_known: Growth
    leaf_known: Growth


def _wetness(parts: _Parts, growth: dict[str, Growth]) -> _Wetness:
    """Sum up all that needs temperature and humidity together."""
    site, shares = parts.weather.site, parts.shares
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
    growth["by logger"] = Growth.during(segments, ~by_hand)
    growth["by hand"] = Growth.during(segments, by_hand)
    growth["wet by logger"] = Growth.during(segments, wet)
    growth["wet by hand"] = Growth.over(segments, hand_rate)
    growth["wet"] = Growth.over(segments, _as_rate(wet) + hand_rate)
    growth["wet 90"] = Growth.during(segments, is_above_leaf_threshold(temperature, humidity))
    growth["leaf wet"] = Growth.during(segments, is_leaf_wet(temperature, dew, humidity, wind))
    hour = parts.clock.shown_at((segments.start + segments.end) / 2) % _DAY_S / _HOUR
    growth["dew"] = Growth.during(segments, could_have_dew(temperature, dew, hour))
    assumed = np.array([is_assumed(each) for each in parts.notes], bool)
    growth["assumed"] = Growth.during(segments, by_hand & _of_notes(assumed, found))
    logger = ~by_hand
    mine = Segments(segments.start[logger], segments.end[logger], segments.of[logger])
    return _Wetness(
        Known(found, np.where(by_hand, hand_rate, _as_rate(wet))),
        (temperature, humidity),
        ends_of_spells(mine, wet[logger]),
        Growth.over(segments, np.nan_to_num(dew)),
        Growth.during(segments, ~np.isnan(dew)),
        Growth.during(segments, ~np.isnan(wind) & logger),
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
    growth["rain by logger"] = (
        Growth.over(found.segments, np.where(by_hand, 0.0, rate)) if parts.notes else growth["rain"]
    )
    growth["rain by hand"] = Growth.over(found.segments, np.where(by_hand, rate, 0.0))
    return _known(found.segments), Growth.during(found.segments, ~by_hand), found


def _stuck(parts: _Parts) -> Growth:
    own = [standing_for(series.seconds, series.stuck) for series in parts.loggers]
    return _known(filled(own, NOTHING).segments)
