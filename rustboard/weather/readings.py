"""A table of readings as arrays, and the weather of a board as it comes from its record."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from rustboard.board.weather import DayNote, Quantity, Site

Numbers = NDArray[np.float64]
Seconds = NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class ReadingTable:
    """Readings as a file gave them, in any order, repeated ones included.

    Attributes:
        seconds: time of each reading by the file's own clock, seconds since 1970-01-01 00:00 of that clock.
        values: by quantity one number a reading, in the units of `rustboard.board.weather.QUANTITIES`; NaN = none.
    """

    seconds: Seconds
    values: Mapping[Quantity, Numbers]

    def __len__(self) -> int:
        """Return how many readings there are."""
        return len(self.seconds)


@dataclass(frozen=True, slots=True)
class LoggerReadings:
    """The readings of one file.

    Attributes:
        logger, clock: as `rustboard.board.weather.WeatherFile` has them.
    """

    logger: str
    clock: str
    table: ReadingTable


@dataclass(frozen=True, slots=True)
class BoardWeather:
    """All that a board knows of its weather.

    Attributes:
        files: of loggers; the logger that comes first is the first choice, the next ones fill where it has nothing.
        day_notes: by hand; they fill where no logger has anything.
    """

    files: tuple[LoggerReadings, ...] = ()
    day_notes: tuple[DayNote, ...] = ()
    site: Site = field(default_factory=Site)
