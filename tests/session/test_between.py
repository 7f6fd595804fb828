"""What happened between two inspections, told of a small board."""

from __future__ import annotations

from datetime import date, datetime, timedelta

import numpy as np
import pytest

from rustboard.board.measured import Disturbance
from rustboard.board.model import Board, Coupon, Grading, Inspection
from rustboard.board.position import Position
from rustboard.board.record import BoardRecord
from rustboard.board.series import inspection_days
from rustboard.board.weather import DayNote
from rustboard.session.between import Stretch, what_happened
from rustboard.session.timeline_clocks import weather_clock
from rustboard.weather.readings import BoardWeather, LoggerReadings, ReadingTable
from rustboard.weather.track import WeatherTrack, make_track

START = datetime(2026, 3, 2, 9)
GRADES: dict[str, tuple[int | None, ...]] = {
    "C01": (10, 9, 9),
    "C02": (10, None, 6),
    "C03": (None, 8, 9),
    "C04": (10, 9, None),
    "C05": (10, 7, 6),
}


def day(number: float) -> datetime:
    return START + timedelta(days=number)


@pytest.fixture
def record() -> BoardRecord:
    """Five coupons, graded two, seven and fourteen days after the start."""
    found = BoardRecord(Board("Yard", started=START))
    for key, at in enumerate((2, 7, 14), start=1):
        found.inspections[key] = Inspection(day(at), key=key)
    for key, (name, grades) in enumerate(GRADES.items(), start=1):
        found.coupons[key] = Coupon(name, Position(0, key - 1), key=key)
        found.current[key] = {
            at: Grading(0, key, at, grade, "", None, "", "eye", "", "")
            for at, grade in enumerate(grades, start=1)
            if grade is not None
        }
    return found


def track_of(*, until: float, wet: tuple[float, float], rain_mm: float) -> WeatherTrack:
    """Hourly readings from the start; wet and raining between two days only."""
    hours = np.arange(int(until * 24))
    first = (START - datetime(1970, 1, 1)).total_seconds()
    within = (hours / 24 >= wet[0]) & (hours / 24 < wet[1])
    table = ReadingTable(
        (first + 3_600 * hours).astype(np.int64),
        {
            "temperature": np.full(len(hours), 12.0),
            "humidity": np.where(within, 95.0, 50.0),
            "rain": np.where(within, rain_mm, 0.0),
        },
    )
    return make_track(BoardWeather((LoggerReadings("porch", "", table),)))


def told(record: BoardRecord, inspection: int, track: WeatherTrack | None = None) -> Stretch:
    found = what_happened(record, track, inspection)
    assert found is not None
    return found


def test_the_stretch_reaches_from_the_inspection_before(record: BoardRecord) -> None:
    stretch = told(record, 2)
    assert (stretch.start, stretch.end, stretch.days) == (day(2), day(7), 5)
    assert (stretch.number, stretch.count, stretch.earlier, stretch.later) == (2, 3, 1, 3)


def test_the_first_one_reaches_from_the_start_of_exposure(record: BoardRecord) -> None:
    stretch = told(record, 1)
    assert (stretch.before, stretch.start, stretch.end, stretch.earlier) == (None, START, day(2), None)
    assert [each.coupon.id for each in stretch.first] == ["C01", "C02", "C04", "C05"]
    assert (stretch.fell, stretch.same) == ((), 0)


def test_without_a_stated_start_nothing_came_before_the_first(record: BoardRecord) -> None:
    record.board = Board("Yard")
    assert told(record, 1, track_of(until=3, wet=(0, 1), rain_mm=1)).exposure is None
    assert told(record, 1).days == 0


def test_an_inspection_before_the_stated_start_has_no_time_before_it(record: BoardRecord) -> None:
    record.inspections[1] = Inspection(day(-3), key=1)
    stretch = told(record, 1, track_of(until=3, wet=(0, 1), rain_mm=1))
    assert (stretch.days, stretch.exposure) == (0, None)


