"""What holds for the weather of any board: two loggers, days by hand, every clock."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rustboard.board.weather import DayNote, Quantity, Site
from rustboard.weather.exposure import Exposure
from rustboard.weather.readings import BoardWeather, LoggerReadings, ReadingTable
from rustboard.weather.track import Sum, make_track

STARTS = (datetime(2026, 3, 28, 20), datetime(2025, 10, 25, 22), datetime(2026, 6, 1))
HOURS = 72
LIMITS: dict[Quantity, tuple[float, float]] = {
    "temperature": (-10, 30), "humidity": (0, 105), "rain": (0, 3), "rain total": (0, 500), "rain rate": (0, 20),
    "wind": (0, 9), "dew point": (-15, 25),
}  # fmt: skip
SUMS: tuple[Sum, ...] = ("covered", "by logger", "by hand", "wet", "wet by logger", "rain")
NOTES = (
    DayNote(datetime(2000, 1, 1).date(), ("dry",)),
    DayNote(datetime(2000, 1, 1).date(), ("dew",), lowest_c=3.0),
    DayNote(datetime(2000, 1, 1).date(), ("rain",), 4.0, 12.0, 2.0, 24.0),
    DayNote(datetime(2000, 1, 1).date(), (), 1.5),
)


@st.composite
def readings(draw: st.DrawFn, name: str, start: datetime) -> LoggerReadings:
    count = draw(st.integers(0, 50))
    dice = np.random.default_rng(draw(st.integers(0, 10_000)))
    usual = draw(st.sampled_from([300, 600, 3_600]))
    steps = np.where(dice.random(count) < 0.9, usual, dice.choice([0, 700, 4_000, 20_000], count))
    first = int((start + timedelta(hours=draw(st.integers(0, 30)))).replace(tzinfo=UTC).timestamp())
    values: dict[Quantity, np.ndarray] = {}
    for quantity, (lowest, highest) in LIMITS.items():
        if draw(st.integers(0, 3)):
            values[quantity] = np.round(dice.uniform(lowest, highest, count), 1)
            values[quantity][dice.random(count) < 0.05] = np.nan
    clock = draw(st.sampled_from(["", "UTC", "UTC+01:00", "Europe/Berlin"]))
    return LoggerReadings(name, clock, ReadingTable(first + np.cumsum(steps.astype(np.int64)), values))


@st.composite
def boards(
    draw: st.DrawFn, starts: tuple[datetime, ...] = STARTS, most_notes: int = 3
) -> tuple[BoardWeather, datetime]:
    start = draw(st.sampled_from(starts))
    zone = draw(st.sampled_from(["", "UTC", "Europe/Berlin"]))
    files = tuple(draw(readings(name, start)) for name in "ab"[: draw(st.integers(0, 2))])
    noted = draw(st.lists(st.sampled_from(NOTES), max_size=most_notes))
    notes = tuple(replace(each, day=start.date() + timedelta(days=at)) for at, each in enumerate(noted))
    return BoardWeather(files, notes, Site(zone=zone, leave_out_stuck=draw(st.booleans()))), start


def exposure(weather: BoardWeather, start: datetime) -> Exposure:
    return make_track(weather).exposure(start, start + timedelta(hours=HOURS))


@given(boards())
@settings(max_examples=150)
def test_no_source_counts_where_another_does_and_nothing_is_wet_that_is_not_known(made):
    found = exposure(*made)
    hours = found.days * 24
    for share in (found.coverage, found.rain_coverage, found.temperature_coverage, found.humidity_coverage):
        assert 0 <= share <= 1
    assert found.coverage_by_logger + found.coverage_by_hand <= 1 + 1e-9
    assert (found.wet_hours_by_hand or 0) <= found.coverage_by_hand * hours + 1e-6
    assert (found.wet_hours_90 or 0) <= (found.wet_hours_by_logger or 0) + 1e-6
    assert (found.dew_hours or 0) <= found.coverage_by_logger * hours + 1e-6
    assert (found.frost_hours or 0) <= found.temperature_coverage * hours + 1e-6
    assert found.stuck_hours <= hours + 1e-6
    known = [each for each in (found.rain_mm_by_logger, found.rain_mm_by_hand) if each is not None]
    assert (found.rain_mm or 0) == pytest.approx(sum(known), abs=1e-6)


@given(boards())
@settings(max_examples=100)
def test_sums_never_fall_and_pictures_hold_what_the_sums_hold(made):
    weather, _ = made
    track = make_track(weather)
    span = track.span()
    if span is None:
        assert len(track.pieces().start) == 0
        return
    moments = np.linspace(span[0] - 100, span[1] + 100, 300)
    for what in SUMS:
        grown = track.total(what, moments)
        assert (np.diff(grown) >= -1e-9).all()
        assert grown[0] == 0
    pieces = track.pieces()
    assert (pieces.end > pieces.start).all()
    assert (pieces.start[1:] >= pieces.end[:-1]).all()
    hours = (pieces.end - pieces.start) / 3_600
    known = ~np.isnan(pieces.wet)
    assert hours[known].sum() == pytest.approx(track.total("covered", moments)[-1], abs=1e-6)
    assert (hours * pieces.wet)[known].sum() == pytest.approx(track.total("wet", moments)[-1], abs=1e-6)
    by_hand = known & pieces.by_hand
    assert hours[by_hand].sum() == pytest.approx(track.total("by hand", moments)[-1], abs=1e-6)


@given(boards(most_notes=0), st.integers(-100_000, 100_000))
@settings(max_examples=100)
def test_everything_some_seconds_later_is_the_same_but_for_the_night(made, seconds):
    weather, start = made
    weather = replace(weather, site=replace(weather.site, zone=""))
    files = tuple(
        replace(each, table=replace(each.table, seconds=each.table.seconds + seconds)) for each in weather.files
    )
    later = timedelta(seconds=seconds)
    moved, stayed = exposure(replace(weather, files=files), start + later), exposure(weather, start)
    assert replace(moved, start=stayed.start, end=moved.end - later, dew_hours=stayed.dew_hours) == stayed


@given(boards(starts=STARTS[2:]))
@settings(max_examples=100)
def test_a_file_for_each_quantity_is_as_good_as_one_for_all(made):
    weather, start = made
    # One row a time: rows of one time are compared as a whole, which columns of their own are not.
    files = [replace(each, table=rows_once(each.table)) for each in weather.files]
    single = [
        replace(each, table=ReadingTable(each.table.seconds, {quantity: column}))
        for each in files
        for quantity, column in each.table.values.items()
    ]
    whole = exposure(replace(weather, files=tuple(files)), start)
    assert replace(exposure(replace(weather, files=tuple(single)), start), cautions=whole.cautions) == whole


def rows_once(table: ReadingTable) -> ReadingTable:
    seconds, rows = np.unique(table.seconds, return_index=True)
    return ReadingTable(seconds, {quantity: column[rows] for quantity, column in table.values.items()})
