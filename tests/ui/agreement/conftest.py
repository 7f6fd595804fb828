"""Somebody before the agreement of graders."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from contextlib import closing
from pathlib import Path

import pytest
from graded_blind import grade_blind
from photographed_boards import photographed
from PySide6.QtGui import QPointingDevice
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from window_driving import Desk, Person, made_board, settle

from rustboard.session.session import Session

TWO = {
    "Ann": {"C01": 9, "C02": 7, "C03": 6, "C04": 2},
    "Bo": {"C01": 9, "C02": 6, "C03": 2, "C04": 2},
}
"""They differ on C03 by 4 and on C02 by 1; the board gets the worse of both."""

Grades = Mapping[str, Mapping[str, int | tuple[int, int]]]


@pytest.fixture
def comparing(desk: Desk, tmp_path: Path) -> Callable[..., Person]:
    """Sits somebody down before the agreement of a board with four coupons, graded blind and revealed."""

    def sit(grades: Grades = TWO, *, photos: bool = False, board: Path | None = None) -> Person:
        folder = board or tmp_path / "Fence"
        if board is None:
            photographed(folder) if photos else made_board(folder)
        with closing(Session(folder)) as session:
            grade_blind(session, 1, grades, photo=1 if photos else None)
        person = desk.sit_down(folder)
        person.do("inspection.agreement")
        settle(8)
        return person

    return sit


@pytest.fixture(scope="session")
def finger(qapp: QApplication) -> QPointingDevice:
    """A touch screen."""
    return QTest.createTouchDevice()
