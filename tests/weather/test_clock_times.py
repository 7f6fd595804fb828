"""Clocks that are put ahead and back, and files of several clocks, as the exposure sees them."""

from __future__ import annotations

from datetime import date, datetime
from itertools import pairwise

import pytest
from weather_made import at_times, logger

from rustboard.board.weather import DayNote, Site
from rustboard.weather.exposure import Exposure
from rustboard.weather.readings import BoardWeather, LoggerReadings
from rustboard.weather.track import WeatherTrack, make_track

BERLIN = "Europe/Berlin"
WET, DRY = (10.0, 95.0), (10.0, 50.0)


def track_of(*files: LoggerReadings, zone: str = BERLIN) -> WeatherTrack:
    return make_track(BoardWeather(files, (), Site(zone=zone)))


def between(start: str, end: str, *files: LoggerReadings, zone: str = BERLIN) -> Exposure:
    return track_of(*files, zone=zone).exposure(datetime.fromisoformat(start), datetime.fromisoformat(end))


def test_a_logger_in_utc_and_a_board_in_summer_time_are_two_hours_apart() -> None:
    read = logger("2024-06-01 00:30", [WET] * 6 + [DRY] * 18, clock="UTC")
    assert between("2024-06-01 02:00", "2024-06-01 08:00", read).wet_hours == 6.0


@pytest.mark.parametrize("clock", ["", BERLIN, "UTC", "UTC+01:00", "UTC-03:30", "America/New_York"])
def test_files_of_every_clock_meet_at_the_same_true_time(clock: str) -> None:
    shown = {
        "": "12:00", BERLIN: "12:00", "UTC": "10:00", "UTC+01:00": "11:00", "UTC-03:30": "06:30",
        "America/New_York": "06:00",
    }[clock]  # fmt: skip
    read = logger(f"2024-06-01 {shown}", [WET], clock=clock)
    span = track_of(read).span()
    assert span is not None
    assert sum(span) / 2 == datetime.fromisoformat("2024-06-01T10:00+00:00").timestamp()


def test_the_hour_that_comes_twice_is_told_apart_by_the_warmer_reading() -> None:
    times = [
        f"2024-10-27 {each}" for each in ("01:00", "01:30", "02:00", "02:30", "02:00", "02:30", "03:00", "03:30")
    ]
    rows = [(9.0, 50.0), (8.5, 50.0), (8.0, 50.0), (7.5, 50.0), (7.0, 95.0), (6.5, 95.0), (6.0, 95.0), (5.5, 95.0)]
    for order in (list(range(8)), list(range(8))[::-1], [4, 5, 2, 3, 7, 0, 1, 6]):
        read = at_times([times[each] for each in order], [rows[each] for each in order])
        found = between("2024-10-27 01:00", "2024-10-27 04:00", read)
        assert found.days * 24 == 4.0
        assert found.coverage == pytest.approx(0.9375)
        # Wet from a quarter past 01:00 UTC (02:00 for the second time, less 15 minutes) on.
        assert found.wet_hours == 2.0


def test_temperature_and_humidity_in_files_of_their_own_meet_in_the_hour_that_comes_twice() -> None:
    times = [
        f"2024-10-27 {each}" for each in ("01:00", "01:30", "02:00", "02:30", "02:00", "02:30", "03:00", "03:30")
    ]
    warm = at_times(times, [(9.0,), (8.5,), (8.0,), (7.5,), (7.0,), (6.5,), (6.0,), (5.5,)], ("temperature",))
    damp = at_times(times, [(each,) for each in (50.0, 51.0, 52.0, 53.0, 95.0, 96.0, 97.0, 98.0)], ("humidity",))
    found = between("2024-10-27 01:00", "2024-10-27 04:00", warm, damp)
    assert found.coverage == pytest.approx(0.9375)
    assert found.wet_hours == 2.0


