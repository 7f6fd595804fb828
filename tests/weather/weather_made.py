"""Weather for tests, made in one line."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

import numpy as np

from rustboard.board.weather import Quantity
from rustboard.weather.readings import LoggerReadings, ReadingTable

Row = tuple[float, ...]

AIR: tuple[Quantity, ...] = ("temperature", "humidity")


def second(text: str) -> int:
    """Return an ISO time as seconds of its own clock."""
    return int((datetime.fromisoformat(text) - datetime(1970, 1, 1)).total_seconds())


def logger(
    first: str,
    rows: Sequence[Row],
    names: Sequence[Quantity] = AIR,
    *,
    minutes: float = 60,
    name: str = "a",
    clock: str = "",
) -> LoggerReadings:
    """Return readings at even distances from a first time."""
    seconds = second(first) + np.arange(len(rows), dtype=np.int64) * round(minutes * 60)
    columns = np.array(rows, np.float64).reshape(len(rows), len(names))
    return LoggerReadings(
        name, clock, ReadingTable(seconds, {each: columns[:, at].copy() for at, each in enumerate(names)})
    )


def at_times(
    times: Sequence[str], rows: Sequence[Row], names: Sequence[Quantity] = AIR, *, name: str = "a", clock: str = ""
) -> LoggerReadings:
    """Return readings at given times."""
    columns = np.array(rows, np.float64).reshape(len(rows), len(names))
    seconds = np.array([second(each) for each in times], np.int64)
    return LoggerReadings(
        name, clock, ReadingTable(seconds, {each: columns[:, at].copy() for at, each in enumerate(names)})
    )
