"""The import contracts hold, and each of them is seen to fail when it is broken on purpose."""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

import pytest

DOWNWARD = "Imports go downward only"
QT = "Qt only in ui and app"
PLAIN = "The domain is plain Python"
SCREENS = "Screens never touch database, image or workbook libraries themselves"
APART = "Screens do not import each other"
STORE = "Only operations, session and app open the store"
CYCLES = "No cycles anywhere"

LINT = "from importlinter.cli import lint_imports_command; lint_imports_command()"
OUTCOME = re.compile(r"^(.+?) (KEPT|BROKEN)$", re.MULTILINE)


@dataclass(frozen=True)
class Breach:
    """Modules that break one contract: path below ``rustboard/`` -> source.

    ``may_follow`` is a second contract that breaks as well as soon as the higher room uses the lower one.
    """

    contract: str
    modules: dict[str, str]
    may_follow: str = ""


BREACHES = {
    "a sibling room is seen": Breach(
        DOWNWARD, {"photo/offence.py": "import rustboard.report.leaf", "report/leaf.py": ""}
    ),
    "a higher room is seen": Breach(
        DOWNWARD, {"photo/offence.py": "import rustboard.app.leaf", "app/leaf.py": ""}, may_follow=CYCLES
    ),
    "a room has no place": Breach(DOWNWARD, {"garage/__init__.py": "", "garage/car.py": "import rustboard.board"}),
    "Qt in the scales": Breach(QT, {"scales/offence.py": "from PySide6 import QtCore"}),
    "pyqtgraph in the session": Breach(QT, {"session/offence.py": "def late():\n    import pyqtgraph"}),
    "numpy in the domain": Breach(PLAIN, {"board/offence.py": "import numpy.linalg"}),
    "a screen with its own database": Breach(SCREENS, {"ui/offence.py": "import sqlite3"}),
    "a screen that sees another": Breach(APART, {"ui/board/offence.py": "import rustboard.ui.grading.panel"}),
    "a screen that opens the store": Breach(STORE, {"ui/offence.py": "from rustboard.store import offered"}),
    "two modules that need each other": Breach(
        CYCLES,
        {"scales/first.py": "import rustboard.scales.second", "scales/second.py": "import rustboard.scales.first"},
    ),
}


@pytest.fixture
def copied_tree(checkout: Path, tmp_path: Path) -> Path:
    """The package's source and the contracts, to be broken."""
    shutil.copytree(checkout / "rustboard", tmp_path / "rustboard", ignore=_all_but_source)
    shutil.copy(checkout / "pyproject.toml", tmp_path)
    return tmp_path


def _all_but_source(folder: str, names: list[str]) -> list[str]:
    return [
        name
        for name in names
        if name == "__pycache__" or not (name.endswith(".py") or (Path(folder) / name).is_dir())
    ]


def lint(tree: Path) -> tuple[int, dict[str, str], str]:
    """Return exit code, outcome by contract, and everything said, of import-linter on the copy."""
    run = subprocess.run(
        [sys.executable, "-c", LINT, "--no-cache"], cwd=tree, capture_output=True, text=True, timeout=120, check=False
    )
    said = run.stdout + run.stderr
    return run.returncode, dict(OUTCOME.findall(said)), said


def test_the_untouched_source_keeps_every_contract(copied_tree: Path) -> None:
    code, outcomes, said = lint(copied_tree)
    assert code == 0, said
    assert outcomes == dict.fromkeys((DOWNWARD, QT, PLAIN, SCREENS, APART, STORE, CYCLES), "KEPT")


@pytest.mark.parametrize("breach", BREACHES.values(), ids=BREACHES.keys())
def test_a_breach_is_seen_by_exactly_its_contract(copied_tree: Path, breach: Breach) -> None:
    for name, source in breach.modules.items():
        file = copied_tree / "rustboard" / name
        file.parent.mkdir(exist_ok=True)
        file.write_text(f'"""Breaks a contract."""\n{source}\n', encoding="utf-8")
    code, outcomes, said = lint(copied_tree)
    broken = {name for name, outcome in outcomes.items() if outcome == "BROKEN"}
    assert code == 1, said
    assert broken - {breach.may_follow} == {breach.contract}, said
