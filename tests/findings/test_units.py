"""What the lots moved as one, and between which units a comparison may exchange labels."""

import pytest

from rustboard.board.comparisons import Comparison, Level
from rustboard.board.drain import Hung
from rustboard.board.layout import Layout
from rustboard.board.position import Position
from rustboard.findings.exchange import EdgeLimits, exchange_of
from rustboard.findings.smallest_p import arrangements, smallest_p
from rustboard.findings.units import HungBoard, exchangeable, units_of


def board(*rows, incline=45.0, controls=(), **rules):
    """A board from its rows of treatments (digits; . = empty); coupons are numbered as one reads."""
    hung = []
    for row, line in enumerate(rows):
        for column, char in enumerate(line):
            if char != ".":
                hung.append(Hung(len(hung) + 1, int(char), Position(row, column)))
    roles = {each.coupon: "control" if each.treatment in controls else "test" for each in hung}
    rules.setdefault("fair_edges", False)
    return HungBoard(tuple(hung), roles, len(rows), len(rows[0]), Layout(**rules), incline)


def compared(where, a, b):
    """Compare two sets of treatments."""
    groups = [frozenset(each.coupon for each in where.hung if each.treatment in side) for side in (a, b)]
    return Comparison("pair", "a", "b", *groups, (Level("", *groups),))


def exchanges(where, a={1}, b={2}):  # noqa: B006 - never changed
    found = exchangeable(compared(where, a, b), where, units_of(where))
    return [exchange_of(each) for each in found]


def test_lots_within_rows_exchange_within_rows():
    assert arrangements(exchanges(board("1122", "2211", method="rows"))) == 36
    assert smallest_p(exchanges(board("12", "21", "12", method="rows"))) == pytest.approx(2 / 8)


def test_lots_over_the_whole_board_and_hanging_by_hand_exchange_over_the_whole_board():
    for method in ("complete", "hand"):
        assert smallest_p(exchanges(board("1122", "2211", method=method))) == pytest.approx(2 / 70)


def test_other_treatments_stay_where_they_are():
    assert arrangements(exchanges(board("1323", "2313", method="rows"))) == 4


def test_whole_columns_count_as_one():
    where = board("1212", "1212", "12.2", method="rows", drain="columns")
    assert [sorted(each.coupons) for each in units_of(where)] == [[1, 5, 9], [2, 6, 10], [3, 7], [4, 8, 11]]
    assert smallest_p(exchanges(where)) == pytest.approx(2 / 6)


def test_two_treatments_in_one_column_are_two_units_of_it():
    where = board("12", "21", method="complete", drain="columns")
    assert len(units_of(where)) == 4


def test_a_board_hung_by_hand_has_coupons_as_units_whatever_its_columns():
    assert len(units_of(board("12", "12", method="hand", drain="columns"))) == 4


def test_coupons_that_spacing_keeps_together_stay_where_they_are():
    # Columns 1 and 2: two coupons right under one another, both of one treatment. Columns 3 and 4: free to change.
    rows = ("1212", "12..", "....", "..21")
    assert arrangements(exchanges(board(*rows, method="complete", drain="spacing"))) == 6
    assert arrangements(exchanges(board(*rows, method="complete"))) == 70
    flat = board(*rows, method="complete", drain="spacing", incline=0.0)
    assert arrangements(exchanges(flat)) == 70


def test_fair_edges_of_whole_treatments_limit_the_exchange():
    # 3 rows of 4: two positions in the middle, one for each treatment.
    where = board("1212", "2121", "1212", method="complete", fair_edges=True)
    (found,) = exchangeable(compared(where, {1}, {2}), where, units_of(where))
    assert found.limits == EdgeLimits(5, 5, 5, 5)
    assert arrangements([exchange_of(found)]) == 252 * 2


def test_a_share_that_is_unfair_because_somebody_moved_a_coupon_still_counts():
    where = board("1212", "2112", "1221", method="complete", fair_edges=True)
    (found,) = exchangeable(compared(where, {1}, {2}), where, units_of(where))
    assert found.limits == EdgeLimits(4, 5, 5, 6)
    assert arrangements([exchange_of(found)]) == 252 * 2 + 210


def test_a_group_of_several_treatments_keeps_its_share_of_the_edges():
    where = board("1232", "3121", "1323", method="complete", fair_edges=True)
    (found,) = exchangeable(compared(where, {1, 3}, {2}), where, units_of(where))
    assert found.limits is None
    # At the edge 7 of the group and 3 of the other (C(10,3)), in the middle one of each (2).
    assert arrangements([exchange_of(found)]) == 120 * 2


def test_by_hand_nobody_spread_the_edges():
    where = board("1212", "2121", "1212", method="hand", fair_edges=True)
    assert arrangements(exchanges(where)) == 924


def test_levels_of_another_factor_keep_to_themselves():
    where = board("1234", "2143", method="complete")
    by = {key: frozenset(each.coupon for each in where.hung if each.treatment == key) for key in (1, 2, 3, 4)}
    levels = (Level("wax", by[1], by[2]), Level("oil", by[3], by[4]))
    comparison = Comparison("finish", "etched", "bright", by[1] | by[3], by[2] | by[4], levels)
    found = [exchange_of(each) for each in exchangeable(comparison, where, units_of(where))]
    assert [each.arrangements() for each in found] == [6, 6]
    assert smallest_p(found) == pytest.approx(2 / 36)
