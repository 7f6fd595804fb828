"""Boards on disk for the tests of the shelf."""

from __future__ import annotations

import hashlib
import io
from collections.abc import Sequence
from contextlib import closing
from datetime import datetime, timedelta
from pathlib import Path

from rustboard.board.model import Board, Inspection, Photo, Plan, PlannedCoupon, Treatment
from rustboard.board.position import Position
from rustboard.operations.grading import GivenGrade, grade_coupon
from rustboard.operations.inspections import add_inspection
from rustboard.operations.photos import add_photo
from rustboard.session.new_board import create_from_plan
from rustboard.session.session import Session
from rustboard.store.photos import keep_photo

START = datetime(2026, 3, 2, 9, 0)
LATER = datetime(2026, 5, 1, 12, 0)


def clock() -> datetime:
    return LATER


def plan(name: str, rows: int = 2, columns: int = 3, *, started: datetime | None = START) -> Plan:
    coupons = tuple(
        PlannedCoupon(f"C{row * columns + column + 1:02}", Position(row, column), "T1")
        for row in range(rows)
        for column in range(columns)
    )
    board = Board(name, rows, columns, width_mm=700, height_mm=400, started=started, site="harbour wall")
    return Plan(board, (Treatment("T1", "hot beeswax blend"),), coupons)


def make_board(
    folder: Path,
    name: str,
    gradings: Sequence[Sequence[int | None]] = (),
    *,
    first: datetime = START,
    rows: int = 2,
    columns: int = 3,
) -> Path:
    """Make a board; each of ``gradings`` is one inspection a week later: a grade a coupon, None = not graded."""
    create_from_plan(folder, plan(name, rows, columns, started=first), clock=clock)
    with closing(Session(folder, clock=clock)) as session:
        coupons = [each.key for each in session.record.coupons_in_order()]
        for week, grades in enumerate(gradings):
            at = first + timedelta(weeks=week)
            session.do(add_inspection, Inspection(at))
            inspection = next(each.key for each in session.record.inspections.values() if each.at == at)
            for coupon, grade in zip(coupons, grades, strict=False):
                if grade is not None:
                    session.do(grade_coupon, GivenGrade(coupon, inspection, grade))
    return folder


def add_picture(folder: Path, *, colour: tuple[int, int, int] = (150, 75, 30)) -> Path:
    """Put a placed photo of the whole board into a board folder; return the photo's path."""
    from PIL import Image

    stream = io.BytesIO()
    Image.new("RGB", (350, 200), colour).save(stream, "PNG")
    file, digest = keep_photo(folder, "board.png", stream.getvalue(), LATER)
    assert digest == hashlib.sha256(stream.getvalue()).hexdigest()
    placed = (0.5, 0.0, 0.0, 0.0, 0.5, 0.0, 0.0, 0.0, 1.0)
    with closing(Session(folder, clock=clock)) as session:
        session.do(add_photo, Photo("board.png", file, digest, 350, 200, LATER, None, placed))
    return folder / "photos" / file
