"""The weather of a board as sums over time, from which every figure and every picture of it is read."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Literal

import numpy as np

from rustboard.weather.exposure import Exposure
from rustboard.weather.readings import BoardWeather, Numbers

Sum = Literal["covered", "by logger", "by hand", "wet", "wet by logger", "rain"]
"""What grows with time: hours known by loggers and by hand together, by each, hours wet, mm of rain."""


@dataclass(frozen=True, slots=True)
class Pieces:
    """Stretches of time without overlap, in order, each with its air. The raw material of pictures.

    Attributes:
        start, end: seconds as `WeatherTrack.seconds_of` counts them.
        temperature_c, humidity_percent: NaN where that is not known.
        wet: 1 wet, 0 dry, NaN not known.
        by_hand: whether it comes from the day log.
    """

    start: Numbers
    end: Numbers
    temperature_c: Numbers
    humidity_percent: Numbers
    wet: Numbers
    by_hand: np.ndarray[tuple[int, ...], np.dtype[np.bool_]]


class WeatherTrack:
    """The weather of a board, merged: which source counts when, and what it sums up to. Made by `make_track`."""

    def seconds_of(self, when: datetime) -> float:
        """Return a moment by the board's clock as seconds of true time (UTC where the site's zone is known)."""
        raise NotImplementedError

    def is_empty(self) -> bool:
        """Return whether nothing at all is known."""
        raise NotImplementedError

    def span(self) -> tuple[float, float] | None:
        """Return the first and the last second of which anything is known, or None."""
        raise NotImplementedError

    def total(self, what: Sum, seconds: Numbers) -> Numbers:
        """Return how much of something there was from the beginning until each moment; it never falls."""
        raise NotImplementedError

    def pieces(self) -> Pieces:
        """Return the stretches of time with their air, for pictures."""
        raise NotImplementedError

    def exposure(self, start: datetime, end: datetime) -> Exposure:
        """Return what there was between two moments by the board's clock.

        Raises:
            ValueError: the end is before the start.
        """
        raise NotImplementedError

    def exposures(self, moments: Sequence[datetime]) -> list[Exposure]:
        """Return what there was between each two neighbouring moments."""
        raise NotImplementedError


def make_track(weather: BoardWeather) -> WeatherTrack:
    """Merge what is known and sum it up. Takes a second or two for a million readings: for a job."""
    raise NotImplementedError
