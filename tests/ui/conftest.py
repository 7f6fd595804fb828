"""A desk with the program's real windows on it, for the tests that drive them."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QCoreApplication, QEvent
from PySide6.QtWidgets import QApplication
from window_driving import Desk, Person, made_board, settle

from rustboard.support.settings import Settings
from rustboard.ui.start import make_application

# The platform without a screen says this of windows whatever they do.
OFFSCREEN = r"^This plugin does not support (propagateSizeHints|raise|grabbing the keyboard)"


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    here = Path(__file__).parent
    for item in items:
        if item.path.is_relative_to(here):
            item.add_marker(pytest.mark.qt_log_ignore(OFFSCREEN))


@pytest.fixture
def desk(qapp: QApplication, tmp_path: Path) -> Iterator[Desk]:
    """The program without windows; whatever is opened is closed at the end."""
    settings = Settings(scheme="light", boards_folder=str(tmp_path / "boards"), grader="Ann")
    make_application(settings)
    desk = Desk(settings)
    yield desk
    desk.close_all()
    settle()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    settle()


@pytest.fixture
def yard(tmp_path: Path) -> Path:
    """A board folder: 2 rows of 3, C01 to C04 in reading order, one inspection without grades."""
    return made_board(tmp_path / "Yard")


@pytest.fixture
def person(desk: Desk, yard: Path) -> Person:
    """Somebody before a window on that board."""
    return desk.sit_down(yard)


@pytest.fixture
def sitting_at(desk: Desk) -> Callable[[Path], Person]:
    """Sits somebody down before a window on a board folder."""
    return desk.sit_down
