"""Intervals of exposure as values: what they add up to, how gaps are named, clocks, and parts of a year."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as some
from weathered_boards import daily_table, steady_table

from rustboard.board.model import Board, Inspection
from rustboard.board.record import BoardRecord
from rustboard.board.weather import DayNote, Site
from rustboard.session.climate import climate_summary
from rustboard.session.exposure import (
    all_gaps,
    board_time,
    cautions_by_time,
    inspection_exposures,
    named_gaps,
    open_exposure,
)
from rustboard.weather.readings import BoardWeather, LoggerReadings, ReadingTable
from rustboard.weather.track import WeatherTrack, make_track

START = datetime(2026, 3, 2, 9)
DAY = timedelta(days=1)


def board(*days: float, started: datetime | None = START, zone: str = "") -> BoardRecord:
    """A board inspected so many days after the start."""
    record = BoardRecord(Board("Yard", started=started))
    for key, day in enumerate(days, start=1):
        record.inspections[key] = Inspection(START + DAY * day, key=key)
    if zone:
        record.sites[1] = Site(zone=zone)
    return record


def track(*tables: ReadingTable, notes: Sequence[DayNote] = (), zone: str = "", clock: str = "") -> WeatherTrack:
    files = tuple(LoggerReadings("Porch", clock, each) for each in tables)
    return make_track(BoardWeather(files, tuple(notes), Site(zone=zone)))


def test_without_a_stated_start_the_first_inspection_is_the_start() -> None:
    rows = inspection_exposures(board(1, 8, started=None), track(steady_table(START, 14)))
    assert [(each.inspection, each.interval.start) for each in rows] == [(2, START + DAY)]


def test_without_weather_the_rows_are_there_and_say_that_nothing_is_known() -> None:
    nothing = make_track(BoardWeather())
    record = board(7)
    (row,) = inspection_exposures(record, nothing)
    assert (row.interval.coverage, row.interval.wet_hours, row.interval.rain_mm) == (0.0, None, None)
    assert row.interval.days == pytest.approx(7)
    assert [(each.start, each.end) for each in row.gaps] == [(START, START + 7 * DAY)]
    assert open_exposure(record, nothing) is None
    assert climate_summary(record, nothing) is None
    assert all_gaps(record, nothing) == ()


def test_a_gap_is_named_by_the_board_s_clock_and_not_filled() -> None:
    weather = track(steady_table(START, 2), steady_table(START + 4 * DAY, 3))
    (row,) = inspection_exposures(board(7), weather)
    (gap,) = row.gaps
    # A reading stands for the time around it, so a gap begins and ends half a step (5 min) inside.
    assert abs(gap.start - (START + 2 * DAY)) <= timedelta(minutes=10)
    assert abs(gap.end - (START + 4 * DAY)) <= timedelta(minutes=10)
    assert gap.hours == pytest.approx(48, abs=0.4)
    assert row.interval.wet_hours == pytest.approx(120, abs=0.4)
    assert row.interval.coverage == pytest.approx(5 / 7, abs=0.01)
    assert all_gaps(board(7), weather) == row.gaps


def test_a_gap_that_an_inspection_cuts_in_two_is_one_when_it_is_named() -> None:
    rows = inspection_exposures(board(3, 7), track(steady_table(START, 2), steady_table(START + 4 * DAY, 3)))
    assert [len(each.gaps) for each in rows] == [1, 1]
    named, more = named_gaps(rows, 5)
    assert [round(each.hours) for each in named] == [48]
    assert more == 0


def test_of_many_gaps_the_longest_are_named_and_the_others_counted() -> None:
    tables = [steady_table(START + DAY * day, 0.5 + 0.05 * day) for day in range(6)]
    rows = inspection_exposures(board(6), track(*tables))
    named, more = named_gaps(rows, 2)
    assert [round(each.hours) for each in named] == [12, 11]
    assert more == len(rows[0].gaps) - 2 > 0


def test_a_zone_turns_seconds_back_into_the_board_s_clock_in_summer_and_winter() -> None:
    record = board(zone="Europe/Berlin")
    weather = track(steady_table(START, 1), zone="Europe/Berlin")
    for when in (datetime(2026, 1, 15, 12), datetime(2026, 7, 15, 12), datetime(2026, 3, 29, 12)):
        assert board_time(record)(weather.seconds_of(when)) == when


def test_a_logger_that_keeps_utc_falls_on_the_board_s_hours() -> None:
    # 2026-03-02 in Berlin is an hour ahead of UTC: readings from 08:00 UTC begin at 09:00 by the board's clock.
    weather = track(steady_table(START - timedelta(hours=1), 7), zone="Europe/Berlin", clock="UTC")
    (row,) = inspection_exposures(board(7, zone="Europe/Berlin"), weather)
    assert row.interval.coverage == pytest.approx(1.0)
    assert row.gaps == ()


def test_what_every_interval_says_is_said_once() -> None:
    weather = make_track(
        BoardWeather(
            (
                LoggerReadings("Porch", "", steady_table(START, 3)),
                LoggerReadings("Fence", "UTC", steady_table(START + 3 * DAY, 1)),
            )
        )
    )
    said = cautions_by_time(inspection_exposures(board(7, 14), weather), from_start=False)
    throughout = [text for span, text in said if span is None]
    assert [text for text in throughout if "different clocks" in text] == throughout
    assert [span for span, _ in said if span is not None] == [
        (START, START + 7 * DAY), (START + 7 * DAY, START + 14 * DAY),
    ]  # fmt: skip


@given(some.lists(some.integers(1, 300), min_size=1, max_size=6, unique=True))
def test_the_intervals_add_up_to_the_sum_since_the_start(hours: list[int]) -> None:
    weather = track(daily_table(START - DAY, 9), notes=[DayNote(date(2026, 3, 12), ("rain",), rain_mm=4.0)])
    rows = inspection_exposures(board(*(each / 24 for each in sorted(hours))), weather)
    last = rows[-1].since_start
    assert sum(each.interval.days for each in rows) == pytest.approx(last.days)
    for name in ("wet_hours", "rain_mm", "frost_hours"):
        parts = [getattr(each.interval, name) for each in rows]
        whole = getattr(last, name)
        assert sum(each for each in parts if each is not None) == pytest.approx(whole or 0.0, abs=1e-6)
    known = sum(each.interval.coverage * each.interval.days for each in rows)
    assert known == pytest.approx(last.coverage * last.days, abs=1e-6)


# ---- climate


def test_part_of_a_year_is_called_what_it_is() -> None:
    found = climate_summary(board(7), track(steady_table(START, 41)))
    assert found is not None
    assert found.words[0] == "Means of 41 days from March to April 2026, not of a year."
    assert not found.whole_year
    assert found.mean_temperature_c == pytest.approx(10)
    assert found.mean_rh_percent == pytest.approx(90)
    assert found.wet_hours_per_year == pytest.approx(365.25 * 24)  # wet all the time


def test_of_more_than_a_year_whole_years_count() -> None:
    found = climate_summary(board(7), track(steady_table(START, 400)))
    assert found is not None
    assert found.days == pytest.approx(365.25, abs=0.05)
    assert found.whole_year
    assert found.words == ("Means of a year, from April 2026 to April 2027.",)


def test_a_year_with_half_of_it_missing_is_no_year() -> None:
    weather = track(steady_table(START, 100), steady_table(START + 300 * DAY, 100))
    found = climate_summary(board(7), weather)
    assert found is not None
    assert not found.whole_year
    assert "and not of a whole year" in found.words[0]


def test_days_by_hand_alone_give_no_mean_humidity() -> None:
    notes = [DayNote(date(2026, 3, day), ("rain",), highest_c=8.0, lowest_c=2.0) for day in range(3, 9)]
    found = climate_summary(board(7), track(notes=notes))
    assert found is not None
    assert found.mean_rh_percent is None
    assert found.words == (
        "Temperature and humidity together are known of less than a day in March 2026, so there are no means.",
    )
