"""Boards on disk that share treatments, for tests of several boards together."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from contextlib import closing
from datetime import datetime, timedelta
from pathlib import Path

from rustboard.board.model import Board, Inspection, Plan, PlannedCoupon, Treatment
from rustboard.board.position import Position
from rustboard.operations.grading import GivenGrade, grade_coupon
from rustboard.operations.inspections import add_inspection
from rustboard.session.new_board import create_from_plan
from rustboard.session.session import Session

FIRST = datetime(2026, 3, 2, 9, 0)
LATER = datetime(2026, 9, 1, 12, 0)

WALL = {"hot wax": [(10, 10, 9), (10, 9, 8), (10, 9, 9)], "oil": [(9, 8, 6), (9, 7, 7), (10, 8, 6)],
        "bare": [(7, 5, 3), (8, 4, 4), (7, 5, 3)]}  # fmt: skip
YARD = {"hot wax": [(10, 9, 9), (10, 9, 8), (10, 10, 8)], "varnish": [(10, 9, 7), (9, 8, 6), (10, 8, 7)],
        "oil": [(9, 8, 7), (9, 6, 6), (10, 8, 6)], "bare": [(8, 6, 4), (8, 5, 3), (7, 5, 4)]}  # fmt: skip
ROOF = {"wax, brushed on": [(10, 9, 8), (10, 10, 9), (10, 9, 9)], "bare": [(7, 4, 2), (8, 5, 3), (7, 4, 2)]}
PROTECTANTS = {"hot wax": "beeswax blend", "wax, brushed on": "Beeswax blend", "oil": "linseed oil",
               "varnish": "clear varnish"}  # fmt: skip


def later() -> datetime:
    return LATER


def put_board(
    folder: Path,
    name: str,
    histories: Mapping[str, Sequence[Sequence[int | None]]],
    *,
    days: Sequence[int] = (7, 21, 42),
    first: datetime = FIRST,
    site: str = "",
) -> Path:
    """Make a board: a row of coupons for each treatment, with a grade for every inspection; ``bare``: controls."""
    wide = max(map(len, histories.values()))
    treatments = tuple(
        Treatment(f"T{number}", title, protectant=PROTECTANTS.get(title, ""))
        for number, title in enumerate(histories, 1)
    )
    coupons = tuple(
        PlannedCoupon(
            f"C{row * wide + column + 1:02}", Position(row, column), f"T{row + 1}",
            "control" if title == "bare" else "test",
        )
        for row, (title, given) in enumerate(histories.items())
        for column in range(len(given))
    )  # fmt: skip
    board = Board(name, len(histories), wide, width_mm=700, height_mm=400, started=first, site=site)
    create_from_plan(folder, Plan(board, treatments, coupons), clock=later)
    with closing(Session(folder, clock=later)) as session:
        keys = [each.key for each in session.record.coupons_in_order()]
        grades = [given for histories_of in histories.values() for given in histories_of]
        for number, day in enumerate(days):
            at = first + timedelta(days=day)
            session.do(add_inspection, Inspection(at))
            inspection = next(each.key for each in session.record.inspections.values() if each.at == at)
            for coupon, given in zip(keys, grades, strict=True):
                grade = given[number] if number < len(given) else None
                if grade is not None:
                    session.do(grade_coupon, GivenGrade(coupon, inspection, grade))
    return folder


def three_boards(boards: Path) -> tuple[Path, ...]:
    """Make three boards inside a folder."""
    boards.mkdir(parents=True, exist_ok=True)
    return (
        put_board(boards / "wall", "Harbour wall", WALL, site="harbour"),
        put_board(boards / "yard", "Back yard", YARD, days=(7, 21, 60), site="yard"),
        put_board(boards / "roof", "Roof", ROOF, site="roof"),
    )
