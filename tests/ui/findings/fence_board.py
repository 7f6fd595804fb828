"""A board with something to conclude from."""

from __future__ import annotations

from contextlib import closing
from dataclasses import replace
from pathlib import Path

from window_driving import graded, made_board

from rustboard.board.model import Treatment
from rustboard.operations.coupons import edit_coupon
from rustboard.operations.treatments import add_treatment
from rustboard.session.session import Session


def compared_board(folder: Path) -> Path:
    """Three coupons of beeswax that stay at 9 or 8, three of oil that fall to 4 or 3, three controls that rust."""
    made_board(folder, coupons=9, inspections=2, rows=3, columns=3)
    with closing(Session(folder)) as session:
        session.do(add_treatment, Treatment("T2", "oil", cost_per_m2=2.0, minutes_per_m2=10.0))
        for number, coupon in enumerate(list(session.record.coupons.values())):
            changed = replace(
                coupon, treatment=(1, 2, None)[number % 3], role=("test", "test", "control")[number % 3]
            )
            session.do(edit_coupon, changed)
    graded(folder, 1, {f"C{number:02}": 10 for number in range(1, 10)})
    last = {1: 9, 2: 4, 3: 1, 4: 8, 5: 3, 6: 0, 7: 9, 8: 4, 9: 1}
    return graded(folder, 2, {f"C{number:02}": grade for number, grade in last.items()})
