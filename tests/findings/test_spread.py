"""The spread between coupons treated alike."""

from datetime import datetime, timedelta

import pytest

from rustboard.board.model import Board, Coupon, Grading, Inspection
from rustboard.board.record import BoardRecord
from rustboard.findings.spread import Spread, board_spread, pooled_spread

START = datetime(2026, 3, 2, 9)


def board(*inspections, name="b"):
    """A board from its inspections, each the grades of coupons ``{treatment: [grade or None, ...]}``."""
    coupons, current = {}, {}
    for treatment, grades in inspections[0].items():
        for place in range(len(grades)):
            key = 100 * treatment + place
            coupons[key] = Coupon(f"C{key}", treatment=treatment or None, key=key)
    for number, graded in enumerate(inspections, 1):
        for treatment, grades in graded.items():
            for place, grade in enumerate(grades):
                if grade is not None:
                    key = 100 * treatment + place
                    current.setdefault(key, {})[number] = Grading(
                        number, key, number, grade, "", None, "", "eye", "", "2026-03-02T09:00:00"
                    )
    visits = {
        number: Inspection(START + timedelta(days=number), key=number) for number in range(1, len(inspections) + 1)
    }
    return BoardRecord(Board(name), coupons=coupons, inspections=visits, current=current)


def test_the_spread_is_pooled_over_treatments():
    # By hand: squares 2 of (7, 8, 9) with 2 degrees, 0.5 of (5, 6) with 1: sqrt(2.5 / 3).
    found = board_spread(board({1: [7, 8, 9], 2: [5, 6]}))
    assert found == Spread(pytest.approx((2.5 / 3) ** 0.5), 3, 2, ("b",))


def test_of_each_treatment_the_last_inspection_with_two_grades_counts():
    found = board_spread(board({1: [9, 7], 2: [8, 8]}, {1: [5, 6], 2: [4, None]}, {1: [3, None], 2: [None, None]}))
    assert found.treatments == 2
    assert found.sd == pytest.approx((0.5 / 2) ** 0.5)  # (5, 6) and (8, 8)


def test_treatments_at_the_ends_of_the_scale_show_no_spread():
    found = board_spread(board({1: [10, 10, 10], 2: [0, 0], 3: [10, 9], 4: [5, 5]}))
    assert found.treatments == 2
    assert found.degrees_of_freedom == 2
    assert board_spread(board({1: [10, 10], 2: [0, 0]})) is None


def test_single_coupons_and_coupons_without_treatment_show_none():
    assert board_spread(board({0: [3, 9, 1], 1: [5], 2: [7, None]})) is None
    assert board_spread(BoardRecord(Board("b"))) is None


def test_boards_are_pooled_by_their_degrees_of_freedom():
    found = pooled_spread([Spread(1.0, 3, 2, ("a",)), Spread(0.5, 1, 1, ("b",))])
    assert found == Spread(pytest.approx((3.25 / 4) ** 0.5), 4, 3, ("a", "b"))
    assert pooled_spread([]) is None
    assert pooled_spread([Spread(1.0, 0)]) is None
