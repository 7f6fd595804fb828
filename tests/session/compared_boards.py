"""Boards whose coupons can be compared: an inspection with a placed photo, and somebody who chooses."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from session_boards import NOW, opened

from rustboard.board.model import Board, Coupon, Inspection, Photo, Treatment
from rustboard.board.pair_choice import Rustier
from rustboard.board.position import Position
from rustboard.operations.coupons import add_coupon
from rustboard.operations.grading import GivenGrade, grade_coupon
from rustboard.operations.inspections import add_inspection
from rustboard.operations.photos import add_photo
from rustboard.operations.side_by_side import GivenChoice, choose
from rustboard.operations.treatments import add_treatment
from rustboard.session.nameless_pictures import coupons_shown
from rustboard.session.session import Session
from rustboard.session.side_by_side import Comparison, next_pair, pair_request
from rustboard.store.board_store import create_board
from rustboard.store.photos import keep_photo
from rustboard.store.tables import BoardRow

CELL_MM = 50.0
ONE_PX_A_MM = (1.0, 0.0, 0.0, 0.0, 1.0, 0.0, 0.0, 0.0, 1.0)
COLUMNS = 8

Answer = Callable[[int, int], Rustier]


def by_key(left: int, right: int) -> Rustier:
    """Choose the coupon with the higher key: coupon 1 is the best of all."""
    return "left" if left > right else "right"


def comparable(folder: Path, coupons: int = 6, *, placed: bool = True, wide_px: int = 400) -> Session:
    """Make a board, one inspection and its photo; return it open. ``wide_px``: how much of the board it shows."""
    rows = -(-coupons // COLUMNS)
    size = {"width_mm": COLUMNS * CELL_MM, "height_mm": rows * CELL_MM}
    create_board(folder, BoardRow(Board("Quay", rows=rows, columns=COLUMNS, **size)))
    session = opened(folder)
    session.do(add_treatment, Treatment("T1", "hot wax"))
    for number in range(coupons):
        session.do(add_coupon, Coupon(f"C{number + 1}", Position(*divmod(number, COLUMNS)), 1))
    session.do(add_inspection, Inspection(NOW, "Ann"))
    file, digest = keep_photo(folder, "IMG_1.png", b"a picture", NOW)
    place = ONE_PX_A_MM if placed else None
    session.do(add_photo, Photo("IMG_1.png", file, digest, wide_px, round(rows * CELL_MM), NOW, 1, place))
    return session


def comparison(session: Session, grader: str = "Ann") -> Comparison:
    return Comparison(1, 1, coupons_shown(session.record, session.record.photos[1]), grader)


def compare(session: Session, of: Comparison, most: int, answer: Answer = by_key) -> list[tuple[int, int]]:
    """Choose as the program asks, at most so often; return the pairs that were asked."""
    asked = []
    while len(asked) < most and (pair := next_pair(pair_request(session.record, of))) is not None:
        session.do(choose, GivenChoice(of.inspection, of.grader, *pair, answer(*pair)))
        asked.append(tuple(pair))
    return asked


def graded_as(session: Session, grades: dict[int, int]) -> None:
    for coupon, grade in grades.items():
        session.do(grade_coupon, GivenGrade(coupon, 1, grade, grader="Ann"))
