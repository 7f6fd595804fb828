"""The spread between coupons treated alike."""

from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from rustboard.board.layout import Layout, Lot
from rustboard.board.model import Board, Coupon, Grading, Inspection
from rustboard.board.position import Position
from rustboard.board.record import BoardRecord
from rustboard.findings.spread import ASSUMED_SD, Spread, board_spread, pooled_spread, usable_spread

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


def in_columns(grades, **rules):
    """A board whose lots moved whole columns of one treatment, from rows of grades; treatments 1, 2, 1, 2, …"""
    columns = len(grades[0])
    found = board({1 + column % 2: [] for column in range(columns)})
    layout = {"seed": 7, "drain": "columns", "drawn_rows": len(grades), "drawn_columns": columns}
    layout["drawn_in_columns"] = True
    found.layouts = {1: Layout(key=1, **(layout | rules))}
    for row, line in enumerate(grades):
        for column, grade in enumerate(line):
            key = len(found.coupons) + 1
            found.coupons[key] = Coupon(f"C{key}", Position(row, column), 1 + column % 2, key=key)
            found.lots[key] = Lot(key, Position(row, column), key)
            found.current[key] = {1: Grading(1, key, 1, grade, "", None, "", "eye", "", "2026-03-02T09:00:00")}
    return found


def test_where_lots_moved_whole_columns_the_means_of_columns_are_what_is_treated_alike():
    # Means of columns 8 and 6 of the one treatment, 4 and 3 of the other: squares 2 and 0.5 with a degree each.
    found = board_spread(in_columns([[9, 5, 7, 4], [7, 3, 5, 2]]))
    assert found == Spread(pytest.approx((2.5 / 2) ** 0.5), 2, 2, ("b",), of_columns=2)


def test_one_column_each_shows_no_spread_between_columns():
    assert board_spread(in_columns([[9, 5], [7, 3]])) is None


def test_coupons_moved_since_count_in_the_column_of_their_lot():
    record = in_columns([[9, 5, 7, 4], [7, 3, 5, 2]])
    before = board_spread(record)
    record.coupons[1], record.coupons[3] = (
        replace(record.coupons[1], position=Position(0, 2)), replace(record.coupons[3], position=None)
    )  # fmt: skip
    assert board_spread(record) == before


def test_by_hand_and_without_lots_columns_mean_nothing():
    for rules in ({"method": "hand"}, {"seed": None}):
        found = board_spread(in_columns([[9, 5], [7, 3]], **rules))
        assert found == Spread(pytest.approx(2**0.5), 2, 2, ("b",))


def test_few_degrees_of_freedom_are_not_leaned_on():
    assert usable_spread(None) == Spread(ASSUMED_SD, 0)
    assert usable_spread(Spread(0.4, 4, 2, ("a",))) == Spread(ASSUMED_SD, 0, too_few=4)
    assert usable_spread(Spread(0.4, 5, 2, ("a",))) == Spread(0.4, 5, 2, ("a",))


def test_no_spread_is_smaller_than_that_of_rounding():
    # The variance of a uniform distribution over one grade is 1/12 (textbook value).
    assert usable_spread(Spread(0.0, 9, 2, ("a",))) == Spread(pytest.approx(0.288675, abs=1e-6), 9, 2, ("a",))


def test_boards_are_pooled_by_their_degrees_of_freedom():
    found = pooled_spread([Spread(1.0, 3, 2, ("a",)), Spread(0.5, 1, 1, ("b",))])
    assert found == Spread(pytest.approx((3.25 / 4) ** 0.5), 4, 3, ("a", "b"))
    columns = pooled_spread([Spread(1.0, 3, 2, ("a",), of_columns=3), Spread(0.5, 1, 1, ("b",))])
    assert (columns.degrees_of_freedom, columns.of_columns) == (4, 3)
    assert pooled_spread([]) is None
    assert pooled_spread([Spread(1.0, 0)]) is None
