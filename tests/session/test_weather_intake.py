"""Loggers' files read for a board: bounded, told apart from those that are there, and stopped when asked."""

from __future__ import annotations

import hashlib
import os
from collections.abc import Iterator
from contextlib import closing
from datetime import datetime
from pathlib import Path

import pytest
from session_boards import prepared

from rustboard.operations.weather import add_weather_file
from rustboard.session import weather_intake
from rustboard.session.jobs import Cancelled, Progress
from rustboard.session.session import Session
from rustboard.session.weather_cells import seen_cells
from rustboard.session.weather_columns import OptionChanges, SaidColumn, laid_anew, laid_like
from rustboard.session.weather_intake import (
    LoggerReading,
    ReadRequest,
    load_beginning,
    load_logger_file,
    preview_beginning,
    read_readings,
)
from rustboard.support.problems import InputError
from rustboard.weather.packing import unpack

SETTLED = """\
Time,Temperature (°C),Humidity (%)
2026-03-28 23:00,6.5,91
2026-03-28 23:10,6.7,90
2026-03-28 23:20,-,n/a
2026-03-28 23:30,6.9,105.5
"""
SEMICOLONS = (
    "a;b\n" + "Zeit;Temp;Feuchte\n" + "".join(f"2026-03-01 0{hour}:00;{hour},5;8{hour}\n" for hour in range(9))
)


@pytest.fixture
def session(tmp_path: Path) -> Iterator[Session]:
    with closing(prepared(tmp_path / "board")) as session:
        yield session


def written(folder: Path, text: str, name: str = "fence.csv") -> Path:
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path


def read(path: Path, **more) -> LoggerReading:
    return read_readings(ReadRequest(load_logger_file(path, Progress()), **more), Progress())


def on_board(session: Session) -> tuple:
    return tuple(session.record.weather_files.values())


def test_what_is_given_to_the_board_is_what_stands_in_the_file(tmp_path: Path) -> None:
    path = written(tmp_path, SETTLED)
    given = read(path).given
    assert given is not None
    assert (given.name, given.logger, given.clock) == ("fence.csv", "logger", "")
    assert given.sha256 == hashlib.sha256(path.read_bytes()).hexdigest()
    assert (given.first, given.last) == (datetime(2026, 3, 28, 23), datetime(2026, 3, 28, 23, 30))
    assert (given.count, given.left_out) == (3, 1)
    assert list(unpack(given.packed).values["temperature"]) == [6.5, 6.7, 6.9]
    assert all("fence.csv" not in each for each in given.told), "the file's name stands beside them"


def test_the_very_file_adds_nothing_and_read_otherwise_replaces(session: Session, tmp_path: Path) -> None:
    path = written(tmp_path, SETTLED)
    first = read(path)
    assert first.standing == "new"
    session.do(add_weather_file, first.given)
    assert read(path, on_board=on_board(session)).standing == "same"
    renamed = read(path, on_board=on_board(session), changes=OptionChanges(logger="gate"))
    assert renamed.standing == "replaces"
    fewer = OptionChanges(columns=(SaidColumn("2", "ignored"),))
    assert read(path, on_board=on_board(session), changes=fewer).standing == "replaces"


def test_files_of_the_same_logger_and_time_are_named(session: Session, tmp_path: Path) -> None:
    session.do(add_weather_file, read(written(tmp_path, SETTLED)).given)
    overlapping = written(tmp_path, SETTLED + "2026-03-29 00:00,5,80\n", "longer.csv")
    assert [each.name for each in read(overlapping, on_board=on_board(session)).overlapping] == ["fence.csv"]
    later = written(tmp_path, SETTLED.replace("2026-03-28", "2026-03-29"), "later.csv")
    assert read(later, on_board=on_board(session)).overlapping == ()
    gate = read(overlapping, on_board=on_board(session), changes=OptionChanges(logger="gate"))
    assert gate.overlapping == ()


def test_only_another_name_of_the_logger_reads_nothing_anew(tmp_path: Path) -> None:
    first = read(written(tmp_path, SETTLED))
    request = ReadRequest(first.file, first.options, changes=OptionChanges(logger="gate"), before=first)
    again = read_readings(request, Progress())
    assert again.read is first.read
    assert again.given is not None
    assert again.given.logger == "gate"


def test_options_that_cannot_be_are_told_with_the_rows_still_shown(tmp_path: Path) -> None:
    first = read(written(tmp_path, SETTLED))
    changes = OptionChanges(columns=(SaidColumn("Time", "ignored"),))
    reading = read_readings(ReadRequest(first.file, first.options, changes=changes), Progress())
    assert reading.problem is not None
    assert "No column holds the time" in reading.problem.what
    assert (reading.given, len(reading.rows)) == (None, 4)


def test_cells_are_good_empty_bad_or_not_read(tmp_path: Path) -> None:
    reading = read(written(tmp_path, SETTLED), changes=OptionChanges(columns=(SaidColumn("3", "wind"),)))
    states = [tuple(each.state for each in seen_cells(row, reading.options)) for row in reading.rows]
    assert states == [
        ("good", "good", "good"),
        ("good", "good", "good"),
        ("good", "no reading", "no reading"),
        ("good", "good", "good"),
    ]
    mended = read(written(tmp_path, SETTLED.replace("105.5", "much")), changes=OptionChanges(columns=()))
    assert seen_cells(mended.rows[3], mended.options)[2].state == "bad"


