"""What the lots moved as one, and between which units a comparison may exchange labels."""

from dataclasses import replace

import pytest

from rustboard.board.comparisons import Comparison, Level
from rustboard.board.drain import Hung
from rustboard.board.layout import Layout
from rustboard.board.position import Position
from rustboard.findings.exchange import EdgeLimits, exchange_of
from rustboard.findings.smallest_p import arrangements, smallest_p
from rustboard.findings.units import Exchanges, HungBoard, drawn_units, hanging_units


def board(*rows, controls=(), **rules):
    """A board from its rows of treatments (digits; . = empty); coupons are numbered as one reads."""
    hung = []
    for row, line in enumerate(rows):
        for column, char in enumerate(line):
            if char != ".":
                hung.append(Hung(len(hung) + 1, int(char), Position(row, column)))
    roles = {each.coupon: "control" if each.treatment in controls else "test" for each in hung}
    rules.setdefault("fair_edges", False)
    return HungBoard(tuple(hung), tuple(hung), roles, len(rows), len(rows[0]), Layout(**rules))


def compared(where, a, b):
    """Compare two sets of treatments."""
    groups = [frozenset(each.coupon for each in where.hung if each.treatment in side) for side in (a, b)]
    return Comparison("pair", "a", "b", *groups, (Level("", *groups),))


def exchanges(where, a={1}, b={2}):  # noqa: B006 - never changed
    found = Exchanges(where).of(compared(where, a, b))
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
    where = board("1212", "1212", "1212", method="rows", drain="columns")
    assert [sorted(each.coupons) for each in drawn_units(where)] == [[1, 5, 9], [2, 6, 10], [3, 7, 11], [4, 8, 12]]
    assert smallest_p(exchanges(where)) == pytest.approx(2 / 6)


def test_columns_with_unequal_numbers_of_coupons_do_not_change_places():
    where = board("1212", "1212", "12.2", method="rows", drain="columns")
    assert arrangements(exchanges(where)) == 3


def test_columns_that_several_treatments_share_were_not_drawn_for_one_of_them():
    where = board("11212", "12122", method="complete", drain="columns")
    assert [len(each.coupons) for each in drawn_units(where)] == [2, 1, 1, 1, 1, 1, 1, 2]
    assert arrangements(exchanges(where)) == 2


def test_whole_columns_keep_the_edges_fair():
    # Outer columns: three at the edge. Inner ones: two. Fair is 5 of 6 each, so each treatment has one outer column.
    where = board("1212", "1212", "1212", method="rows", drain="columns", fair_edges=True)
    assert arrangements(exchanges(where)) == 4
    uneven = board("1221", "1221", "1221", method="rows", drain="columns", fair_edges=True)
    assert arrangements(exchanges(uneven)) == 6


def test_a_board_hung_by_hand_has_coupons_as_units_whatever_its_columns():
    assert len(drawn_units(board("12", "12", method="hand", drain="columns"))) == 4


def test_spacing_without_room_makes_columns_the_units():
    assert len(drawn_units(board("1212", "1212", method="complete", drain="spacing"))) == 4
    assert len(drawn_units(board("1212", "....", "1212", method="complete", drain="spacing"))) == 8


def test_fair_edges_of_whole_treatments_limit_the_exchange():
    # 3 rows of 4: two positions in the middle, one for each treatment.
    where = board("1212", "2121", "1212", method="complete", fair_edges=True)
    (found,) = Exchanges(where).of(compared(where, {1}, {2}))
    assert found.limits == EdgeLimits(5, 5, 5, 5)
    assert arrangements([exchange_of(found)]) == 252 * 2


def test_a_share_that_is_unfair_because_somebody_moved_a_coupon_still_counts():
    where = board("1212", "2112", "1221", method="complete", fair_edges=True)
    (found,) = Exchanges(where).of(compared(where, {1}, {2}))
    assert found.limits == EdgeLimits(5, 5, 5, 5, 2)
    assert arrangements([exchange_of(found)]) == 252 * 2 + 2 * 210


def test_a_group_of_several_treatments_keeps_its_share_of_the_edges():
    where = board("1232", "3121", "1323", method="complete", fair_edges=True)
    (found,) = Exchanges(where).of(compared(where, {1, 3}, {2}))
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
    found = [exchange_of(each) for each in Exchanges(where).of(comparison)]
    assert [each.arrangements() for each in found] == [6, 6]
    assert smallest_p(found) == pytest.approx(2 / 36)


def test_exchanges_follow_the_lots_and_the_model_follows_where_coupons_hang():
    lots = board("1212", "2121", method="rows")
    moved = tuple(
        each._replace(position=Position(1 - each.position.row, 0)) if each.coupon in (1, 5) else each
        for each in lots.hung
    )
    where = replace(lots, hung=moved)
    assert arrangements(exchanges(where)) == 36
    assert [each.block for each in hanging_units(where)] == [1, 0, 0, 0, 0, 1, 1, 1]
    assert [each.block for each in drawn_units(where)] == [0, 0, 0, 0, 1, 1, 1, 1]


def test_a_treatment_that_is_tested_and_a_control_is_two_groups_of_replicates():
    where = board("1122", method="complete", controls={2})
    assert {each.cell for each in hanging_units(where)} == {(1, "test"), (2, "control")}
