"""Everything below the screens works on a computer that has no Qt."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

BLOCK_QT = """
import importlib.abc, sys

class NoWindowLibrary(importlib.abc.MetaPathFinder):
    def find_spec(self, name, path=None, target=None):
        if name.split(".")[0] in {"PySide6", "shiboken6", "pyqtgraph"}:
            raise ModuleNotFoundError(f"{name} is not there", name=name)

sys.meta_path.insert(0, NoWindowLibrary())
"""

IMPORT_ALL = """
import importlib, json, pkgutil, rustboard

def modules(package):
    for found in pkgutil.iter_modules(package.__path__, package.__name__ + "."):
        if found.name in {"rustboard.ui", "rustboard.app", "rustboard.__main__"}:
            continue
        module = importlib.import_module(found.name)
        yield found.name
        if found.ispkg:
            yield from modules(module)

print(json.dumps(list(modules(rustboard))))
"""

RUN = """
from rustboard.app.main import run
sys.exit(run(sys.argv[1:]))
"""

PLAN = {
    "board": {"name": "Yard fence", "rows": 1, "columns": 2, "started": "2026-03-02T09:00"},
    "treatments": [{"id": "T1", "name": "hot beeswax blend", "family": "wax"}],
    "coupons": [
        {"id": "C01", "position": "A1", "treatment": "T1", "role": "test"},
        {"id": "C02", "position": "A2", "role": "control"},
    ],
}
GRADES = "date,coupon,grade,distribution\n2026-03-09T09:00,C01,9,S\n2026-03-09T09:00,C02,4,G\n"


def without_qt(code: str, *arguments: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-c", BLOCK_QT + code, *arguments], capture_output=True, text=True, timeout=120, check=False
    )


@pytest.fixture
def graded_board(tmp_path: Path) -> Path:
    """A board made and graded by the commands."""
    plan, grades, board = tmp_path / "plan.json", tmp_path / "grades.csv", tmp_path / "Yard fence"
    plan.write_text(json.dumps(PLAN), encoding="utf-8")
    grades.write_text(GRADES, encoding="utf-8")
    for arguments in (["new", str(board), "--plan", str(plan)], ["add-grades", str(board), str(grades)]):
        made = without_qt(RUN, *arguments)
        assert made.returncode == 0, made.stdout + made.stderr
    return board


def test_the_blocker_blocks() -> None:
    for name in ("PySide6.QtCore", "shiboken6", "pyqtgraph"):
        assert "ModuleNotFoundError" in without_qt(f"import {name}").stderr


def test_every_module_below_the_screens_can_be_imported() -> None:
    imported = without_qt(IMPORT_ALL)
    assert imported.returncode == 0, imported.stderr
    rooms = {name.split(".")[1] for name in json.loads(imported.stdout)}
    assert rooms >= {"session", "operations", "store", "photo", "report", "scales", "board", "support"}


def test_a_board_is_made_graded_and_read_back(graded_board: Path) -> None:
    read = without_qt(RUN, "grades", str(graded_board), "--json")
    assert read.returncode == 0, read.stderr
    graded = {row["coupon"]: (row["position"], row["grade"], row["distribution"]) for row in json.loads(read.stdout)}
    assert graded == {"C01": ("A1", 9, "S"), "C02": ("A2", 4, "G")}


def test_a_workbook_is_written(graded_board: Path, tmp_path: Path) -> None:
    workbook = tmp_path / "board.xlsx"
    written = without_qt(RUN, "report", str(graded_board), "-o", str(workbook))
    assert written.returncode == 0, written.stderr
    assert workbook.read_bytes()[:2] == b"PK"


def test_a_board_is_checked(graded_board: Path) -> None:
    checked = without_qt(RUN, "check", str(graded_board), "--json")
    assert checked.returncode == 0, checked.stdout + checked.stderr
    json.loads(checked.stdout)


def test_a_board_is_packed_and_unpacked_without_it(graded_board: Path, tmp_path: Path) -> None:
    pack = tmp_path / "fence.rustboard-pack"
    for arguments in (("pack", str(graded_board), "-o", str(pack)), ("unpack", str(pack), "--into", str(tmp_path))):
        done = without_qt(RUN, *arguments)
        assert (done.returncode, done.stderr) == (0, "")
    assert (tmp_path / "Yard fence 2" / "board.rustboard").is_file()
