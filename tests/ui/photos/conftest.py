"""Somebody before the photos of a measured board."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from measured_boards import measured_board
from window_driving import Desk, Person, settle

from rustboard.board.measured import Measurement


@pytest.fixture
def looking(desk: Desk, tmp_path: Path) -> Callable[..., Person]:
    """Sits somebody down before the photos of a board; measurements given take the place of the plain ones.

    Somebody who sees at once what the photos say, unless ``blind``.
    """

    def sit(*changed: Measurement, photos: int = 2, blind: bool = False) -> Person:
        desk.settings.hide_suggestion = blind
        person = desk.sit_down(measured_board(tmp_path / "Fence", *changed, photos=photos))
        person.do("photos.show")
        settle(8)
        return person

    return sit
