"""A command line to try, and boards to try it on."""

from __future__ import annotations

import sys
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest
from command_line import GRADES, Finished, Rustboard, plan_text

from rustboard.app.main import run


@pytest.fixture
def rustboard(capsys: pytest.CaptureFixture[str]) -> Rustboard:
    """Run a command and return how it ended."""

    def command(*arguments: str | Path) -> Finished:
        capsys.readouterr()
        code = run([str(each) for each in arguments])
        return Finished(code, *capsys.readouterr())

    return command


@pytest.fixture
def board(tmp_path: Path, rustboard: Rustboard) -> Path:
    """A board of three coupons that nobody has graded."""
    plan = tmp_path / "plan.json"
    plan.write_text(plan_text(), encoding="utf-8")
    made = rustboard("new", tmp_path / "Yard fence", "--plan", plan)
    assert made.code == 0, made.err
    return tmp_path / "Yard fence"


@pytest.fixture
def graded_board(board: Path, tmp_path: Path, rustboard: Rustboard) -> Path:
    """The same board with five grades from two inspections."""
    grades = tmp_path / "typed.csv"
    grades.write_text(GRADES, encoding="utf-8")
    added = rustboard("add-grades", board, grades)
    assert added.code == 0, added.err
    return board


@pytest.fixture
def own_hooks() -> Iterator[None]:
    """Put the hooks for uncaught errors back as they were."""
    before = sys.excepthook, threading.excepthook
    yield
    sys.excepthook, threading.excepthook = before
