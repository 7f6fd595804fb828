"""``rustboard exposure``: what a board went through, for people and for scripts."""

from __future__ import annotations

from contextlib import closing
from datetime import datetime
from pathlib import Path

import pytest
from command_line import Rustboard
from weathered_boards import put_day, put_readings, steady_table

from rustboard.session.session import Session

KEYS = ["from", "to", "days", "wet_hours", "rain_mm", "mean_temperature_c", "mean_rh_percent", "coverage"]


@pytest.fixture
def weathered(graded_board: Path) -> Path:
    """The board with two inspections, two days wet and then nothing known, from the first of them on."""
    with closing(Session(graded_board)) as session:
        first = session.record.inspections_in_order()[0].at
        put_readings(session, steady_table(first, 2))
    return graded_board


def test_json_has_one_row_an_interval_with_the_agreed_keys_first(rustboard: Rustboard, weathered: Path) -> None:
    finished = rustboard("exposure", weathered, "--json")
    assert (finished.code, finished.err) == (0, "")
    with closing(Session(weathered, read_only=True)) as session:
        moments = [each.at for each in session.record.inspections_in_order()]
        start = session.record.day_zero()
    rows = finished.data
    assert [list(each)[: len(KEYS)] for each in rows] == [KEYS] * len(rows)
    assert rows[-1]["to"] == moments[-1].isoformat()
    assert rows[0]["from"] == start.isoformat()
    wet = [each["wet_hours"] for each in rows if each["wet_hours"] is not None]
    assert sum(wet) == pytest.approx(48, abs=0.2)
    known = sum(each["coverage"] * each["days"] for each in rows)
    assert known == pytest.approx(2, abs=0.01)


def test_people_get_a_table_and_are_told_what_is_not_known(rustboard: Rustboard, weathered: Path) -> None:
    finished = rustboard("exposure", weathered)
    assert finished.code == 0
    assert "Wet h" in finished.out.splitlines()[0]
    assert "nothing is filled in" in finished.out
    assert "Not known" in finished.out or "not known" in finished.out


def test_from_the_start_the_rows_are_sums(rustboard: Rustboard, weathered: Path) -> None:
    rows = rustboard("exposure", weathered, "--from-start", "--json").data
    assert len({each["from"] for each in rows}) == 1
    assert rows[-1]["wet_hours"] == pytest.approx(48, abs=0.2)


def test_days_by_hand_are_told_apart(rustboard: Rustboard, graded_board: Path) -> None:
    with closing(Session(graded_board)) as session:
        first, last = (each.at for each in session.record.inspections_in_order())
        put_day(session, first.date(), conditions=("rain",), rain_mm=4.0, wet_hours=24.0)
    rows = rustboard("exposure", graded_board, "--json").data
    assert rows[-1]["to"] == last.isoformat()
    by_hand = [each for each in rows if each["coverage_by_hand"] > 0]
    assert by_hand
    assert all(each["coverage_by_logger"] == 0 and each["wet_hours_by_logger"] is None for each in by_hand)


def test_without_weather_the_rows_are_there_with_nothing_known(rustboard: Rustboard, graded_board: Path) -> None:
    finished = rustboard("exposure", graded_board, "--json")
    assert finished.code == 0
    assert finished.data
    assert all(each["coverage"] == 0 and each["wet_hours"] is None for each in finished.data)
    assert "Nothing is known of this board's weather" in rustboard("exposure", graded_board).out


def test_it_works_while_a_window_has_the_board_open(rustboard: Rustboard, weathered: Path) -> None:
    with closing(Session(weathered)):
        finished = rustboard("exposure", weathered, "--json")
    assert finished.code == 0
    assert datetime.fromisoformat(finished.data[0]["from"])


def test_a_board_that_is_not_there_is_told(rustboard: Rustboard, tmp_path: Path) -> None:
    finished = rustboard("exposure", tmp_path / "nowhere")
    assert finished.code == 2
    assert "no board here" in finished.err
