"""The arrangements that are counted are those the lots really give."""

from __future__ import annotations

import pytest

from rustboard.board.comparisons import Comparison, Level
from rustboard.board.drain import Hung
from rustboard.board.layout import Layout
from rustboard.board.lots import draw_lots
from rustboard.findings.exchange import exchange_of
from rustboard.findings.smallest_p import arrangements
from rustboard.findings.units import Exchanges, HungBoard

SEEDS = 4_000


def drawn(size, counts, layout, seed):
    """Where each treatment hangs, and the board, by lots from a seed."""
    coupons = [(number, treatment) for treatment, count in counts.items() for number in range(count)]
    pairs = [(key, treatment) for key, (_, treatment) in enumerate(coupons, 1)]
    positions = draw_lots(*size, pairs, layout, seed, 45.0).positions
    hung = tuple(Hung(key, treatment, positions[key]) for key, treatment in pairs)
    return {(each.position, each.treatment) for each in hung}, hung


@pytest.mark.parametrize(("size", "counts", "rules"), [
    ((3, 3), {1: 4, 2: 5}, {"method": "complete", "fair_edges": False}),
    ((3, 3), {1: 4, 2: 5}, {"method": "complete", "fair_edges": True}),
    ((3, 4), {1: 3, 2: 3}, {"method": "complete", "fair_edges": True}),
    ((3, 4), {1: 6, 2: 6}, {"method": "rows", "fair_edges": False}),
    ((3, 4), {1: 6, 2: 6}, {"method": "rows", "fair_edges": True}),
    ((3, 4), {1: 3, 2: 9}, {"method": "rows", "fair_edges": True}),
    ((3, 6), {1: 9, 2: 9}, {"method": "rows", "drain": "columns", "fair_edges": False}),
    ((3, 6), {1: 9, 2: 9}, {"method": "rows", "drain": "columns", "fair_edges": True}),
    ((5, 4), {1: 6, 2: 6}, {"method": "complete", "drain": "spacing", "fair_edges": True}),
])  # fmt: skip
def test_two_treatments_on_a_board_hang_in_as_many_ways_as_are_counted(size, counts, rules):
    layout = Layout(seed=1, **rules)
    seen = {frozenset(drawn(size, counts, layout, seed)[0]) for seed in range(SEEDS)}
    _, hung = drawn(size, counts, layout, 0)
    groups = [frozenset(each.coupon for each in hung if each.treatment == side) for side in (1, 2)]
    comparison = Comparison("pair", "a", "b", *groups, (Level("", *groups),))
    board = HungBoard(hung, hung, {each.coupon: "test" for each in hung}, *size, layout)
    counted = arrangements([exchange_of(each) for each in Exchanges(board).of(comparison)])
    assert len(seen) == counted  # so many seeds miss none of a few hundred
