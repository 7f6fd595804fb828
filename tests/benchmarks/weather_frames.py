"""How long a frame of the timeline takes with the weather of a million readings under it, on each of its four axes.

Run it: ``python tests/benchmarks/weather_frames.py [--readings N]``. Budget: 60 frames a second. A frame is one real
mouse or wheel event and everything until its picture is painted.
"""

from __future__ import annotations

import argparse
import statistics
import tempfile
import time
from datetime import datetime
from pathlib import Path

import numpy as np
from PySide6.QtWidgets import QApplication
from timeline_frames import BUDGET_MS, board, measure, say

from rustboard.board.exposure_clock import CLOCK_KINDS
from rustboard.board.measured import Disturbance
from rustboard.board.model import Coupon
from rustboard.operations.coupons import add_coupon
from rustboard.operations.disturbances import note_disturbance
from rustboard.operations.grading import GivenGrade, grade_coupon
from rustboard.operations.weather import GivenReadings, add_weather_file
from rustboard.session.jobs import InlineExecutor
from rustboard.session.session import Session
from rustboard.ui.bridge import JobBridge
from rustboard.ui.theme import LIGHT, apply_scheme
from rustboard.ui.timeline.panel import TimelinePanel
from rustboard.ui.weather_source import WeatherSource
from rustboard.weather.packing import pack
from rustboard.weather.readings import ReadingTable

START = datetime(2025, 3, 3, 9)
COUPONS, INSPECTIONS = 24, 60


def readings(count: int, days: float) -> ReadingTable:
    """Return invented readings, evenly over the days."""
    chance = np.random.default_rng(3)
    first = (START - datetime(1970, 1, 1)).total_seconds()
    day = np.linspace(0, days, count)
    wet = np.sin(day * 1.3) + np.sin(day / 3) > 0.2
    humidity = np.clip(np.where(wet, 92, 65) + 8 * np.cos(2 * np.pi * day) + chance.normal(0, 2, count), 5, 100)
    rain = np.where(wet & (chance.random(count) < 0.02), 0.2, 0.0)
    warmth = 8 + 6 * np.sin(day / 20) + 5 * np.sin(2 * np.pi * day) + chance.normal(0, 0.5, count)
    seconds = np.unique((first + day * 86_400).astype(np.int64))
    some = slice(0, len(seconds))
    return ReadingTable(seconds, {"temperature": warmth[some], "humidity": humidity[some], "rain": rain[some]})


def fill(session: Session, count: int) -> int:
    """Put weather, controls and disturbances on a board; return how many readings there are."""
    table = readings(count, INSPECTIONS)
    last = datetime.fromtimestamp(0)
    session.do(
        add_weather_file,
        GivenReadings(
            "logger.csv",
            "a" * 64,
            "logger",
            "",
            ("temperature", "humidity", "rain"),
            len(table),
            START,
            last,
            pack(table),
        ),
    )
    session.do(add_coupon, Coupon("K1", role="control"))
    key = max(session.record.coupons)
    for number in range(1, INSPECTIONS + 1):
        session.do(grade_coupon, GivenGrade(key, number, max(0, 10 - number // 6)))
    for day in range(5, INSPECTIONS, 5):
        session.do(note_disturbance, Disturbance(START.replace(month=3 + day // 28, day=1 + day % 28), "touched", 1))
    return len(table)


def measured(session: Session, panel: TimelinePanel) -> None:
    """Measure every axis and print it."""
    for kind in CLOCK_KINDS:
        panel.weather.choice.show_kind(kind)
        started = time.perf_counter()
        panel.weather.changed.emit()
        QApplication.processEvents()
        switched = (time.perf_counter() - started) * 1000
        panel.plot().show_all_days()
        results = measure(panel)
        moving = [each for name, taken in results.items() if not name.startswith("pointing") for each in taken]
        mean, worst = statistics.fmean(moving), statistics.quantiles(moving, n=20)[-1]
        say(f"axis of {kind}: {mean:.1f} ms a frame, ratio to {BUDGET_MS:.1f} ms: {mean / BUDGET_MS:.2f}")
        say(f"axis of {kind}: 19 of 20 frames within {worst:.1f} ms, ratio {worst / BUDGET_MS:.2f}")
        for name, taken in results.items():
            say(f"  {name}: {statistics.fmean(taken):.1f} ms, slowest {max(taken):.1f} ms")
        say(f"  switched to in {switched:.0f} ms")


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument("--readings", type=int, default=1_000_000)
    wanted = parser.parse_args()
    app = QApplication.instance() or QApplication([])
    assert isinstance(app, QApplication)
    apply_scheme(app, LIGHT)
    with tempfile.TemporaryDirectory() as folder, board(Path(folder) / "b", COUPONS, INSPECTIONS) as session:
        count = fill(session, wanted.readings)
        session.selection.choose(session.record.coupons)
        bridge = JobBridge(app, InlineExecutor())
        source = WeatherSource(session, bridge)
        panel = TimelinePanel(session, LIGHT, source)
        panel.resize(480, 640)
        started = time.perf_counter()
        panel.show()
        app.processEvents()
        first = (time.perf_counter() - started) * 1000
        say(f"weather, {count} readings: shown for the first time after {first:.0f} ms")
        started = time.perf_counter()
        while source.track() is None:
            app.processEvents()
        app.processEvents()
        say(f"  the lane is there {(time.perf_counter() - started) * 1000:.0f} ms later, the job included")
        if not panel.weather.shows_lane():
            raise RuntimeError("there is no lane to be measured")
        measured(session, panel)
        panel.close()
        bridge.close()


if __name__ == "__main__":
    main()
