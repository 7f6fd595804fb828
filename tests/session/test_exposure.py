"""The weather from inspection to inspection: a row each, gaps named, nothing invented; and the climate of it all."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from session_boards import NOW, prepared
from weathered_boards import daily_table, put_day, put_readings, steady_table

from rustboard.board.model import Inspection
from rustboard.operations.boards import edit_board
from rustboard.operations.inspections import add_inspection, remove_inspection
from rustboard.session.climate import climate_summary
from rustboard.session.exposure import all_gaps, inspection_exposures, inspections_before_start, open_exposure
from rustboard.session.jobs import Progress
from rustboard.session.session import Session
from rustboard.session.weather import weather_request, work_out_track
from rustboard.weather.track import WeatherTrack

WEEK = timedelta(days=7)


@pytest.fixture
def session(tmp_path: Path) -> Iterator[Session]:
    """A board with inspections at the start, and a week and two weeks later."""
    session = prepared(tmp_path / "b", inspections=3)
    yield session
    session.close()


def track_of(session: Session) -> WeatherTrack:
    return work_out_track(weather_request(session), Progress())


def rows_of(session: Session):
    return inspection_exposures(session.record, track_of(session))


def test_each_interval_ends_at_an_inspection_and_the_sums_begin_at_the_start(session):
    put_readings(session, steady_table(NOW - timedelta(days=1), 20))
    rows = rows_of(session)
    assert [(each.interval.start, each.interval.end) for each in rows] == [
        (NOW, NOW + WEEK), (NOW + WEEK, NOW + 2 * WEEK),
    ]  # fmt: skip
    assert [each.since_start.start for each in rows] == [NOW, NOW]
    assert [each.interval.wet_hours for each in rows] == [168, 168]
    assert [each.since_start.wet_hours for each in rows] == [168, 336]


def test_without_a_start_or_an_inspection_after_it_there_are_no_rows(session):
    put_readings(session, steady_table(NOW, 20))
    for key in (3, 2):
        session.do(remove_inspection, key)
    assert rows_of(session) == []
    session.do(remove_inspection, 1)
    assert rows_of(session) == []
    assert open_exposure(session.record, track_of(session)) is None


def test_an_inspection_before_the_stated_start_is_not_exposed_yet(session):
    put_readings(session, steady_table(NOW, 20))
    session.do(edit_board, replace(session.record.board, started=NOW + timedelta(days=3)))
    assert [each.key for each in inspections_before_start(session.record)] == [1]
    assert [each.inspection for each in rows_of(session)] == [2, 3]
    assert rows_of(session)[0].interval.days == 4


def test_two_inspections_at_one_moment_are_one_row(session):
    put_readings(session, steady_table(NOW, 20))
    with pytest.raises(Exception, match="already"):
        session.do(add_inspection, Inspection(NOW + WEEK))
    assert len(rows_of(session)) == 2


def test_what_nobody_knows_is_a_gap_with_its_hours(session):
    put_readings(session, steady_table(NOW, 2), name="a.csv")
    put_readings(session, steady_table(NOW + timedelta(days=4), 12), name="b.csv")
    first, second = rows_of(session)
    assert first.interval.coverage == pytest.approx(5 / 7, abs=0.01)
    (gap,) = first.gaps
    assert gap.hours == pytest.approx(48, abs=0.5)
    assert gap.length == "48 h"
    assert second.gaps == ()
    assert all_gaps(session.record, track_of(session)) == (gap,)


def test_the_day_log_fills_what_no_logger_knows_and_stays_apart(session):
    put_readings(session, steady_table(NOW, 2, humidity=50.0))
    for day in range(2, 7):
        put_day(session, (NOW + timedelta(days=day)).date(), conditions=("dew",), wet_hours=6.0)
    first, _ = rows_of(session)
    assert first.interval.wet_hours_by_logger == 0
    assert first.interval.wet_hours_by_hand == pytest.approx(5 * 6 * (first.interval.coverage_by_hand * 7 / 5))
    assert first.interval.coverage_by_logger + first.interval.coverage_by_hand == pytest.approx(
        first.interval.coverage
    )


def test_the_weather_after_the_last_inspection_is_a_row_without_one(session):
    put_readings(session, steady_table(NOW, 16))
    found = open_exposure(session.record, track_of(session))
    assert found is not None
    assert found.inspection is None
    assert found.interval.start == NOW + 2 * WEEK
    assert found.interval.days == pytest.approx(2, abs=0.01)


def test_weather_of_part_of_a_year_is_not_called_a_year(session):
    put_readings(session, daily_table(datetime(2026, 3, 1), 41))
    found = climate_summary(session.record, track_of(session))
    assert found is not None
    assert not found.whole_year
    assert found.days_known == pytest.approx(41, abs=0.1)
    assert found.words[0] == "Means of 41 days from March to April 2026, not of a year."


def test_weather_of_a_year_makes_means_of_a_year(session):
    put_readings(session, steady_table(datetime(2025, 1, 1), 400, temperature=9.0, humidity=85.0))
    found = climate_summary(session.record, track_of(session))
    assert found is not None
    assert found.whole_year
    assert found.mean_temperature_c == pytest.approx(9.0)
    assert found.mean_rh_percent == pytest.approx(85.0)
    # Wet all year: 365.25 days of 24 hours.
    assert found.wet_hours_per_year == pytest.approx(8766)


def test_of_no_weather_there_is_no_climate(session):
    assert climate_summary(session.record, track_of(session)) is None
