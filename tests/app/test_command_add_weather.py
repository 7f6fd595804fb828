"""``rustboard add-weather``."""

from __future__ import annotations

from contextlib import closing
from pathlib import Path

import pytest
from command_line import Rustboard

from rustboard.board.record import site_of
from rustboard.session.session import Session

SETTLED = """\
Time,Temperature (°C),Humidity (%)
2026-03-02 09:00,6.5,91
2026-03-02 09:10,6.7,90
2026-03-02 09:20,6.9,n/a
"""
DOUBTFUL = """\
date;time;value 1;value 2
01/03/2026;00:00;41,0;95
01/03/2026;02:00;42,5;93
02/03/2026;04:00;43,1;94
03/03/2026;06:00;44,0;90
"""
UNTOLD = "Time,Foo\n2026-03-01 00:00,1.5\n2026-03-01 01:00,1.7\n2026-03-01 02:00,4.1\n"


def written(folder: Path, text: str, name: str = "fence.csv") -> Path:
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path


def kept(board: Path) -> list[tuple[str, str, int]]:
    with closing(Session(board, read_only=True)) as session:
        return [(each.name, each.logger, each.count) for each in session.record.weather_files.values()]


def test_readings_are_added(rustboard: Rustboard, board: Path, tmp_path: Path) -> None:
    finished = rustboard("add-weather", board, written(tmp_path, SETTLED), "--logger", "fence")
    assert (finished.code, finished.err) == (0, "")
    assert finished.out == (
        "fence.csv: 3 readings of fence added, 2026-03-02 09:00 to 2026-03-02 09:20, 0 rows left out.\n"
    )
    assert kept(board) == [("fence.csv", "fence", 3)]


def test_the_json_says_how_the_file_was_read(rustboard: Rustboard, board: Path, tmp_path: Path) -> None:
    finished = rustboard("add-weather", board, written(tmp_path, SETTLED), "--json")
    assert list(finished.data) == ["board", "files", "problems"]
    (file,) = finished.data["files"]
    assert file == {
        "file": "fence.csv",
        "logger": "logger",
        "readings": 3,
        "from": "2026-03-02T09:00:00",
        "to": "2026-03-02T09:20:00",
        "interval_seconds": 600,
        "left_out": 0,
        "already_there": False,
        "replaced": False,
        "clock": "",
        "delimiter": ",",
        "decimal": ".",
        "date_order": file["date_order"],
        "header_rows": 1,
        "columns": [
            {"title": "Time", "holds": "time", "unit": ""},
            {"title": "Temperature (°C)", "holds": "temperature", "unit": "C"},
            {"title": "Humidity (%)", "holds": "humidity", "unit": "%"},
        ],
        "profile": None,
        "doubts": [],
    }


def test_the_same_file_twice_adds_nothing_twice(rustboard: Rustboard, board: Path, tmp_path: Path) -> None:
    file = written(tmp_path, SETTLED)
    rustboard("add-weather", board, file)
    with closing(Session(board, read_only=True)) as session:
        before = session.newest_step()
    finished = rustboard("add-weather", board, file, file, "--json")
    assert (finished.code, len(finished.data["files"])) == (0, 1)
    assert finished.data["files"][0]["already_there"] is True
    with closing(Session(board, read_only=True)) as session:
        assert session.newest_step() == before


def test_the_same_file_read_otherwise_takes_its_own_place(rustboard: Rustboard, board: Path, tmp_path: Path) -> None:
    file = written(tmp_path, SETTLED)
    rustboard("add-weather", board, file)
    finished = rustboard("add-weather", board, file, "--column", "3=ignored", "--json")
    assert (finished.data["files"][0]["replaced"], finished.code) == (True, 0)
    with closing(Session(board, read_only=True)) as session:
        assert [each.quantities for each in session.record.weather_files.values()] == [("temperature",)]


def test_doubts_are_notes_and_no_refusal(rustboard: Rustboard, board: Path, tmp_path: Path) -> None:
    finished = rustboard("add-weather", board, written(tmp_path, DOUBTFUL))
    assert finished.code == 0
    assert finished.sentences[0].startswith("fence.csv: note: “01/03/2026” can have the day first or the month first")
    assert all(each.startswith("fence.csv: note: ") for each in finished.sentences)


def test_options_settle_doubts(rustboard: Rustboard, board: Path, tmp_path: Path) -> None:
    finished = rustboard(
        "add-weather", board, written(tmp_path, DOUBTFUL), "--date-order", "month-first", "--column",
        "value 1=temperature:F", "--column", "value 2=humidity:%", "--logger", "gate", "--clock", "UTC+01:00",
        "--board-zone", "Europe/Berlin", "--json",
    )  # fmt: skip
    assert (finished.code, finished.err) == (0, "")
    (file,) = finished.data["files"]
    assert (file["from"], file["to"]) == ("2026-01-03T00:00:00", "2026-03-03T06:00:00")
    assert (file["logger"], file["clock"], file["doubts"]) == ("gate", "UTC+01:00", [])
    assert file["columns"][2] == {"title": "value 1", "holds": "temperature", "unit": "F"}
    with closing(Session(board, read_only=True)) as session:
        assert site_of(session.record).zone == "Europe/Berlin"


