"""Somebody before a window on a board whose coupons can be compared."""

from __future__ import annotations

from pathlib import Path

import pytest
from comparing import Comparer
from photographed_boards import photographed
from PySide6.QtGui import QPointingDevice
from PySide6.QtTest import QTest


@pytest.fixture
def quay(tmp_path: Path) -> Path:
    """Four coupons C01 to C04, a photo in each of two weeks."""
    return photographed(tmp_path / "Quay")


@pytest.fixture
def comparer(sitting_at, quay) -> Comparer:
    return Comparer(sitting_at(quay))


@pytest.fixture(scope="session")
def touch_screen(qapp) -> QPointingDevice:
    return QTest.createTouchDevice()
