"""Invented weather on boards: a logger's file with a day and night in it, days by hand, and gaps between."""

from __future__ import annotations

import hashlib
from datetime import date, datetime, timedelta

import numpy as np

from rustboard.board.weather import DayNote
from rustboard.operations.weather import GivenReadings, add_weather_file, note_day
from rustboard.session.session import Session
from rustboard.weather.packing import pack
from rustboard.weather.readings import ReadingTable

STEP_SECONDS = 600
_EPOCH = datetime(1970, 1, 1)


def steady_table(first: datetime, days: float, *, temperature: float = 10.0, humidity: float = 90.0) -> ReadingTable:
    """Readings every ten minutes that never change."""
    seconds = _seconds(first, days)
    return ReadingTable(
        seconds,
        {"temperature": np.full(len(seconds), temperature), "humidity": np.full(len(seconds), humidity)},
    )


def daily_table(first: datetime, days: float, seed: int = 1) -> ReadingTable:
    """Readings every ten minutes of an invented spring: warm dry afternoons, cold wet nights, a shower at times."""
    seconds = _seconds(first, days)
    chance = np.random.default_rng(seed)
    hours = (seconds % 86_400) / 3_600
    sun = np.cos((hours - 15) / 24 * 2 * np.pi)
    drift = np.sin(seconds / 86_400 / 9 * 2 * np.pi)
    temperature = 7.0 + 4.5 * sun + 3.0 * drift
    humidity = np.clip(78.0 - 16.0 * sun - 8.0 * drift + chance.normal(0, 2, len(seconds)), 25.0, 99.0)
    wet = humidity > 88
    rain = np.where(wet & (chance.random(len(seconds)) < 0.03), 0.4, 0.0)
    wind = np.clip(2.0 + 1.5 * sun + chance.normal(0, 0.5, len(seconds)), 0.0, 20.0)
    return ReadingTable(seconds, {"temperature": temperature, "humidity": humidity, "rain": rain, "wind": wind})


def put_readings(
    session: Session,
    table: ReadingTable,
    name: str = "march.csv",
    logger: str = "Porch",
    clock: str = "",
    **given: object,
) -> None:
    """Put readings on a board, as if they had come from a file."""
    first, last = (_EPOCH + timedelta(seconds=int(each)) for each in (table.seconds.min(), table.seconds.max()))
    packed = pack(table)
    session.do(
        add_weather_file,
        GivenReadings(
            name=name,
            sha256=hashlib.sha256(name.encode() + packed).hexdigest(),
            logger=logger,
            clock=clock,
            quantities=tuple(table.values),
            count=len(table),
            first=first,
            last=last,
            packed=packed,
            **given,  # type: ignore[arg-type]
        ),
    )


def put_day(session: Session, day: date, **noted: object) -> None:
    """Note the weather of a day by hand."""
    session.do(note_day, DayNote(day, **noted))  # type: ignore[arg-type]


def _seconds(first: datetime, days: float) -> np.ndarray[tuple[int, ...], np.dtype[np.int64]]:
    start = int((first - _EPOCH).total_seconds())
    return start + STEP_SECONDS * np.arange(round(days * 86_400 / STEP_SECONDS) + 1, dtype=np.int64)
