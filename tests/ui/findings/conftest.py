"""Somebody before the findings of a board."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from fence_board import compared_board
from window_driving import Desk, Person, settle


@pytest.fixture
def reading(desk: Desk, tmp_path: Path) -> Callable[..., Person]:
    """Sits somebody down before the findings of that board."""

    def sit() -> Person:
        person = desk.sit_down(compared_board(tmp_path / "Fence"))
        person.do("findings.show")
        settle(8)
        return person

    return sit
