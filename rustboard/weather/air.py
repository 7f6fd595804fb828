"""The air of every stretch of time, for pictures, put together from what is known of each quantity for itself."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from rustboard.weather.clocks import Truths
from rustboard.weather.readings import Numbers
from rustboard.weather.segments import NOTHING, Segments
from rustboard.weather.sources import Filled


@dataclass(frozen=True, slots=True, eq=False)
class Known:
    """Where one thing is known, and its number in each stretch (NaN where it is not known after all)."""

    filled: Filled
    numbers: Numbers

    def at(self, seconds: Numbers) -> tuple[Numbers, Truths]:
        """Return the number at each moment, NaN where there is none, and whether it comes from the day log."""
        found = np.full(len(seconds), np.nan)
        by_hand = np.zeros(len(seconds), bool)
        segments = self.filled.segments
        if len(segments):
            place = np.maximum(np.searchsorted(segments.start, seconds, side="right") - 1, 0)
            inside = (seconds >= segments.start[place]) & (seconds < segments.end[place])
            found[inside] = self.numbers[place[inside]]
            by_hand = inside & self.filled.is_by_hand[place] & ~np.isnan(found)
        return found, by_hand


@dataclass(frozen=True, slots=True, eq=False)
class Air:
    """Stretches of time in which anything of the air or of wetness is known; as `rustboard.weather.track.Pieces`."""

    segments: Segments
    temperature: Numbers
    humidity: Numbers
    wet: Numbers
    by_hand: Truths


def air_of(wet: Known, both: tuple[Numbers, Numbers], warm: Known, damp: Known) -> Air:
    """Return the air of all stretches.

    Args:
        wet: where it is known whether it was wet.
        both: temperature and humidity there; they go before what is known of each for itself, since the wetness
            follows from them.
        warm: temperature for itself, by hand too.
        damp: humidity for itself.
    """
    segments = wet.filled.segments
    if all(_same(segments, each.filled.segments) for each in (warm, damp)):
        return Air(segments, *both, wet.numbers, wet.filled.is_by_hand)
    parts = (segments, warm.filled.segments, damp.filled.segments)
    edges = np.unique(np.concatenate([edge for each in parts for edge in (each.start, each.end)]))
    if not len(edges):
        return Air(NOTHING, np.zeros(0), np.zeros(0), np.zeros(0), np.zeros(0, bool))
    middle = (edges[1:] + edges[:-1]) / 2
    is_wet, wet_by_hand = wet.at(middle)
    of_day, warm_by_hand = warm.at(middle)
    temperature = _first_known(Known(wet.filled, both[0]).at(middle)[0], of_day)
    humidity = _first_known(Known(wet.filled, both[1]).at(middle)[0], damp.at(middle)[0])
    by_hand = wet_by_hand | (np.isnan(is_wet) & warm_by_hand)
    known = ~(np.isnan(temperature) & np.isnan(humidity) & np.isnan(is_wet))
    return Air(
        Segments(edges[:-1][known], edges[1:][known], np.flatnonzero(known)),
        temperature[known],
        humidity[known],
        is_wet[known],
        by_hand[known],
    )


def _same(one: Segments, other: Segments) -> bool:
    return np.array_equal(one.start, other.start) and np.array_equal(one.end, other.end)


def _first_known(one: Numbers, other: Numbers) -> Numbers:
    return np.where(np.isnan(one), other, one)