def test_a_guess_which_hour_it_was_is_told_of_where_it_was_made() -> None:
    times = ["2024-10-27 01:30", "2024-10-27 02:30", "2024-10-27 02:30", "2024-10-27 03:30"]
    read = at_times(times, [(9.0, 50.0), (8.0, 50.0), (7.0, 50.0), (6.0, 50.0)])
    assert any("guess" in each for each in between("2024-10-27", "2024-10-28", read).cautions)
    assert not any("guess" in each for each in between("2024-10-26", "2024-10-27", read).cautions)


def test_the_boards_clock_named_and_not_named_is_one_clock() -> None:
    times = ["2024-10-27 01:30", "2024-10-27 02:30", "2024-10-27 02:30", "2024-10-27 03:30"]
    rows = [(9.0, 50.0), (8.0, 85.0), (7.0, 95.0), (6.0, 95.0)]
    unnamed, named = at_times(times, rows), at_times(times[:2], rows[:2], clock=BERLIN)
    twice = between("2024-10-27", "2024-10-28", unnamed, named)
    assert twice == between("2024-10-27", "2024-10-28", unnamed)


def test_one_reading_in_the_hour_that_comes_twice_is_of_the_first_pass() -> None:
    read = at_times(["2024-10-27 02:30"], [WET])
    span = track_of(read).span()
    assert span is not None
    assert sum(span) / 2 == datetime.fromisoformat("2024-10-27T00:30+00:00").timestamp()


def test_a_time_the_clock_never_showed_is_shifted_and_told_of() -> None:
    read = logger("2024-03-31 00:30", [WET] * 5)
    found = between("2024-03-31 00:00", "2024-03-31 06:00", read)
    assert any("never showed" in each for each in found.cautions)
    # 02:30 is 03:30 by a clock put ahead: it falls on the reading of that time.
    assert found.wet_hours == pytest.approx(4.0)


def test_what_is_odd_is_told_of_only_where_it_is() -> None:
    read = logger("2024-03-30 00:30", [WET] * 96)
    assert any("never showed" in each for each in between("2024-03-31", "2024-04-01", read).cautions)
    assert between("2024-04-01", "2024-04-02", read).cautions == ()


def test_later_moments_of_the_board_are_never_earlier_in_truth() -> None:
    track = track_of(logger("2024-03-31 00:30", [WET] * 8, clock="UTC"))
    moments = [datetime(2024, 3, 31, hour, minute) for hour in range(6) for minute in (0, 20, 40)]
    seconds = [track.seconds_of(each) for each in moments]
    assert all(one <= other for one, other in pairwise(seconds))
    whole = track.exposure(moments[0], moments[-1])
    parts = track.exposures(moments)
    assert sum(each.days for each in parts) == pytest.approx(whole.days)
    assert whole.days * 24 == pytest.approx(4 + 2 / 3)
    assert sum(each.wet_hours or 0.0 for each in parts) == pytest.approx(whole.wet_hours)


def test_without_a_zone_every_clock_is_taken_as_it_is_and_that_is_told() -> None:
    read = logger("2024-06-01 00:30", [WET] * 24, clock="UTC+02:00")
    found = between("2024-06-01", "2024-06-02", read, zone="")
    assert found.wet_hours == 24.0
    assert any("zone" in each for each in found.cautions)


def test_different_readings_at_one_time_are_averaged_and_told_of() -> None:
    one = logger("2024-06-01 00:30", [(10.0, 60.0)] * 24)
    other = logger("2024-06-01 00:30", [(12.0, 70.0)] * 24)
    found = between("2024-06-01", "2024-06-02", one, other)
    assert (found.mean_temperature_c, found.mean_rh_percent) == (11.0, 65.0)
    assert any("mean" in each for each in found.cautions)
    assert between("2024-06-01", "2024-06-02", one, one).cautions == ()


def test_a_day_by_hand_is_the_day_of_the_boards_clock() -> None:
    weather = BoardWeather((), (DayNote(date(2024, 6, 1), ("rain",)),), Site(zone=BERLIN))
    span = make_track(weather).span()
    assert span is not None
    assert span[0] == datetime.fromisoformat("2024-05-31T22:00+00:00").timestamp()
    assert span[1] - span[0] == 24 * 3600
