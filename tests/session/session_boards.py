"""Open boards for the tests of the session."""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path

from rustboard.board.model import Board, Coupon, Inspection, Treatment
from rustboard.board.position import Position
from rustboard.operations.coupons import add_coupon
from rustboard.operations.inspections import add_inspection
from rustboard.operations.treatments import add_treatment
from rustboard.session.session import Session
from rustboard.store.board_store import create_board
from rustboard.store.tables import BoardRow

NOW = datetime(2026, 3, 2, 9)


def still() -> datetime:
    """A clock that stands still."""
    return NOW


def opened(folder: Path, **more) -> Session:
    return Session(folder, who="tester", clock=still, **more)


def prepared(folder: Path, *, coupons: int = 3, inspections: int = 2) -> Session:
    """Make a board with a treatment, coupons in row A and weekly inspections; return it open."""
    create_board(folder, BoardRow(Board("Harbour wall")))
    session = opened(folder)
    session.do(add_treatment, Treatment("T1"))
    for number in range(coupons):
        session.do(add_coupon, Coupon(f"C{number + 1}", Position(0, number), 1))
    for number in range(inspections):
        session.do(add_inspection, Inspection(NOW + timedelta(days=7 * number)))
    return session
