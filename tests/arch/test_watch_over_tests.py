"""The watch that tests/conftest.py keeps over every test, tried on tests that misbehave."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

import pytest

MISBEHAVING = """
import logging, os, threading, time
from pathlib import Path
import pytest

def test_warns():
    logging.getLogger("rustboard.store").warning("disk is slow")

@pytest.mark.allow_log
def test_warns_as_announced():
    logging.getLogger("rustboard.store").warning("disk is slow")

def test_tells():
    logging.getLogger("rustboard.store").info("opened")

@pytest.fixture
def warning_fixture():
    logging.error("early")

def test_warns_while_set_up(warning_fixture):
    pass

def test_leaves_a_thread():
    threading.Thread(target=time.sleep, args=(3,), name="straggler").start()

def test_ends_its_thread():
    threading.Thread(target=time.sleep, args=(0.2,)).start()

def test_leaves_a_window(qapp):
    from PySide6.QtWidgets import QWidget
    global kept
    kept = QWidget()
    kept.setWindowTitle("forgotten")
    kept.show()

def test_closes_its_window(qtbot):
    from PySide6.QtWidgets import QWidget
    widget = QWidget()
    qtbot.addWidget(widget)
    widget.show()

def test_has_a_home_of_its_own(own_home):
    assert Path.home() == own_home
    assert Path(os.environ["RUSTBOARD_HOME"]).parent == own_home
    assert os.environ["QT_QPA_PLATFORM"] == "offscreen"
"""
OUTCOMES = {
    "test_warns": "FAILED",
    "test_warns_as_announced": "PASSED",
    "test_tells": "PASSED",
    "test_warns_while_set_up": "ERROR",
    "test_leaves_a_thread": "ERROR",
    "test_ends_its_thread": "PASSED",
    "test_leaves_a_window": "ERROR",
    "test_closes_its_window": "PASSED",
    "test_has_a_home_of_its_own": "PASSED",
}


@pytest.fixture(scope="module")
def report(checkout: Path, machine_environment: dict[str, str], tmp_path_factory: pytest.TempPathFactory) -> str:
    """What pytest says about the misbehaving tests."""
    folder = tmp_path_factory.mktemp("misbehaving")
    shutil.copy(checkout / "tests" / "conftest.py", folder)
    (folder / "test_misbehaving.py").write_text(MISBEHAVING, encoding="utf-8")
    command = [
        sys.executable,
        "-m",
        "pytest",
        "-v",
        "--strict-markers",
        "-p",
        "no:cacheprovider",
        "-p",
        "no:randomly",
    ]
    environment = {**machine_environment, "QT_QPA_PLATFORM": "offscreen", "PYTEST_ADDOPTS": ""}
    run = subprocess.run(
        command, cwd=folder, env=environment, capture_output=True, text=True, timeout=120, check=False
    )
    return run.stdout + run.stderr


@pytest.mark.parametrize(("name", "outcome"), OUTCOMES.items())
def test_a_test_is_judged_by_what_it_leaves_behind(report: str, name: str, outcome: str) -> None:
    lines = [line for line in report.splitlines() if f"::{name} " in f"{line} "]
    assert any(f" {outcome}" in f" {line}" for line in lines), report
    if outcome == "PASSED":
        assert not any("ERROR" in line or "FAILED" in line for line in lines), report


def test_the_culprit_is_named(report: str) -> None:
    assert "WARNING rustboard.store (test_misbehaving.py:7): disk is slow" in report
    assert "thread straggler running" in report
    assert "window QWidget 'forgotten'" in report
