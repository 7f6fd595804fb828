"""The air of every stretch of time, for pictures, put together from what is known of each quantity for itself."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from rustboard.weather.clocks import Truths
from rustboard.weather.readings import Numbers
from rustboard.weather.segments import NOTHING, Segments
from rustboard.weather.sources import Filled, chosen, in_order


@dataclass(frozen=True, slots=True, eq=False)
class Known:
    """Where one thing is known, and its number in each stretch (NaN where it is not known after all)."""

    filled: Filled
    numbers: Numbers

    def outside(self, other: Segments) -> Known:
        """Return what of this lies outside some stretches."""
        own = self.filled.segments
        if _same(own, other):
            return Known(Filled(NOTHING, self.filled.source[:0]), self.numbers[:0])
        left = Segments(own.start, own.end, np.arange(len(own))).outside(other)
        return Known(
            Filled(Segments(left.start, left.end, own.of[left.of]), self.filled.source[left.of]),
            self.numbers[left.of],
        )

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
    logger = ~wet.filled.is_by_hand
    read = chosen(wet.filled.segments, logger)
    parts = [
        Air(read, both[0][logger], both[1][logger], wet.numbers[logger], np.zeros(len(read), bool)),
        _beside(read, wet, warm, damp),
    ]
    segments = [each.segments for each in parts]
    if not len(segments[1]):
        return parts[0]
    order = np.argsort(np.concatenate([each.start for each in segments]), kind="stable")
    return Air(
        in_order(segments),
        np.concatenate([each.temperature for each in parts])[order],
        np.concatenate([each.humidity for each in parts])[order],
        np.concatenate([each.wet for each in parts])[order],
        np.concatenate([each.by_hand for each in parts])[order],
    )


def _beside(read: Segments, wet: Known, warm: Known, damp: Known) -> Air:
    """Return the air outside the stretches ``read``, cut wherever what is known changes."""
    wet, warm, damp = (each.outside(read) for each in (wet, warm, damp))
    parts = [each.filled.segments for each in (wet, warm, damp)]
    edges = np.unique(np.concatenate([edge for each in parts for edge in (each.start, each.end)]))
    middle = (edges[1:] + edges[:-1]) / 2
    (is_wet, wet_by_hand), (temperature, warm_by_hand), (humidity, _) = (
        each.at(middle) for each in (wet, warm, damp)
    )
    known = ~(np.isnan(temperature) & np.isnan(humidity) & np.isnan(is_wet))
    return Air(
        Segments(edges[:-1][known], edges[1:][known], np.flatnonzero(known)),
        temperature[known],
        humidity[known],
        is_wet[known],
        (wet_by_hand | (np.isnan(is_wet) & warm_by_hand))[known],
    )


def _same(one: Segments, other: Segments) -> bool:
    return np.array_equal(one.start, other.start) and np.array_equal(one.end, other.end)