def test_a_clock_that_nobody_has_is_refused_in_words(tmp_path: Path) -> None:
    reading = read(written(tmp_path, SETTLED), changes=OptionChanges(clock="Mars/Olympus"))
    assert reading.problem is not None
    assert "This is no clock" in reading.problem.what


# ---- the clocks


def _night(first: str) -> str:
    """Readings of 29 March 2026, when the clocks of Berlin went from 02:00 to 03:00 (the time zone database)."""
    skipped = first == "skipped"
    hours = [hour for hour in range(24) if not (skipped and hour == 2)]
    rows = [
        f"2026-03-29 {hour:02}:{minute:02},6.{hour % 9},9{hour % 9}" for hour in hours for minute in range(0, 60, 10)
    ]
    return "Time,Temperature (°C),Humidity (%)\n" + "\n".join(rows) + "\n"


def test_a_clock_that_was_not_put_forward_is_told_of(tmp_path: Path) -> None:
    reading = read(written(tmp_path, _night("whole")), zone="Europe/Berlin")
    assert any("was not put forward and back" in each for each in reading.doubts)
    fixed = OptionChanges(clock="UTC+01:00")
    settled = read(written(tmp_path, _night("whole")), zone="Europe/Berlin", changes=fixed)
    assert settled.doubts == ()


def test_a_clock_that_was_put_forward_is_told_of_where_a_fixed_one_was_said(tmp_path: Path) -> None:
    fixed = OptionChanges(clock="UTC+01:00")
    reading = read(written(tmp_path, _night("skipped")), zone="Europe/Berlin", changes=fixed)
    assert any("was put forward and back" in each for each in reading.doubts)
    assert read(written(tmp_path, _night("skipped")), zone="Europe/Berlin").doubts == ()


# ---- columns


def test_a_changed_mark_between_cells_lays_the_columns_anew(tmp_path: Path) -> None:
    reading = read(written(tmp_path, SEMICOLONS))
    assert [each.role for each in reading.options.columns] == ["time", "temperature", "humidity"]
    one = laid_anew(reading.file.text, reading.options, delimiter="\t")
    assert len(one.columns) == 1
    back = laid_anew(reading.file.text, one, delimiter=";")
    assert [each.role for each in back.columns] == ["time", "temperature", "humidity"]


def test_other_lines_before_the_data_keep_what_columns_hold(tmp_path: Path) -> None:
    reading = read(written(tmp_path, SEMICOLONS))
    assert laid_anew(reading.file.text, reading.options, header_rows=5).columns == reading.options.columns
    assert laid_anew(reading.file.text, reading.options, header_rows=999).header_rows == 10


def test_options_of_a_file_before_fit_only_where_the_titles_are_the_same(tmp_path: Path) -> None:
    first, other = read(written(tmp_path, SEMICOLONS)), read(written(tmp_path, SETTLED, "other.csv"))
    assert laid_like(first.file.text, first.options) == first.options
    assert laid_like(other.file.text, first.options) is None


# ---- bounds


def test_a_file_larger_than_can_be_read_is_refused_before_it_is_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(weather_intake, "MOST_BYTES", 1 << 20)
    (tmp_path / "large.csv").write_bytes(b"x" * ((1 << 20) + 1))
    with pytest.raises(InputError, match="larger than 1 MB"):
        load_logger_file(tmp_path / "large.csv", Progress())


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="there are no pipes with names here")
def test_a_pipe_is_not_waited_for(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.csv")
    with pytest.raises(InputError, match="This is no file"):
        load_logger_file(tmp_path / "pipe.csv", Progress())


@pytest.mark.parametrize("name", ["gone.csv", "."])
def test_what_is_not_there_or_a_folder_is_a_sentence(tmp_path: Path, name: str) -> None:
    with pytest.raises(InputError):
        load_logger_file(tmp_path / name, Progress())


def test_reading_stops_when_asked(tmp_path: Path) -> None:
    stopped = Progress()
    stopped.cancel()
    path = written(tmp_path, SETTLED)
    with pytest.raises(Cancelled):
        load_logger_file(path, stopped)
    with pytest.raises(Cancelled):
        read_readings(ReadRequest(load_logger_file(path, Progress())), stopped)


@pytest.mark.parametrize("encoding", ["utf-8", "utf-16", "cp1252"])
def test_the_beginning_of_a_large_file_is_whole_lines(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, encoding: str
) -> None:
    monkeypatch.setattr(weather_intake, "_BEGINNING_BYTES", 2_001)
    rows = "".join(f"2026-03-{day:02} 12:{minute:02},6.5,91\n" for day in range(1, 29) for minute in range(60))
    path = tmp_path / "large.csv"
    path.write_bytes(("Time,Temperature (°C),Humidity (%)\n" + rows).encode(encoding))
    assert len(load_beginning(path, Progress()).text) < 200
    reading = preview_beginning(path, Progress())
    assert reading.file.sha256 == ""
    assert reading.given is None
    assert [each.title for each in reading.options.columns] == ["Time", "Temperature (°C)", "Humidity (%)"]
    assert len(reading.rows) == 12
