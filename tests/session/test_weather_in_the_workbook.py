"""What the workbook says of the weather: the figures of everywhere else, safe whatever was written, or nothing."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from openpyxl import Workbook, load_workbook
from session_boards import NOW, prepared
from weathered_boards import put_day, put_readings, steady_table

from rustboard.board.measured import Disturbance
from rustboard.operations.disturbances import note_disturbance
from rustboard.session.exposure import inspection_exposures
from rustboard.session.jobs import Progress
from rustboard.session.reporting import write_whole_workbook
from rustboard.session.session import Session
from rustboard.session.weather import weather_request, work_out_track

SHEETS = {"Exposure", "Day log", "Weather files"}


@pytest.fixture
def session(tmp_path: Path) -> Iterator[Session]:
    """A board with inspections at the start, and a week and two weeks later."""
    session = prepared(tmp_path / "b", inspections=3)
    yield session
    session.close()


def workbook(session: Session) -> Workbook:
    path = session.folder / "report.xlsx"
    write_whole_workbook(session.record, path, datetime(2026, 4, 1), weather=weather_request(session))
    return load_workbook(path)


def values(book: Workbook, sheet: str) -> list[object]:
    return [cell for row in book[sheet].iter_rows(values_only=True) for cell in row if cell is not None]


def test_without_weather_there_is_no_sheet_of_it(session):
    assert not SHEETS & set(workbook(session).sheetnames)


def test_each_sheet_is_there_only_with_something_on_it(session):
    session.do(note_disturbance, Disturbance(NOW, "touched", 1))
    assert SHEETS & set(workbook(session).sheetnames) == {"Day log"}
    put_readings(session, steady_table(NOW, 14))
    assert SHEETS & set(workbook(session).sheetnames) == SHEETS


def test_the_figures_are_those_of_the_exposure(session):
    put_readings(session, steady_table(NOW, 10))
    put_day(session, (NOW + timedelta(days=12)).date(), conditions=("rain",), rain_mm=4.2, wet_hours=7.0)
    track = work_out_track(weather_request(session), Progress())
    told = values(workbook(session), "Exposure")
    for row in inspection_exposures(session.record, track):
        for figure in (row.interval.wet_hours, row.since_start.wet_hours, row.interval.coverage):
            assert any(isinstance(each, int | float) and each == pytest.approx(figure) for each in told), figure


def test_days_and_disturbances_are_in_the_day_log(session):
    put_day(session, NOW.date(), conditions=("dew", "fog"), lowest_c=-0.5, note="until nine")
    session.do(note_disturbance, Disturbance(NOW, "debris cleared", 2, "leaves"))
    told = " ".join(str(each) for each in values(workbook(session), "Day log"))
    for words in ("dew", "fog", "-0.5", "until nine", "debris cleared", "C2", "leaves"):
        assert words in told


def test_names_that_look_like_formulas_stay_texts(session):
    put_readings(session, steady_table(NOW, 14), name="=HYPERLINK(1).csv", logger="=1+1", told=("+row",), left_out=1)
    put_day(session, NOW.date(), note="@SUM(A1)")
    book = workbook(session)
    for sheet in book.worksheets:
        for row in sheet.iter_rows():
            for cell in row:
                text = cell.value
                if isinstance(text, str) and text.lstrip("'")[:1] in "=+@" and "HYPERLINK" in text:
                    assert cell.data_type == "s"
    (logger,) = [cell for row in book["Weather files"].iter_rows() for cell in row if cell.value == "=1+1"]
    assert logger.data_type == "s"


def test_the_method_says_what_time_of_wetness_is(session):
    put_readings(session, steady_table(NOW, 14))
    assert "time of wetness" in " ".join(
        str(each).lower() for each in values(workbook(session), "Method and cautions")
    )
