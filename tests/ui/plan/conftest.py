"""The plan's panels in the usual colours and size of letters, whatever scheme another test left."""

from __future__ import annotations

import pytest
from PySide6.QtWidgets import QApplication

from rustboard.ui.theme import LIGHT, apply_scheme


@pytest.fixture(autouse=True)
def usual_letters(qapp: QApplication) -> None:
    """Dress the program as it is dressed most of the time."""
    apply_scheme(qapp, LIGHT)
