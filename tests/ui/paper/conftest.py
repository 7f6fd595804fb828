"""The application that fonts need, and boards to print."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication

sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "report"))  # boards for the tests of the report


@pytest.fixture(autouse=True)
def application(qapp: QApplication) -> QApplication:
    """Fonts are there only with an application."""
    return qapp
