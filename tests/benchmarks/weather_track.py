"""How long the weather of a board takes to work out from a million readings, and one exposure from it.

Run it: ``python tests/benchmarks/weather_track.py``. The budget for the track is 1.5 s for each million of
readings, for one exposure 1 ms; both are times of the machine it runs on, not ratios.

* even: one logger every 10 minutes for 19 years, one reading in a thousand missing, one day noted by hand.
* uneven: the same with times that jitter by some seconds, so that no two distances are alike.
* twice: the same file on the board twice.
* two: two loggers with gaps that fill each other.
"""

from __future__ import annotations

import sys
import time
from datetime import date, datetime, timedelta
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

import numpy as np

from rustboard.board.weather import DayNote, Site
from rustboard.weather.readings import BoardWeather, LoggerReadings, ReadingTable
from rustboard.weather.track import WeatherTrack, make_track

READINGS = 1_000_000
RUNS = 3
STEP = 600
TRACK_SECONDS = 1.5
EXPOSURE_MS = 1.0
ASKED = 200
START = datetime(2002, 1, 1)


def say(line: str) -> None:
    """Write a line."""
    sys.stdout.write(line + "\n")
    sys.stdout.flush()


def readings(jitter: int = 0, missing: float = 0.001, seed: int = 1) -> ReadingTable:
    """Return a million readings less the missing ones."""
    dice = np.random.default_rng(seed)
    seconds = 1_000_000_000 + np.arange(READINGS, dtype=np.int64) * STEP
    seconds = seconds[dice.random(READINGS) >= missing]
    if jitter:
        seconds = seconds + dice.integers(0, jitter, len(seconds))
    day = np.sin(seconds / 86_400 * 2 * np.pi)
    temperature = 10 + 8 * day + dice.normal(0, 1, len(seconds))
    humidity = np.clip(80 - 16 * day + dice.normal(0, 5, len(seconds)), 5, 100)
    rain = np.where(dice.random(len(seconds)) < 0.02, 0.2, 0.0)
    return ReadingTable(seconds, {"temperature": temperature, "humidity": humidity, "rain": rain})


def measured(name: str, *files: LoggerReadings) -> None:
    """Write how long one board's weather takes: the best of some runs."""
    weather = BoardWeather(files, (DayNote(date(2001, 10, 1), ("dew",)),), Site(zone="Europe/Berlin"))
    spent = float("inf")
    for _ in range(RUNS):
        begun = time.perf_counter()
        track = make_track(weather)
        spent = min(spent, time.perf_counter() - begun)
    allowed = TRACK_SECONDS * len(files)
    verdict = "kept" if spent <= allowed else "MISSED"
    say(f"{name}: track {spent:.2f} s, allowed {allowed:.1f}: {verdict}")
    asked(name, track)


def asked(name: str, track: WeatherTrack) -> None:
    """Write how long one exposure takes: of a day, and of ten years."""
    for days in (1, 3_650):
        begun = time.perf_counter()
        for number in range(ASKED):
            start = START + timedelta(days=number)
            track.exposure(start, start + timedelta(days=days))
        spent = (time.perf_counter() - begun) / ASKED * 1_000
        verdict = "kept" if spent <= EXPOSURE_MS else "MISSED"
        say(f"{name}: exposure of {days} days {spent:.2f} ms, allowed {EXPOSURE_MS:.1f}: {verdict}")


def main() -> None:
    """Measure all."""
    even = LoggerReadings("wall", "", readings())
    measured("even", even)
    measured("uneven", LoggerReadings("wall", "", readings(jitter=9)))
    measured("twice", even, even)
    measured(
        "two", LoggerReadings("wall", "", readings(missing=0.1)), LoggerReadings("roof", "UTC", readings(seed=2))
    )


if __name__ == "__main__":
    main()
