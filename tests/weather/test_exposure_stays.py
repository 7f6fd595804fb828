"""What never changes an exposure: the order of rows, how they are divided among files, the same file twice."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rustboard.board.weather import DayNote, Site
from rustboard.weather.exposure import Exposure
from rustboard.weather.readings import BoardWeather, LoggerReadings, ReadingTable
from rustboard.weather.track import make_track

ZONES = ("", "UTC", "Europe/Berlin")
STARTS = (datetime(2026, 3, 28, 20), datetime(2025, 10, 25, 22), datetime(2026, 6, 1))
"""The nights on which clocks go forward and back, and any other."""

tenths = st.integers(-200, 400).map(lambda each: each / 10)
percents = st.integers(0, 1000).map(lambda each: each / 10)
none = st.just(float("nan"))


@st.composite
def tables(draw, start: datetime) -> ReadingTable:
    """Readings of about a day, with steps that change, gaps, repeats and holes."""
    count = draw(st.integers(1, 60))
    steps = draw(st.lists(st.sampled_from([600, 600, 600, 1800, 3600, 0, 14_400]), min_size=count, max_size=count))
    first = int(start.replace(tzinfo=UTC).timestamp())
    return ReadingTable(
        first + np.cumsum(np.array(steps, np.int64)),
        {
            "temperature": np.array(draw(st.lists(tenths | none, min_size=count, max_size=count))),
            "humidity": np.array(draw(st.lists(percents | none, min_size=count, max_size=count))),
            "rain": np.array(draw(st.lists(st.sampled_from([0.0, 0.0, 0.2, 1.4]), min_size=count, max_size=count))),
        },
    )


@st.composite
def weathers(draw) -> tuple[BoardWeather, datetime]:
    start = draw(st.sampled_from(STARTS))
    site = Site(zone=draw(st.sampled_from(ZONES)), leave_out_stuck=draw(st.booleans()))
    clock = draw(st.sampled_from(["", "UTC+01:00", "Europe/Berlin"]))
    noted = draw(st.lists(st.sampled_from([0, 1, 2]), unique=True))
    conditions = draw(st.sampled_from([("dry",), ("dew",), ("rain",), ("frost",), ()]))
    notes = tuple(DayNote(start.date() + timedelta(days=each), conditions, 4.0, 9.0, -2.0) for each in noted)
    return BoardWeather((LoggerReadings("wall", clock, draw(tables(start))),), notes, site), start


def picked(table: ReadingTable, rows: np.ndarray) -> ReadingTable:
    return ReadingTable(table.seconds[rows], {name: column[rows] for name, column in table.values.items()})


def exposure_of(weather: BoardWeather, start: datetime, hours: float = 72) -> Exposure:
    return make_track(weather).exposure(start, start + timedelta(hours=hours))


@given(weathers(), st.randoms(use_true_random=False), st.integers(1, 4))
@settings(max_examples=60)
def test_shuffled_divided_and_repeated_rows_make_the_same_exposure(made, dice, parts):
    weather, start = made
    (file,) = weather.files
    rows = np.array(dice.sample(range(len(file.table)), len(file.table)))
    shares = np.array_split(rows, parts)
    files = tuple(replace(file, table=picked(file.table, each)) for each in (*shares, shares[0]))
    assert exposure_of(replace(weather, files=files), start) == exposure_of(weather, start)


@given(weathers(), st.integers(-400, 400))
@settings(max_examples=50)
def test_everything_some_days_later_is_the_same_exposure_some_days_later(made, days):
    weather, start = made
    weather = replace(weather, site=replace(weather.site, zone=""))
    later = timedelta(days=days)
    files = tuple(
        replace(each, table=replace(each.table, seconds=each.table.seconds + days * 86_400)) for each in weather.files
    )
    notes = tuple(replace(each, day=each.day + later) for each in weather.day_notes)
    moved = exposure_of(replace(weather, files=files, day_notes=notes), start + later)
    assert replace(moved, start=start, end=moved.end - later) == exposure_of(weather, start)


@given(weathers(), st.lists(st.floats(0, 72, allow_nan=False), max_size=4))
@settings(max_examples=50)
def test_stretches_in_a_row_sum_up_to_the_whole(made, cuts):
    weather, start = made
    track = make_track(weather)
    moments = [start + timedelta(hours=each) for each in (0, *sorted(cuts), 72)]
    parts, whole = track.exposures(moments), track.exposure(moments[0], moments[-1])
    assert sum(each.days for each in parts) == pytest.approx(whole.days, abs=1e-9)
    for name in ("wet_hours", "wet_hours_by_logger", "wet_hours_by_hand", "rain_mm", "dew_hours", "frost_hours"):
        told = [getattr(each, name) for each in parts]
        assert sum(each for each in told if each is not None) == pytest.approx(getattr(whole, name) or 0.0, abs=1e-6)
    assert sum(each.wet_spells or 0 for each in parts) == (whole.wet_spells or 0)
    known = sum(each.coverage * each.days for each in parts)
    assert known == pytest.approx(whole.coverage * whole.days, abs=1e-9)


@given(weathers())
@settings(max_examples=60)
def test_what_is_known_and_the_gaps_are_the_whole_time(made):
    weather, start = made
    found = exposure_of(weather, start)
    assert 0 <= found.coverage <= 1
    assert found.coverage + found.gap == 1
    assert found.coverage == pytest.approx(found.coverage_by_logger + found.coverage_by_hand, abs=1e-9)
    hours = found.days * 24
    assert (found.wet_hours or 0) <= found.coverage * hours + 1e-6
    assert (found.wet_hours_by_logger or 0) <= found.coverage_by_logger * hours + 1e-6
    assert (found.wet_hours is None) == (found.coverage == 0)
    if found.lowest_temperature_c is not None and found.mean_temperature_c is not None:
        assert found.lowest_temperature_c - 1e-9 <= found.mean_temperature_c <= found.highest_temperature_c + 1e-9


def test_the_example_dates_are_those_of_the_clocks():
    assert [each.date() for each in STARTS[:2]] == [date(2026, 3, 28), date(2025, 10, 25)]
