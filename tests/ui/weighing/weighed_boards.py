"""A board with weighed coupons, for the tests of their screens."""

from __future__ import annotations

from datetime import datetime, timedelta

from rustboard.board.measured import ExcludedArea
from rustboard.board.model import Board, Coupon, Treatment
from rustboard.board.position import Position
from rustboard.board.record import BoardRecord
from rustboard.board.weather import Site
from rustboard.board.weighing import Weighing

BEGAN = datetime(2025, 3, 1, 9)
NOW = datetime(2026, 3, 2, 10, 30)
SHEET = ((10.0, 20.0), (60.0, 20.0), (60.0, 120.0), (10.0, 120.0))
HOLE = ((20.0, 5.0), (24.0, 5.0), (24.0, 9.0), (20.0, 9.0))


def weighing(coupon: int, losses: tuple[float, ...], *, bare: bool = True, **fields: object) -> Weighing:
    """Return a coupon of 80 g that lost so much after each cleaning, 365 days on the board."""
    values = {
        "exposed_from": None,
        "exposed_to": BEGAN + timedelta(days=365),
        "before_g": 80.0,
        "after_g": tuple(round(80 - each, 4) for each in losses),
        "blank_before_g": 79.5,
        "blank_after_g": tuple(round(79.5 - 0.005 * number, 4) for number in range(1, len(losses) + 1)),
        "thickness_mm": 2.0,
        "area_cm2": None,
        "masked_cm2": 0.0,
        "density_g_cm3": 7.86,
        "bare": bare,
        "pits": None,
        "pits_on_cm2": None,
        "pit_openings_mm2": (),
        "pit_depths_um": (),
        "note": "",
    }
    return Weighing(coupon, coupon, recorded="2026-03-02T09:00:00", **(values | fields))  # type: ignore[arg-type]


def weighed_board() -> BoardRecord:
    """Return a board of six coupons: three bare ones and two waxed ones weighed, the last not."""
    return BoardRecord(
        Board("Harbour wall", 2, 3, started=BEGAN),
        treatments={1: Treatment("T0", "bare control", key=1), 2: Treatment("T1", "hot beeswax blend", key=2)},
        coupons={
            key: Coupon(
                f"C0{key}", Position((key - 1) // 3, (key - 1) % 3), 1 if key < 4 else 2, outline_mm=SHEET, key=key
            )
            for key in range(1, 7)
        },
        excluded_areas={1: ExcludedArea(1, "hole", HOLE, 1)},
        sites={1: Site(sulphur_dioxide=10.0, chloride=25.0)},
        weighings={
            1: weighing(
                1,
                (0.8, 1.6, 2.1, 2.11, 2.12, 2.13),
                pits=12,
                pits_on_cm2=50.0,
                pit_openings_mm2=(0.4, 0.6),
                pit_depths_um=(80.0, 120.0, 95.0),
            ),
            2: weighing(2, (0.9, 1.8, 2.31, 2.32, 2.33, 2.34)),
            3: weighing(3, (1.0, 1.9, 2.0, 2.01)),
            4: weighing(4, (0.05, 0.11, 0.14, 0.145, 0.15), bare=False),
            5: weighing(5, (0.2,), bare=False, thickness_mm=None, blank_before_g=None, blank_after_g=()),
        },
    )
