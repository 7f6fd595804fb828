"""``rustboard exposure``: the weather between inspections, for people and for scripts."""

from __future__ import annotations

from contextlib import closing
from datetime import date, datetime, timedelta
from pathlib import Path

import pytest
from command_line import Rustboard
from openpyxl import load_workbook
from weathered_boards import daily_table, put_day, put_readings, steady_table

from rustboard.board.model import Inspection
from rustboard.operations.inspections import add_inspection
from rustboard.session.session import Session

START = datetime(2026, 3, 2, 9)
FIRST_KEYS = ["from", "to", "days", "wet_hours", "rain_mm", "mean_temperature_c", "mean_rh_percent", "coverage"]
INSPECTED = datetime(2026, 3, 9, 9, 30)
"""The second inspection of the board; the first is at the start."""


@pytest.fixture
def weathered(graded_board: Path) -> Path:
    """A board with readings of the first three days, a day by hand, and nothing after that."""
    with closing(Session(graded_board)) as session:
        put_readings(session, steady_table(START, 3))
        put_day(session, date(2026, 3, 6), conditions=("rain",), rain_mm=6.5)
    return graded_board


def test_scripts_get_one_object_an_interval_by_the_promised_keys(rustboard: Rustboard, weathered: Path) -> None:
    finished = rustboard("exposure", weathered, "--json")
    assert (finished.code, finished.err) == (0, "")
    (row,) = finished.data
    assert list(row)[: len(FIRST_KEYS)] == FIRST_KEYS
    assert (row["from"], row["to"]) == ("2026-03-02T09:00:00", "2026-03-09T09:30:00")
    assert row["days"] == pytest.approx(7 + 0.5 / 24, abs=1e-6)
    # Steady 90 % and 10 degrees: wet for all of three days; by hand a day of rain without hours is assumed 12.
    assert row["wet_hours_by_logger"] == pytest.approx(72, abs=0.2)
    assert row["wet_hours_by_hand"] == pytest.approx(12, abs=0.01)
    assert row["wet_hours"] == pytest.approx(row["wet_hours_by_logger"] + row["wet_hours_by_hand"], abs=1e-5)
    assert row["rain_mm"] == pytest.approx(6.5)
    assert row["mean_temperature_c"] == pytest.approx(10)
    assert row["mean_rh_percent"] == pytest.approx(90)
    assert row["coverage"] == pytest.approx(row["coverage_by_logger"] + row["coverage_by_hand"], abs=1e-5)
    assert row["coverage"] == pytest.approx(4 / row["days"], abs=0.01)
    assert [each["from"][:10] for each in row["gaps"]] == ["2026-03-05", "2026-03-07"]


def test_people_get_a_table_and_beside_it_what_is_not_known(rustboard: Rustboard, weathered: Path) -> None:
    finished = rustboard("exposure", weathered)
    assert (finished.code, finished.err) == (0, "")
    lines = finished.out.splitlines()
    assert lines[0].split()[:3] == ["From", "To", "Days"]
    assert lines[1].startswith("2026-03-02 09:00  2026-03-09 09:30")
    assert "Not known: 2026-03-07 00:00 to 2026-03-09 09:30 (2.4 days)." in lines
    assert any("57 % of this time only" in line for line in lines)
    assert "estimated, an upper figure" in finished.out


def test_from_the_start_each_row_begins_there(rustboard: Rustboard, weathered: Path) -> None:
    with closing(Session(weathered)) as session:
        put_readings(session, daily_table(INSPECTED, 10), "later.csv")
        session.do(add_inspection, Inspection(INSPECTED + timedelta(days=7)))
    intervals = rustboard("exposure", weathered, "--json").data
    sums = rustboard("exposure", weathered, "--from-start", "--json").data
    assert [each["from"] for each in intervals] == ["2026-03-02T09:00:00", "2026-03-09T09:30:00"]
    assert [each["from"] for each in sums] == ["2026-03-02T09:00:00"] * 2
    assert sums[0] == intervals[0]
    assert sums[1]["wet_hours"] == pytest.approx(sum(each["wet_hours"] for each in intervals), abs=1e-4)
    assert sums[1]["gaps"][: len(sums[0]["gaps"])] == sums[0]["gaps"]


def test_without_weather_the_rows_say_that_nothing_is_known(rustboard: Rustboard, graded_board: Path) -> None:
    (row,) = rustboard("exposure", graded_board, "--json").data
    assert row["coverage"] == 0
    assert [row[key] for key in FIRST_KEYS[3:7]] == [None] * 4
    assert "Nothing is known of this board's weather" in rustboard("exposure", graded_board).out


def test_without_an_inspection_there_is_no_row_and_a_sentence_says_why(rustboard: Rustboard, board: Path) -> None:
    finished = rustboard("exposure", board)
    assert finished.code == 0
    assert "no inspection yet" in finished.out
    assert rustboard("exposure", board, "--json").data == []


def test_it_works_while_a_window_has_the_board_open_and_touches_nothing(
    rustboard: Rustboard, weathered: Path
) -> None:
    before = {each: each.read_bytes() for each in weathered.rglob("*") if each.is_file()}
    assert rustboard("exposure", weathered).code == 0
    assert {each: each.read_bytes() for each in weathered.rglob("*") if each.is_file()} == before
    with closing(Session(weathered)):
        assert rustboard("exposure", weathered).code == 0


def test_where_there_is_no_board_one_sentence_says_so(rustboard: Rustboard, tmp_path: Path) -> None:
    finished = rustboard("exposure", tmp_path / "nowhere", "--json")
    assert (finished.code, list(finished.data)) == (2, ["problems"])


def test_the_workbook_of_the_command_has_the_sheets_of_weather(
    rustboard: Rustboard, weathered: Path, tmp_path: Path
) -> None:
    target = tmp_path / "yard.xlsx"
    assert rustboard("report", weathered, "-o", target).code == 0
    names = load_workbook(target, read_only=True).sheetnames
    assert [each for each in names if each in {"Exposure", "Day log", "Weather files"}] == [
        "Exposure", "Day log", "Weather files",
    ]  # fmt: skip
