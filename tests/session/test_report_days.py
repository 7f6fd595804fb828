"""The readings of a board day by day, for the report."""

from __future__ import annotations

from contextlib import closing
from datetime import date, datetime, timedelta

import pytest
from session_boards import NOW, prepared
from weathered_boards import daily_table, put_day, put_readings, steady_table

from rustboard.session import report_days
from rustboard.session.jobs import Cancelled, Progress
from rustboard.session.report_days import day_readings
from rustboard.session.weather import weather_request, work_out_track


@pytest.fixture
def session(tmp_path):
    with closing(prepared(tmp_path / "b")) as opened:
        yield opened


def days_of(session):
    return day_readings(session.record, weather_request(session))


def test_a_board_without_weather_has_no_days(session):
    assert days_of(session) == ()
    assert day_readings(session.record, None) == ()


def test_each_day_from_the_first_to_the_last_reading_is_there(session):
    put_readings(session, steady_table(NOW, 2))  # from 9:00 to 9:00
    first, second, third = days_of(session)
    assert [each.day for each in (first, second, third)] == [date(2026, 3, 2) + timedelta(days=n) for n in range(3)]
    assert second.coverage == 1
    assert second.wet_hours == pytest.approx(24)
    assert (second.mean_temperature_c, second.mean_rh_percent) == (pytest.approx(10), pytest.approx(90))
    half_a_step = 5 / 60  # for which the first reading stands before it
    assert first.wet_hours == pytest.approx(15 + half_a_step)
    assert first.coverage == pytest.approx((15 + half_a_step) / 24)


def test_a_day_between_of_which_nothing_is_known_is_there_and_blank(session):
    put_day(session, date(2026, 3, 2), rain_mm=4.0)
    put_day(session, date(2026, 3, 4), rain_mm=1.5)
    first, between, last = days_of(session)
    assert (first.rain_mm, between.rain_mm, last.rain_mm) == (4.0, None, 1.5)
    assert (between.coverage, between.wet_hours, between.mean_temperature_c) == (0.0, None, None)


def test_the_days_add_up_to_what_the_exposure_says(session):
    put_readings(session, daily_table(NOW, 30))
    track = work_out_track(weather_request(session), Progress())
    days = days_of(session)
    whole = track.exposure(datetime(2026, 3, 2), datetime(2026, 4, 2))
    assert sum(each.wet_hours for each in days) == pytest.approx(whole.wet_hours)
    assert sum(each.rain_mm for each in days) == pytest.approx(whole.rain_mm)
    assert min(each.lowest_temperature_c for each in days) == whole.lowest_temperature_c
    assert sum(each.coverage for each in days) * 24 == pytest.approx(whole.coverage * 24 * whole.days)


def test_of_more_days_than_anybody_exposed_the_newest_count(session, monkeypatch):
    put_readings(session, steady_table(NOW, 9))
    monkeypatch.setattr(report_days, "MOST_DAYS", 4)
    assert [each.day for each in days_of(session)] == [date(2026, 3, number) for number in (8, 9, 10, 11)]


def test_it_can_be_stopped(session):
    put_day(session, date(2026, 3, 2), rain_mm=4.0)
    progress = Progress()
    progress.cancel()
    with pytest.raises(Cancelled):
        day_readings(session.record, weather_request(session), progress)
