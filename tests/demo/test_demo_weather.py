"""The demo's weather fits what its visits tell, and comes through the same doors as anybody's."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, datetime

import pytest

from rustboard.app.demo.build import build_boards
from rustboard.app.demo.harbour import HARBOUR
from rustboard.app.demo.harbour_weather import HARBOUR_WEATHER
from rustboard.app.demo.porch import PORCH
from rustboard.app.demo.porch_weather import PORCH_WEATHER
from rustboard.app.demo.scenario import DemoBoard
from rustboard.session.jobs import Progress
from rustboard.session.session import Session
from rustboard.session.weather import weather_request, work_out_track
from rustboard.weather.logger_file.decode import decode_logger_file
from rustboard.weather.logger_file.guess import guess_options
from rustboard.weather.logger_file.read import read_logger_file
from rustboard.weather.track import WeatherTrack


def small(demo: DemoBoard) -> DemoBoard:
    """The board with two coupons and its first and last visit, quick to paint."""
    coupons = tuple(each for each in demo.plan.coupons if each.id in ("C04", "C19", "P04"))
    return replace(demo, plan=replace(demo.plan, coupons=coupons), visits=(demo.visits[0], demo.visits[-1]), blind=())


@pytest.fixture(scope="module")
def sessions(tmp_path_factory: pytest.TempPathFactory) -> Iterator[list[Session]]:
    folder = tmp_path_factory.mktemp("demo")
    folders = build_boards(folder, (small(HARBOUR), small(PORCH)), lambda what, done, steps: None)
    opened = [Session(each, read_only=True) for each in folders]
    yield opened
    for each in opened:
        each.close()


def track_of(session: Session) -> WeatherTrack:
    return work_out_track(weather_request(session), Progress())


@pytest.mark.parametrize("weather", [HARBOUR_WEATHER, PORCH_WEATHER])
def test_the_loggers_file_is_read_without_a_doubt(weather):
    text = decode_logger_file(weather.logger_file())
    guess = guess_options(text)
    read = read_logger_file(text, guess.options)
    assert (read.left_out, read.told, read.repeated_times) == (0, (), 0)
    assert guess.options.quantities() == ("temperature", "humidity", "rain", "wind")
    assert (guess.options.delimiter, guess.options.decimal_mark, guess.options.date_order) == (";", ",", "day first")


def test_rain_fell_when_the_visits_say_so(sessions):
    track = track_of(sessions[0])
    most_of_the_fifth = track.exposure(datetime(2026, 3, 5), datetime(2026, 3, 6))
    dry_week = track.exposure(datetime(2026, 4, 6, 9), datetime(2026, 4, 13, 9))
    assert most_of_the_fifth.rain_mm is not None
    assert most_of_the_fifth.rain_mm > 5
    assert dry_week.rain_mm == 0
    assert dry_week.wet_spells is not None
    assert most_of_the_fifth.wet_hours is not None
    assert most_of_the_fifth.wet_hours > 12


def test_while_the_battery_was_flat_the_day_log_stands_in(sessions):
    found = track_of(sessions[0]).exposure(datetime(2026, 3, 24, 12), datetime(2026, 3, 26))
    assert (found.coverage_by_hand, found.coverage_by_logger) == (1.0, 0.0)
    assert found.rain_mm_by_hand == pytest.approx(3.0 / 2 + 9.0)


def test_under_the_roof_no_rain_reached_the_logger(sessions):
    found = track_of(sessions[1]).exposure(datetime(2025, 9, 27), datetime(2025, 11, 3))
    assert found.rain_mm == 0
    assert found.coverage == 1.0


def test_the_control_taken_down_was_weighed(sessions):
    record = sessions[1].record
    (weighing,) = record.weighings.values()
    assert record.coupons[weighing.coupon].id == "P04"
    assert weighing.bare
    assert weighing.before_g > weighing.after_g[0] > weighing.after_g[-1]


def test_what_happened_to_coupons_and_board_is_in_the_day_log(sessions):
    record = sessions[0].record
    told = {(each.at.date(), each.kind, each.coupon and record.coupons[each.coupon].id) for each in
            record.disturbances.values()}  # fmt: skip
    assert (date(2026, 3, 23), "debris cleared", "C04") in told
    assert (date(2026, 3, 30), "debris cleared", None) in told
