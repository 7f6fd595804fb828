"""The weather of a board ready to be drawn: what any stretch between two places of the axis held.

Everything is read from sums and from pyramids of extremes that are made once, so that a frame costs the same for a
thousand readings and for a million.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, time, timedelta
from math import ceil, floor
from typing import TYPE_CHECKING, Final

import numpy as np
from numpy.typing import NDArray

from rustboard.board.exposure_clock import ExposureClock
from rustboard.board.weather import DayNote
from rustboard.session.timeline_clocks import seconds_by_day
from rustboard.ui.timeline.geometry import Floats, Integers

if TYPE_CHECKING:
    from rustboard.weather.exposure import Exposure
    from rustboard.weather.track import Pieces, WeatherTrack

LEVEL: Final = 4
"""Readings that one block of a pyramid's next level stands for."""
MOST_LOOKED_AT: Final = 1 << 16
"""Readings or blocks looked at for one picture; with more in view the next level serves, a block being far less than
one px wide then."""
BIN_DAYS: Final = (1 / 24, 3 / 24, 6 / 24, 12 / 24, 1.0, 2.0, 4.0, 7.0, 14.0, 28.0, 91.0, 364.0)
"""How long the stretches can be that one bar of rain stands for."""
LEAST_BAR_PX: Final = 5.5


@dataclass(frozen=True, slots=True, eq=False)
class Columns:
    """What the weather was in stretches that follow each other, one number each.

    Attributes:
        wet, dry, by_hand: shares of each stretch that were wet, dry, and known by hand alone; the rest is not known.
        lowest, highest, mean: temperature in C, NaN where it is not known.
        lasts: whether there is any time in it; beyond the ends of a clock there is none.
    """

    wet: Floats
    dry: Floats
    by_hand: Floats
    lowest: Floats
    highest: Floats
    mean: Floats
    lasts: NDArray[np.bool_]


