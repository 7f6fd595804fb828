"""Boards on disk, and a shelf that shows them at once."""

from __future__ import annotations

import io
from collections.abc import Callable, Iterator, Sequence
from contextlib import closing
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from rustboard.board.model import Board, Inspection, Photo, Plan, PlannedCoupon
from rustboard.board.position import Position
from rustboard.operations.grading import GivenGrade, grade_coupon
from rustboard.operations.inspections import add_inspection
from rustboard.operations.photos import add_photo
from rustboard.session.jobs import InlineExecutor
from rustboard.session.new_board import create_from_plan, folder_name
from rustboard.session.session import Session
from rustboard.store.photos import keep_photo
from rustboard.support.settings import Settings
from rustboard.ui.bridge import JobBridge
from rustboard.ui.shelf.screen import ShelfScreen
from rustboard.ui.theme import LIGHT

START = datetime(2026, 3, 2, 9, 0)
LATER = datetime(2026, 5, 1, 12, 0)
MakeBoard = Callable[..., Path]


@pytest.fixture
def settings(tmp_path: Path) -> Settings:
    (tmp_path / "boards").mkdir()
    return Settings(boards_folder=str(tmp_path / "boards"))


@pytest.fixture
def make_board(settings: Settings) -> MakeBoard:
    """Makes a board with one inspection: ``make_board(name, grades, day=0, photo=None)``."""

    def make(name: str, grades: Sequence[int] = (), *, day: int = 0, photo: str | None = None) -> Path:
        folder = settings.boards_path() / folder_name(name)
        coupons = tuple(PlannedCoupon(f"C{each}", Position(0, each)) for each in range(4))
        board = Board(name, 1, 4, width_mm=400, height_mm=200, started=START)
        create_from_plan(folder, Plan(board, (), coupons), clock=lambda: LATER)
        with closing(Session(folder, clock=lambda: LATER)) as session:
            if grades:
                session.do(add_inspection, Inspection(START + timedelta(days=day)))
            for coupon, grade in enumerate(grades, start=1):
                session.do(grade_coupon, GivenGrade(coupon, 1, grade))
            if photo is not None:
                session.do(add_photo, _kept_photo(folder, photo))
        return folder

    return make


def _kept_photo(folder: Path, colour: str) -> Photo:
    from PIL import Image

    stream = io.BytesIO()
    Image.new("RGB", (200, 100), colour).save(stream, "PNG")
    file, digest = keep_photo(folder, "board.png", stream.getvalue(), LATER)
    return Photo("board.png", file, digest, 200, 100, LATER, None, (0.5, 0, 0, 0, 0.5, 0, 0, 0, 1))


@pytest.fixture
def bridge(qapp: object) -> Iterator[JobBridge]:
    bridge = JobBridge(executor=InlineExecutor())
    yield bridge
    bridge.close()


@pytest.fixture
def shelf(qtbot: QtBot, settings: Settings, bridge: JobBridge) -> ShelfScreen:
    """A shelf of a usual window, not filled yet."""
    screen = ShelfScreen(settings, bridge, LIGHT)
    qtbot.addWidget(screen)
    screen.resize(900, 600)
    screen.show()
    return screen
