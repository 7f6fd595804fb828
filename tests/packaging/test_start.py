"""The start script's command line, and what it hands over to."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
import start
from messages import CannotStartError
from private_environment import Environment

ON_SCREEN = {"QT_QPA_PLATFORM": "xcb"}
NO_SCREEN = {"QT_QPA_PLATFORM": "offscreen"}

ON_ALL_CORES = ["python", "-m", "pytest", "-n", "auto", "--dist", "loadfile"]


@pytest.fixture
def environment(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Environment:
    checkout = tmp_path / "checkout"
    checkout.mkdir()
    monkeypatch.chdir(tmp_path)
    return Environment(tmp_path / "home of it", checkout)


def handed_over(arguments: list[str], environment: Environment, variables: dict[str, str]) -> list[str]:
    """Return the command, with the first word's folder left out."""
    program, *rest = start.command_line(start.understood(arguments), environment, variables)
    assert Path(program).parent == environment.programs
    return [Path(program).stem, *rest]


@pytest.mark.parametrize(
    ("arguments", "variables", "command"),
    [
        ([], ON_SCREEN, ["rustboard", "demo", "rustboard-demo"]),
        (["demo", "here"], ON_SCREEN, ["rustboard", "demo", "here"]),
        (["demo", "here", "--no-window"], ON_SCREEN, ["rustboard", "demo", "here", "--no-window"]),
        ([], NO_SCREEN, ["rustboard", "demo", "rustboard-demo", "--no-window"]),
        (["run"], ON_SCREEN, ["rustboard"]),
        (["run", "my board"], ON_SCREEN, ["rustboard", "my board"]),
        (["test"], NO_SCREEN, ON_ALL_CORES),
        (["test", "-k", "grade", "--help"], ON_SCREEN, [*ON_ALL_CORES, "-k", "grade", "--help"]),
        (["tool", "ruff", "check", "--fix", "."], NO_SCREEN, ["ruff", "check", "--fix", "."]),
    ],
)
def test_the_command_line_is_handed_over(
    environment: Environment, arguments: list[str], variables: dict[str, str], command: list[str]
) -> None:
    assert handed_over(arguments, environment, dict(variables)) == command


@pytest.mark.parametrize("arguments", [["test"], ["demo", "--no-window"]])
def test_what_needs_no_window_runs_without_a_screen(environment: Environment, arguments: list[str]) -> None:
    variables = dict(ON_SCREEN)
    handed_over(arguments, environment, variables)
    assert variables["QT_QPA_PLATFORM"] == "offscreen"


def test_tests_run_in_the_checkout_and_boards_are_found_from_where_the_user_is(environment: Environment) -> None:
    here = Path.cwd()
    handed_over(["run", "my board"], environment, dict(ON_SCREEN))
    assert Path.cwd() == here
    handed_over(["test"], environment, {})
    assert Path.cwd() == environment.checkout


def test_a_window_without_a_screen_is_refused_in_a_sentence(environment: Environment) -> None:
    with pytest.raises(CannotStartError, match="no display here"):
        handed_over(["run"], environment, dict(NO_SCREEN))


@pytest.mark.parametrize(
    ("error", "code", "sentence"),
    [
        (CannotStartError("Install a newer one."), 2, "Install a newer one.\n"),
        (KeyboardInterrupt(), 130, "Stopped. Start again at any time.\n"),
        (
            PermissionError(13, "Permission denied", "/opt/x"),
            2,
            "The computer refused: Permission denied (/opt/x). Mend that, then start again.\n",
        ),
    ],
)
def test_what_goes_wrong_outside_is_one_sentence(
    error: BaseException,
    code: int,
    sentence: str,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    def fail(_arguments: list[str]) -> None:
        raise error

    monkeypatch.setattr(start, "start", fail)
    assert start.main([]) == code
    assert capsys.readouterr().err == sentence


@pytest.mark.skipif(os.name != "posix", reason="elsewhere the program runs beside the script")
def test_the_program_takes_the_scripts_place_with_its_variables(checkout: Path) -> None:
    code = "import start; start.hand_over(['sh', '-c', 'echo $COLOUR; exit 7'], {'COLOUR': 'rust', 'PATH': '/bin'})"
    run = subprocess.run(
        [sys.executable, "-c", code], cwd=checkout / "packaging", capture_output=True, text=True, check=False
    )
    assert (run.returncode, run.stdout) == (7, "rust\n")


@pytest.mark.parametrize(("argument", "code"), [("--help", 0), ("paint", 2)])
def test_help_and_mistakes_install_nothing(checkout: Path, tmp_path: Path, argument: str, code: int) -> None:
    script = checkout / "packaging" / "start.py"
    run = subprocess.run(
        [sys.executable, str(script), argument], cwd=tmp_path, capture_output=True, text=True, check=False
    )
    assert run.returncode == code
    assert "demo" in run.stdout + run.stderr
    assert list(tmp_path.iterdir()) == []