class Extremes:
    """The lowest and the highest temperature of any readings in a row."""

    def __init__(self, low: Floats, high: Floats) -> None:
        """Build the pyramid; NaN is no temperature."""
        self._levels = [(np.append(np.where(np.isnan(low), np.inf, low), np.inf),
                         np.append(np.where(np.isnan(high), -np.inf, high), -np.inf))]  # fmt: skip
        while len(self._levels[-1][0]) > LEVEL + 1:
            lows, highs = self._levels[-1]
            self._levels.append((_blocks(lows[:-1], np.inf, np.minimum), _blocks(highs[:-1], -np.inf, np.maximum)))

    def between(self, first: Integers, beyond: Integers) -> tuple[Floats, Floats]:
        """Return extremes of the readings from ``first`` until before ``beyond``; both never fall. NaN for none."""
        some = beyond > first
        level, size = 0, 1
        while len(first) and (beyond[-1] - first[0]) / size > MOST_LOOKED_AT and level + 1 < len(self._levels):
            level, size = level + 1, size * LEVEL
        lows, highs = self._levels[level]
        places = np.column_stack([first // size, -(-beyond // size)]).ravel()
        if not len(places):
            return np.full(len(first), np.nan), np.full(len(first), np.nan)
        low = np.minimum.reduceat(lows, places)[::2]
        high = np.maximum.reduceat(highs, places)[::2]
        known = some & np.isfinite(low) & np.isfinite(high)
        return np.where(known, low, np.nan), np.where(known, high, np.nan)


def _blocks(values: Floats, filler: float, extreme: np.ufunc) -> Floats:
    padded = np.append(values, np.full(-len(values) % LEVEL, filler)).reshape(-1, LEVEL)
    found: Floats = np.append(extreme.reduce(padded, axis=1), filler)
    return found


class LaneWeather:
    """The weather of a board over its days of exposure."""

    def __init__(
        self, track: WeatherTrack, zero: datetime, first: float, last: float, notes: Iterable[DayNote] = ()
    ) -> None:
        """Make what pictures are read from.

        Args:
            track: the weather.
            zero: when exposure began.
            first: earliest day that can come into view.
            last: latest day that can come into view.
            notes: days noted by hand, for their highest and lowest temperatures.
        """
        self._track, self._zero, self.first, self.last = track, zero, first, last
        self._days, self._seconds = seconds_by_day(track, zero, first, last)
        pieces = track.pieces()
        self._start, self._end = pieces.start, pieces.end
        low, high = self._with_noted(pieces, notes)
        self._extremes = Extremes(low, high)
        known = ~np.isnan(pieces.temperature_c)
        self._rate = np.where(known, pieces.temperature_c, 0.0)
        self._counts = known.astype(np.float64)
        length = pieces.end - pieces.start
        self._warmth = np.concatenate([[0.0], np.cumsum(self._rate * length)])
        self._warm = np.concatenate([[0.0], np.cumsum(self._counts * length)])
        within = slice(*self._touching(np.array([first, last])))
        lows, highs = low[within], high[within]
        lows, highs = lows[~np.isnan(lows)], highs[~np.isnan(highs)]
        self.temperatures = (float(lows.min()), float(highs.max())) if len(lows) and len(highs) else None
        self.has_rain = float(self.rain(np.array([first, last]))[0]) > 0
        self._most: dict[float, float] = {}

    def seconds_at(self, days: Floats) -> Floats:
        """Return seconds of true time at days of exposure."""
        found: Floats = np.interp(days, self._days, self._seconds)
        beyond = np.where(days < self.first, days - self.first, np.maximum(0, days - self._days[-1]))
        moved: Floats = found + beyond * 86_400
        return moved

    def columns(self, edges: Floats) -> Columns:
        """Return the weather between neighbouring days of ``edges``, which never fall."""
        seconds = self.seconds_at(edges)
        hours = np.diff(seconds) / 3_600.0
        some = hours > 0
        shares = [
            np.where(some, np.diff(self._track.total(what, seconds)) / np.where(some, hours, 1.0), 0.0)
            for what in ("covered", "wet", "by hand")
        ]
        covered, wet, by_hand = (np.clip(each, 0.0, 1.0) for each in shares)
        first, beyond = self._pieces_between(seconds)
        lowest, highest = self._extremes.between(first, np.where(some, beyond, first))
        warm = np.diff(self._until(self._warm, self._counts, seconds))
        warmth = np.diff(self._until(self._warmth, self._rate, seconds))
        mean = np.where(warm > 0, warmth / np.where(warm > 0, warm, 1.0), np.nan)
        return Columns(np.minimum(wet, covered), np.maximum(covered - wet, 0.0), by_hand, lowest, highest, mean, some)

    def rain(self, edges: Floats) -> Floats:
        """Return mm of rain between neighbouring days of ``edges``."""
        found: Floats = np.diff(self._track.total("rain", self.seconds_at(edges)))
        return found

    def most_rain(self, length: float) -> float:
        """Return the most rain there was in one stretch of that many days, counted from the start of exposure."""
        if length not in self._most:
            self._most[length] = float(self.rain(bin_edges(self.first, self.last, length)).max(initial=0.0))
        return self._most[length]

    def exposure(self, start: float, end: float) -> Exposure:
        """Return what there was between two days."""
        return self._track.exposure(self._zero + timedelta(days=start), self._zero + timedelta(days=end))

    def _touching(self, days: Floats) -> tuple[int, int]:
        first, beyond = self._pieces_between(self.seconds_at(days))
        return int(first[0]), int(beyond[0])

    def _pieces_between(self, seconds: Floats) -> tuple[Integers, Integers]:
        first = np.searchsorted(self._end, seconds[:-1], side="right")
        return first, np.maximum(first, np.searchsorted(self._start, seconds[1:], side="left"))

    def _until(self, before: Floats, rate: Floats, seconds: Floats) -> Floats:
        if not len(self._start):
            return np.zeros(len(seconds))
        at = np.searchsorted(self._start, seconds, side="right") - 1
        kept = np.maximum(at, 0)
        into = np.clip(seconds - self._start[kept], 0, self._end[kept] - self._start[kept])
        found: Floats = np.where(at >= 0, before[kept] + rate[kept] * into, 0.0)
        return found

    def _with_noted(self, pieces: Pieces, notes: Iterable[DayNote]) -> tuple[Floats, Floats]:
        """Return lowest and highest temperature of each piece; days by hand reach over what was noted."""
        low, high = pieces.temperature_c.copy(), pieces.temperature_c.copy()
        for note in notes:
            midnight = datetime.combine(note.day, time())
            ends = [self._track.seconds_of(midnight + timedelta(days=each)) for each in (0, 1)]
            first, beyond = (int(each[0]) for each in self._pieces_between(np.array(ends)))
            mine = np.flatnonzero(pieces.by_hand[first:beyond]) + first
            if note.lowest_c is not None:
                low[mine] = note.lowest_c
            if note.highest_c is not None:
                high[mine] = note.highest_c
        return low, high


def bin_edges(first: float, last: float, length: float) -> Floats:
    """Return days that lie whole stretches from the start of exposure, around all from first to last."""
    return np.arange(floor(first / length), ceil(last / length) + 1, dtype=np.float64) * length


def bin_length(days_a_px: float) -> float:
    """Return how many days one bar of rain stands for, so that bars stay broad enough to be told apart."""
    return next((each for each in BIN_DAYS if each >= days_a_px * LEAST_BAR_PX), BIN_DAYS[-1])


@dataclass(frozen=True, slots=True, eq=False)
class LaneAxis:
    """The clock of the axis as arrays."""

    clock: ExposureClock
    days: Floats
    values: Floats

    @classmethod
    def of(cls, clock: ExposureClock) -> LaneAxis:
        """Return the arrays of a clock."""
        return cls(clock, np.array(clock.days), np.array(clock.values))

    def day_at(self, values: Floats) -> Floats:
        """Return days at places of the axis; where the clock stood still, any of those days."""
        return np.interp(values, self.values, self.days) if len(self.days) else values

    def at_day(self, days: Floats) -> Floats:
        """Return places of days on the axis."""
        return np.interp(days, self.days, self.values) if len(self.days) else days

    def days_a_unit(self) -> float:
        """Return how many days one unit of the axis stands for on average, the same wherever one looks."""
        if not len(self.days) or self.values[-1] <= self.values[0]:
            return 1.0
        return float((self.days[-1] - self.days[0]) / (self.values[-1] - self.values[0]))
