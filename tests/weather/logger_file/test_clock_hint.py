"""What the hours tell in which clocks change: Berlin skips 29 March 2026, 2-3 h, and repeats 25 October, 2-3 h."""

from __future__ import annotations

from datetime import datetime, timedelta

import numpy as np
import pytest

from rustboard.weather.logger_file.clock_hint import clock_hint

EPOCH = datetime(1970, 1, 1)
MARCH = datetime(2026, 3, 28), datetime(2026, 3, 31)
OCTOBER = datetime(2026, 10, 24), datetime(2026, 10, 27)


def every(minutes: int, begin: datetime, end: datetime) -> list[datetime]:
    steps = int((end - begin) / timedelta(minutes=minutes))
    return [begin + timedelta(minutes=minutes) * number for number in range(steps)]


def hint(times: list[datetime], zone: str = "Europe/Berlin") -> str:
    return clock_hint(np.array([(each - EPOCH).total_seconds() for each in times], np.int64), zone)


def without_skipped(times: list[datetime]) -> list[datetime]:
    return [each for each in times if not datetime(2026, 3, 29, 2) <= each < datetime(2026, 3, 29, 3)]


@pytest.mark.parametrize("minutes", [1, 10, 30, 60])
def test_readings_in_the_hour_that_clocks_skip(minutes: int) -> None:
    assert hint(every(minutes, *MARCH)) == "same all year"


@pytest.mark.parametrize("minutes", [1, 10, 30, 60])
def test_no_readings_in_the_hour_that_clocks_skip_but_right_around_it(minutes: int) -> None:
    assert hint(without_skipped(every(minutes, *MARCH))) == "put forward and back"


@pytest.mark.parametrize("minutes", [1, 10, 30, 60])
def test_an_hour_read_twice(minutes: int) -> None:
    times = every(minutes, *OCTOBER)
    again = [each for each in times if datetime(2026, 10, 25, 2) <= each < datetime(2026, 10, 25, 3)]
    assert hint(times + again) == "put forward and back"


def test_nothing_is_known() -> None:
    assert hint(every(10, *OCTOBER)) == ""  # an hour read once may also have been read once only
    assert hint(every(10, datetime(2026, 6, 1), datetime(2026, 6, 9))) == ""
    assert hint(every(10, *MARCH), "") == ""
    assert hint(every(10, *MARCH), "UTC") == ""
    assert hint(every(10, *MARCH), "No/Where") == ""
    assert hint(every(10, *MARCH), "Africa/Lagos") == ""
    assert hint([]) == ""
    assert hint([MARCH[0]]) == ""


def test_a_gap_around_the_hour_says_nothing() -> None:
    times = [each for each in every(10, *MARCH) if not datetime(2026, 3, 29, 0) <= each < datetime(2026, 3, 29, 6)]
    assert hint(times) == ""


def test_years_that_contradict_each_other_say_nothing() -> None:
    assert hint([*without_skipped(every(10, *MARCH)), *every(10, datetime(2027, 3, 27), datetime(2027, 3, 30))]) == ""
