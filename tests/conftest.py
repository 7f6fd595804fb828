"""What every test gets: no screen, a home of its own, and an eye on what it leaves behind.

A test fails when it logs a warning or worse that it did not announce (``@pytest.mark.allow_log``), when a thread it
started is still running, or when a window it opened is still there.
"""

from __future__ import annotations

import logging
import os
import sys
import threading
from collections.abc import Generator
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")  # Qt reads it when the first application is made

import pytest
from hypothesis import settings

GRACE_SECONDS = 2.0
"""How long a thread that is about to end is waited for."""

# No deadline: on a machine shared with other work the time of one example says nothing.
settings.register_profile("ci", max_examples=50, deadline=None, print_blob=True)
settings.register_profile("thorough", max_examples=1_000, deadline=None, print_blob=True)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "ci"))


def pytest_configure(config: pytest.Config) -> None:
    config.addinivalue_line("markers", "allow_log: the test expects warnings in the log")
    config.addinivalue_line(
        "markers", "network: the test fetches packages; without a network it is skipped, not in CI"
    )


@pytest.fixture(scope="session")
def machine_environment() -> dict[str, str]:
    """The variables as the tests were started with: for subprocesses that need pip's own configuration."""
    return dict(os.environ)


@pytest.fixture(scope="session")
def checkout() -> Path:
    """The folder that holds pyproject.toml."""
    return Path(__file__).resolve().parent.parent


@pytest.fixture(autouse=True)
def own_home(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Settings, cache, log, boards and home of this test alone; nothing of the user's is read or written."""
    home = tmp_path_factory.mktemp("home")
    monkeypatch.setenv("RUSTBOARD_HOME", str(home / "rustboard"))
    # For libraries that look for a home by themselves.
    for name in ("HOME", "USERPROFILE", "APPDATA", "LOCALAPPDATA"):
        monkeypatch.setenv(name, str(home))
    for name in ("XDG_CONFIG_HOME", "XDG_CACHE_HOME", "XDG_DATA_HOME", "XDG_STATE_HOME"):
        monkeypatch.setenv(name, str(home / name.lower()))
    return home


class _Overheard(logging.Handler):
    """Keeps the records of warning level and above."""

    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.records: list[logging.LogRecord] = []

    def emit(self, record: logging.LogRecord) -> None:
        self.records.append(record)


def _listening(item: pytest.Item) -> Generator[None, object, object]:
    """Run one phase of a test and fail it for what it logged."""
    overheard = _Overheard()
    root = logging.getLogger()
    root.addHandler(overheard)
    try:
        result = yield
    finally:
        root.removeHandler(overheard)
    if overheard.records and item.get_closest_marker("allow_log") is None:
        lines = [f"{r.levelname} {r.name} ({r.filename}:{r.lineno}): {r.getMessage()}" for r in overheard.records]
        pytest.fail("unexpected log records:\n" + "\n".join(lines), pytrace=False)
    return result


@pytest.hookimpl(wrapper=True)
def pytest_runtest_setup(item: pytest.Item) -> Generator[None, object, object]:
    item.stash[_threads_before] = set(threading.enumerate())
    return (yield from _listening(item))


@pytest.hookimpl(wrapper=True)
def pytest_runtest_call(item: pytest.Item) -> Generator[None, object, object]:
    return (yield from _listening(item))


@pytest.hookimpl(wrapper=True)
def pytest_runtest_teardown(item: pytest.Item) -> Generator[None, object, object]:
    result = yield from _listening(item)
    left = [*_threads_left(item.stash[_threads_before]), *_windows_left()]
    if left:
        pytest.fail("left behind by the test:\n" + "\n".join(left), pytrace=False)
    return result


_threads_before = pytest.StashKey[set[threading.Thread]]()


def _threads_left(before: set[threading.Thread]) -> list[str]:
    """Name the threads that keep the program from ending."""
    left = [thread for thread in threading.enumerate() if thread not in before and not thread.daemon]
    for thread in left:
        thread.join(GRACE_SECONDS)
    return [f"thread {thread.name} running {_target(thread)}" for thread in left if thread.is_alive()]


def _target(thread: threading.Thread) -> str:
    code = getattr(getattr(thread, "_target", None), "__code__", None)
    return f"{code.co_qualname} ({code.co_filename}:{code.co_firstlineno})" if code else type(thread).__qualname__


def _windows_left() -> list[str]:
    """Name the windows still shown, and close them so that the next test does not suffer."""
    widgets = sys.modules.get("PySide6.QtWidgets")
    if widgets is None or widgets.QApplication.instance() is None:
        return []
    shown = [window for window in widgets.QApplication.topLevelWidgets() if window.isVisible()]
    names = [f"window {type(window).__qualname__} {window.windowTitle()!r}" for window in shown]
    for window in shown:
        window.close()
    return names