def test_delimiter_decimal_mark_and_lines_before_the_data(rustboard: Rustboard, board: Path, tmp_path: Path) -> None:
    options = ("--delimiter", "semicolon", "--decimal", "comma", "--header-rows", "2", "--json")
    finished = rustboard("add-weather", board, written(tmp_path, DOUBTFUL), *options)
    (file,) = finished.data["files"]
    assert (file["delimiter"], file["decimal"], file["header_rows"]) == (";", ",", 2)
    assert file["readings"] == 3


def test_a_file_whose_columns_say_nothing_needs_a_word(rustboard: Rustboard, board: Path, tmp_path: Path) -> None:
    file = written(tmp_path, UNTOLD)
    finished = rustboard("add-weather", board, file, "--column", "Foo=ignored")
    assert finished.code == 2
    assert finished.out == "No reading was added; the board Yard fence is as it was.\n"
    assert "No column holds readings" in finished.err
    finished = rustboard("add-weather", board, file, "--column", "Foo=wind:km/h", "--json")
    assert finished.data["files"][0]["columns"][1] == {"title": "Foo", "holds": "wind", "unit": "km/h"}


def test_rows_left_out_are_listed_and_what_is_no_file_too(rustboard: Rustboard, board: Path, tmp_path: Path) -> None:
    bad = written(tmp_path, SETTLED + "yesterday,6,90\n")
    finished = rustboard("add-weather", board, bad, tmp_path / "gone.csv", "--json")
    assert finished.code == 1
    assert finished.data["files"][0]["left_out"] == 1
    assert [(each["file"], each["row"]) for each in finished.data["problems"]] == [
        ("fence.csv", 5),
        ("gone.csv", None),
    ]
    assert rustboard("add-weather", board, tmp_path / "gone.csv").code == 2


def test_all_files_are_one_step(rustboard: Rustboard, board: Path, tmp_path: Path) -> None:
    files = [written(tmp_path, SETTLED.replace("2026-03", month), f"{month}.csv") for month in ("2026-03", "2026-04")]
    rustboard("add-weather", board, *files, "--board-zone", "Europe/Berlin")
    assert len(kept(board)) == 2
    with closing(Session(board)) as session:
        session.undo()
        assert session.record.weather_files == {}
        assert site_of(session.record).zone == ""


def test_a_profile_is_kept_and_used(rustboard: Rustboard, board: Path, tmp_path: Path) -> None:
    first = written(tmp_path, DOUBTFUL)
    rustboard("add-weather", board, first, "--date-order", "month-first", "--save-profile", "gate")
    second = written(tmp_path, DOUBTFUL + "\n", "next.csv")
    by_name = rustboard("add-weather", board, second, "--profile", "gate", "--json")
    assert by_name.data["files"][0]["profile"] == "gate"
    assert by_name.data["files"][0]["date_order"] == "month first"
    third = written(tmp_path, DOUBTFUL + "\n\n", "third.csv")
    assert rustboard("add-weather", board, third, "--json").data["files"][0]["profile"] == "gate"
    missing = rustboard("add-weather", board, third, "--profile", "porch")
    assert missing.code == 2
    assert "There is no profile “porch”; the profiles are gate." in missing.err


def test_a_clock_without_the_boards_zone_is_told_of(rustboard: Rustboard, board: Path, tmp_path: Path) -> None:
    finished = rustboard("add-weather", board, written(tmp_path, SETTLED), "--clock", "UTC")
    assert finished.code == 0
    assert "say it with --board-zone" in finished.err


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (["--delimiter", "star"], "give --delimiter one of comma, semicolon, bar, tab, blank"),
        (["--decimal", "dot"], "give --decimal one of point, comma"),
        (["--date-order", "any"], "one of year-first, day-first, month-first"),
        (["--header-rows", "-1"], "no number of lines"),
        (["--header-rows", "many"], "no number of lines"),
        (["--clock", "Mars/Olympus"], "This is no clock"),
        (["--board-zone", "Mars/Olympus"], "No zone is called “Mars/Olympus”"),
        (["--column", "temperature"], "says of no column what it holds"),
        (["--column", "T=heat"], "says of no column what it holds"),
        (["--column", "T=temperature:mm"], "A column of temperature cannot have the unit mm"),
        (["--column", "T=temperature:Q"], "“Q” is no unit"),
        (["--column", "T=temperature"], "There is no column “T”; the columns are Time, Temperature (°C)"),
    ],
)
def test_an_option_that_cannot_be_is_explained(
    rustboard: Rustboard, board: Path, tmp_path: Path, options: list[str], said: str
) -> None:
    finished = rustboard("add-weather", board, written(tmp_path, SETTLED), *options)
    assert (finished.code, len(finished.sentences)) == (2, 1)
    assert said in finished.err
    assert kept(board) == []


def test_a_board_that_is_open_elsewhere_is_not_written(rustboard: Rustboard, board: Path, tmp_path: Path) -> None:
    with closing(Session(board, who="Ada")):
        finished = rustboard("add-weather", board, written(tmp_path, SETTLED))
    assert finished.code == 2
    assert finished.err.endswith("no reading was added.\n")
