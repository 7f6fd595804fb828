"""A small board with a gap, and its timeline in a window."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from rustboard.board.model import Board, Coupon, Inspection, Treatment
from rustboard.board.position import Position
from rustboard.operations.coupons import add_coupon
from rustboard.operations.grading import GivenGrade, grade_coupon
from rustboard.operations.inspections import add_inspection
from rustboard.operations.treatments import add_treatment
from rustboard.session.session import Session
from rustboard.store.board_store import create_board
from rustboard.store.tables import BoardRow

START = datetime(2026, 3, 2, 9)
DAYS = (0, 7, 14, 28)
GRADES: dict[str, tuple[int | None, ...]] = {
    "C01": (10, 10, 9, 9),
    "C02": (10, 9, None, 7),
    "C03": (10, 8, 6, 3),
    "C04": (10, 9, 7, 5),
}
"""Grades at the inspections; C01 and C02 have treatment T1, C03 and C04 T2."""


@pytest.fixture
def empty_board(tmp_path: Path) -> Iterator[Session]:
    """A board with nothing on it."""
    create_board(tmp_path / "Yard", BoardRow(Board("Yard", rows=2, columns=2, started=START)))
    session = Session(tmp_path / "Yard", clock=lambda: START)
    yield session
    session.close()


@pytest.fixture
def add_coupons(empty_board: Session) -> Callable[[], None]:
    """Puts four coupons of two treatments on the board."""

    def add() -> None:
        for number, name in ((1, "beeswax blend"), (2, "linseed oil")):
            empty_board.do(add_treatment, Treatment(f"T{number}", name))
        for number, id_ in enumerate(GRADES):
            coupon = Coupon(id_, Position(*divmod(number, 2)), treatment=1 + number // 2)
            empty_board.do(add_coupon, coupon)

    return add


@pytest.fixture
def graded_board(empty_board: Session, add_coupons: Callable[[], None]) -> Session:
    """A board with the grades above."""
    add_coupons()
    for at, day in enumerate(DAYS):
        empty_board.do(add_inspection, Inspection(START + timedelta(days=day)))
        for coupon, grades in enumerate(GRADES.values(), start=1):
            grade = grades[at]
            if grade is not None:
                empty_board.do(grade_coupon, GivenGrade(coupon, at + 1, grade, "S" if grade < 10 else ""))
    return empty_board