def test_what_fell_comes_furthest_first_and_then_as_one_reads_the_board(record: BoardRecord) -> None:
    assert [(each.coupon.id, each.fell) for each in told(record, 2).fell] == [("C05", 3), ("C01", 1), ("C04", 1)]


def test_a_coupon_that_was_missed_is_compared_with_its_last_grade_and_says_of_when(record: BoardRecord) -> None:
    change = told(record, 3).fell[0]
    assert (change.coupon.id, change.fell, change.older) == ("C02", 4, day(2))
    assert told(record, 3).fell[1].older is None


def test_better_same_first_and_not_graded_are_kept_apart(record: BoardRecord) -> None:
    stretch = told(record, 3)
    assert [each.coupon.id for each in stretch.rose] == ["C03"]
    assert stretch.same == 1
    assert [each.id for each in stretch.not_graded] == ["C04"]
    assert [each.coupon.id for each in told(record, 2).first] == ["C03"]


def test_a_disturbance_belongs_to_the_stretch_that_ends_with_it(record: BoardRecord) -> None:
    for key, at in enumerate((0, 2, 2.5, 7, 7.5), start=1):
        record.disturbances[key] = Disturbance(day(at), "touched", key=key)
    assert [[each.key for each in told(record, at).disturbances] for at in (1, 2, 3)] == [[1, 2], [3, 4], [5]]


def test_days_noted_by_hand_are_those_it_touches(record: BoardRecord) -> None:
    for key, number in enumerate((1, 4, 5, 9, 10), start=1):
        record.day_notes[key] = DayNote(date(2026, 3, number), ("rain",), key=key)
    assert [each.day.day for each in told(record, 2).day_notes] == [4, 5, 9]


def test_the_weather_is_that_of_the_stretch(record: BoardRecord) -> None:
    track = track_of(until=14, wet=(3, 5), rain_mm=0.5)
    found = told(record, 2, track).exposure
    assert found is not None
    assert found.wet_hours == pytest.approx(48, abs=1)
    assert found.rain_mm == pytest.approx(24, abs=0.5)
    dry = told(record, 3, track).exposure
    assert dry is not None
    assert (dry.wet_hours, dry.rain_mm) == (0, 0)


def test_where_nothing_is_known_there_is_no_exposure(record: BoardRecord) -> None:
    track = track_of(until=5, wet=(0, 1), rain_mm=0.5)
    assert told(record, 3, track).exposure is None
    assert told(record, 2, None).exposure is None


def test_an_inspection_that_is_gone_has_no_story(record: BoardRecord) -> None:
    assert what_happened(record, None, 99) is None


# ---- the clocks that count weather


def test_the_clock_of_wet_hours_counts_from_the_start(record: BoardRecord) -> None:
    clock = weather_clock(track_of(until=15, wet=(1, 5), rain_mm=0.5), "wet hours", START, inspection_days(record))
    assert clock.places == pytest.approx((24, 96, 96), abs=1)
    assert clock.at_day(0) == 0
    assert clock.known == 1


def test_the_clock_of_rain_stands_still_while_it_does_not_rain(record: BoardRecord) -> None:
    clock = weather_clock(track_of(until=15, wet=(3, 4), rain_mm=0.5), "rain", START, inspection_days(record))
    assert clock.places == pytest.approx((0, 12, 12), abs=0.3)
    assert clock.at_day(10) == clock.at_day(13)


def test_a_clock_says_how_much_of_the_time_is_known(record: BoardRecord) -> None:
    clock = weather_clock(track_of(until=7, wet=(0, 1), rain_mm=0.5), "wet hours", START, inspection_days(record))
    assert clock.known == pytest.approx(0.5, abs=0.01)


def test_an_inspection_before_the_start_lies_below_zero(record: BoardRecord) -> None:
    record.board = Board("Yard", started=day(4))
    clock = weather_clock(track_of(until=15, wet=(3, 5), rain_mm=0.5), "wet hours", day(4), inspection_days(record))
    assert clock.places == pytest.approx((-24, 24, 24), abs=1)
