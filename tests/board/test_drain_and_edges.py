"""Which coupon drips on which, and whether edges are spread fairly."""

import pytest

from rustboard.board.drain import DrainBreak, Hung, drain_breaks, drains, hung_coupons
from rustboard.board.edges import EdgeShare, edge_excess, edge_shares, is_edge
from rustboard.board.layout import DRAIN_CARES, Layout
from rustboard.board.model import Board, Coupon
from rustboard.board.position import Position, parse_position
from rustboard.board.record import BoardRecord


def hung(places):
    """Coupons numbered from 1, as ``A1:7 B1:-`` gives position and treatment (- = untreated)."""
    pairs = (each.split(":") for each in places.split())
    return [
        Hung(number, None if treatment == "-" else int(treatment), parse_position(place))
        for number, (place, treatment) in enumerate(pairs, 1)
    ]


def breaks(places, incline=45.0, **layout):
    return [tuple(each) for each in drain_breaks(hung(places), Layout(**layout), incline)]


@pytest.mark.parametrize(
    ("incline", "running"), [(None, True), (0.0, False), (1.0, True), (90.0, True), (180.0, False)]
)
def test_only_a_flat_board_does_not_drain(incline, running):
    assert drains(incline) is running
    assert bool(breaks("A1:1 B1:2", incline)) is running


def test_a_coupon_drips_on_the_next_one_below_whatever_hangs_between_other_columns():
    assert breaks("A1:1 B1:2 A2:1 C2:3 A3:1 B3:1") == [(1, 2), (3, 4)]


def test_what_is_below_another_treatment_is_told_once_by_its_neighbour():
    assert breaks("A1:1 B1:1 C1:2 D1:1") == [(2, 3), (3, 4)]


def test_untreated_coupons_are_one_treatment_of_their_own():
    assert breaks("A1:- B1:-") == []
    assert breaks("A1:- B1:1 C1:-") == [(1, 2), (2, 3)]


def test_order_of_the_coupons_does_not_matter():
    coupons = hung("A1:1 B1:2 C1:1 A2:3 C2:4")
    forward = drain_breaks(coupons, Layout(), None)
    assert forward == drain_breaks(reversed(coupons), Layout(), None) == [
        DrainBreak(1, 2), DrainBreak(2, 3), DrainBreak(4, 5),
    ]  # fmt: skip


@pytest.mark.parametrize(("free_rows", "told"), [(1, []), (2, [(1, 2)]), (10, [(1, 2)])])
def test_spacing_stops_a_drip_when_enough_positions_are_empty(free_rows, told):
    assert breaks("A1:1 C1:2", drain="spacing", free_rows=free_rows) == told


def test_empty_positions_stop_nothing_without_spacing_and_drip_edges_stop_everything():
    found = {care: breaks("A1:1 C1:2 D1:3", drain=care) for care in DRAIN_CARES}
    assert found == {
        "columns": [(1, 2), (2, 3)], "spacing": [(2, 3)], "drip edges": [], "none": [(1, 2), (2, 3)],
    }  # fmt: skip


def test_coupons_off_the_board_do_not_hang():
    coupons = {2: Coupon("b", Position(0, 1), 5, key=2), 1: Coupon("a", None, key=1), 3: Coupon("c", Position(0, 0))}
    found = hung_coupons(BoardRecord(Board("x"), coupons=coupons))
    assert found == [Hung(2, 5, Position(0, 1)), Hung(3, None, Position(0, 0))]


def test_the_edge_is_the_outer_ring():
    inner = [(row, column) for row in range(4) for column in range(5) if not is_edge(Position(row, column), 4, 5)]
    assert inner == [(1, 1), (1, 2), (1, 3), (2, 1), (2, 2), (2, 3)]


@pytest.mark.parametrize(("rows", "columns"), [(2, 9), (9, 2), (1, 1)])
def test_a_board_too_narrow_for_a_middle_is_all_edge(rows, columns):
    assert all(is_edge(Position(row, column), rows, columns) for row in range(rows) for column in range(columns))


def test_a_fair_share_of_the_edge_is_the_proportional_one_rounded_either_way():
    # 3 x 4 without its last column: 7 of 9 positions in use are at the edge; 6 coupons: 4.67, 3 coupons: 2.33.
    coupons = hung("A1:1 A2:1 A3:1 B1:- B2:- B3:- C1:- C2:- C3:-")
    assert edge_shares(coupons, 3, 4) == [EdgeShare(None, 4, 6, 4, 5), EdgeShare(1, 3, 3, 2, 3)]
    assert edge_excess(coupons, 3, 4) == 0


def test_what_is_beyond_a_fair_share_either_way_is_the_excess():
    shares = edge_shares(hung("B2:1 B3:1 C2:1 C3:1 A1:2 A4:2 D1:2 D4:2"), 4, 4)
    assert shares == [EdgeShare(1, 0, 4, 2, 2), EdgeShare(2, 4, 4, 2, 2)]
    assert [each.excess for each in shares] == [2, 2]


def test_an_empty_board_has_no_shares():
    assert edge_shares([], 3, 7) == []
