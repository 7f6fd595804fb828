"""The command line as a whole: finding the command, exit codes, streams, and what starting it costs."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import tomllib
from importlib.metadata import EntryPoint
from pathlib import Path

import pytest
from command_line import Rustboard

import rustboard as package
from rustboard.app import main
from rustboard.app.commands import check as check_command
from rustboard.app.commands import grades as grades_command

HEAVY = {"PySide6", "pyqtgraph", "numpy", "pandas", "openpyxl", "PIL", "cv2", "scipy"}


def program(*arguments: str | Path, **variables: str) -> subprocess.CompletedProcess[bytes]:
    """Run the program in a process of its own."""
    command = [sys.executable, "-m", "rustboard", *map(str, arguments)]
    environment = {**os.environ, **variables}
    return subprocess.run(command, capture_output=True, env=environment, timeout=60, check=False)


def test_the_installed_command_is_the_function_that_returns_the_exit_code(checkout: Path) -> None:
    scripts = tomllib.loads((checkout / "pyproject.toml").read_text(encoding="utf-8"))["project"]["scripts"]
    entry = EntryPoint("rustboard", scripts["rustboard"], "console_scripts")
    assert entry.load() is main.run


def test_the_version_is_printed(rustboard: Rustboard) -> None:
    finished = rustboard("--version")
    assert (finished.code, finished.out.strip()) == (0, f"rustboard {package.__version__}")


def test_the_help_names_every_command_and_each_explains_itself(rustboard: Rustboard) -> None:
    overview = rustboard("--help")
    assert overview.code == 0
    for name in main.COMMANDS:
        assert f"\n  {name} " in overview.out
        own = rustboard(name, "--help")
        assert own.code == 0
        assert own.out.startswith(f"usage: rustboard {name} ")


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["grades"], "required: BOARD. See “rustboard grades --help”."),
        (["grades", "b", "--csv", "--json"], "not allowed with argument --csv"),
        (["report", "b"], "required: -o/--output"),
        (["add-grades", "b"], "required: FILE.csv"),
        (["new"], "required: FOLDER"),
        (["demo"], "required: FOLDER"),
        (["grdes"], "“grdes” is neither a command nor a board; did you mean “rustboard grades”?"),
        (
            ["xyzzy", "b"],
            "the commands are demo, new, add-photos, add-grades, add-weather, measure, grades, agreement, exposure, "
            "findings, report",
        ),
        (["--frobnicate"], "There is no option --frobnicate."),
        (["places/that/are/not/there"], "There is no board here"),
        (["x" * 5_000], "is neither a command nor a board"),
    ],
)
def test_a_command_line_that_makes_no_sense_is_explained_in_one_sentence(
    rustboard: Rustboard, arguments: list[str], said: str
) -> None:
    finished = rustboard(*arguments)
    assert finished.code == 2
    assert ("--json" in arguments) == (finished.out != "")
    assert len(finished.sentences) == 1
    assert said in finished.err


def test_a_board_with_something_after_it_is_not_taken_for_a_command(rustboard: Rustboard, board: Path) -> None:
    finished = rustboard(board, "report")
    assert finished.code == 2
    assert "is given alone" in finished.err


@pytest.mark.parametrize("command", ["grades", "check"])
@pytest.mark.parametrize("name", ["not there", "y" * 5_000, "tab\there"])
def test_a_board_that_is_not_there_is_named(rustboard: Rustboard, command: str, name: str) -> None:
    finished = rustboard(command, name, "--json")
    assert finished.code == 2
    assert len(finished.sentences) == 1
    assert "There is no board here; choose a folder with a board.rustboard file." in finished.err
    (problem,) = finished.data["problems"]
    assert problem["file"] == name[:200]
    assert list(problem) == ["file", "row", "column", "what", "sentence"]


def test_the_way_to_a_table_of_grades_loads_no_heavy_library(graded_board: Path) -> None:
    code = (
        "import json, sys\nfrom rustboard.app.main import run\ncode = run(sys.argv[1:])\n"
        "print(json.dumps(sorted({name.split('.')[0] for name in sys.modules})))\nsys.exit(code)"
    )
    finished = subprocess.run(
        [sys.executable, "-c", code, "grades", str(graded_board)], capture_output=True, text=True, check=True
    )
    assert not HEAVY & set(json.loads(finished.stdout.splitlines()[-1]))


def test_the_version_loads_no_database_either() -> None:
    code = "import sys\nfrom rustboard.app.main import run\nrun(['--version'])\nprint('sqlite3' in sys.modules)"
    finished = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert finished.stdout.splitlines()[-1] == "False"


@pytest.mark.parametrize("variables", [{}, {"LC_ALL": "C", "PYTHONCOERCECLOCALE": "0", "PYTHONUTF8": "0"}])
def test_a_pipe_gets_utf_8_whatever_the_locale(graded_board: Path, variables: dict[str, str]) -> None:
    graded = graded_board.rename(graded_board.with_name("Zaun für Öl"))
    copy = graded.with_name("中 copy.xlsx")
    finished = program("report", graded, "-o", copy, **variables)
    assert finished.returncode == 0, finished.stderr
    assert "中 copy.xlsx" in finished.stdout.decode("utf-8")
    missing = program("grades", "нет", **variables)
    assert "нет" in missing.stderr.decode("utf-8")


def test_a_console_without_the_characters_gets_escapes(graded_board: Path) -> None:
    finished = program("grades", "нет", PYTHONIOENCODING="ascii")
    assert finished.returncode == 2
    assert finished.stderr.startswith(rb"\u043d\u0435\u0442: There is no board here")


def test_json_survives_any_console(graded_board: Path, tmp_path: Path, rustboard: Rustboard) -> None:
    typed = tmp_path / "more.csv"
    typed.write_text("date,coupon,grade,grader\n2026-03-16,C01,8,Zoë 🛠\n", encoding="utf-8")
    assert rustboard("add-grades", graded_board, typed).code == 0
    finished = program("grades", graded_board, "--json", PYTHONIOENCODING="latin-1")
    assert json.loads(finished.stdout.decode("ascii"))[-1]["grader"] == "Zoë 🛠"


@pytest.mark.skipif(os.name == "nt", reason="needs a POSIX pipe")
def test_a_reader_that_has_seen_enough_ends_the_program_quietly(graded_board: Path) -> None:
    reading, writing = os.pipe()
    os.close(reading)
    command = [sys.executable, "-m", "rustboard", "grades", str(graded_board)]
    finished = subprocess.run(command, stdout=writing, stderr=subprocess.PIPE, timeout=60, check=False)
    os.close(writing)
    assert (finished.returncode, finished.stderr) == (main.READER_LEFT, b"")


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs a device that is always full")
def test_an_output_that_cannot_be_written_is_told_and_is_no_success(graded_board: Path) -> None:
    with open("/dev/full", "wb") as full:
        command = [sys.executable, "-m", "rustboard", "grades", str(graded_board), "--csv"]
        finished = subprocess.run(command, stdout=full, stderr=subprocess.PIPE, timeout=60, check=False)
    assert finished.returncode == 2
    assert finished.stderr.startswith(b"The output could not be written")
    assert finished.stderr.count(b"\n") == 1


def test_a_program_without_streams_does_its_work(
    graded_board: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr(sys, "stdout", None)
    monkeypatch.setattr(sys, "stderr", None)
    assert main.run(["grades", str(graded_board)]) == 0
    assert main.run(["grades", str(tmp_path / "no board")]) == 2


def test_control_c_ends_quietly(rustboard: Rustboard, graded_board: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def interrupted(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(check_command, "check_board", interrupted)
    finished = rustboard("check", graded_board)
    assert (finished.code, finished.out, finished.err) == (130, "", "")


def test_a_fault_of_the_program_ends_in_a_sentence_and_a_crash_file(
    rustboard: Rustboard, graded_board: Path, monkeypatch: pytest.MonkeyPatch, own_home: Path
) -> None:
    def faulty(*_: object) -> None:
        raise ValueError("secret of a customer")

    monkeypatch.setattr(grades_command, "grade_rows", faulty)
    finished = rustboard("grades", graded_board, "--json")
    (file,) = (own_home / "rustboard" / "log").iterdir()
    assert finished.code == 2
    assert len(finished.sentences) == 1
    assert str(file) in finished.err
    assert [each["sentence"] for each in finished.data["problems"]] == finished.sentences
    content = file.read_text(encoding="utf-8")
    assert "ValueError" in content
    assert "rustboard/app/main.py" in content
    assert "secret" not in content + finished.err
