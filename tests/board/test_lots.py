"""Lots: every coupon once, rules kept where they can be and told where they cannot, the same for a seed always."""

from __future__ import annotations

from collections import Counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rustboard.board.drain import Hung, drain_breaks
from rustboard.board.edges import edge_excess, is_edge
from rustboard.board.layout import DRAIN_CARES, Layout
from rustboard.board.lot_columns import columns_needed
from rustboard.board.lot_places import most_spaced
from rustboard.board.lots import DrawnLots, draw_lots
from rustboard.board.position import Position
from rustboard.support.problems import InputError

UNTREATED = 0
seeds = st.integers(0, 2**31 - 1)
inclines = st.sampled_from([None, 0.0, 45.0])
methods = st.sampled_from(["complete", "rows"])
cares = st.sampled_from(DRAIN_CARES)


def coupons_of(counts):
    """Keys from 1 with the treatments 0 (None), 1, 2... as often as ``counts`` says."""
    treatments = [number or None for number, count in enumerate(counts) for _ in range(count)]
    return list(enumerate(treatments, 1))


@st.composite
def boards(draw, cares=cares):
    rows, columns = draw(st.integers(1, 8)), draw(st.integers(1, 8))
    room = rows * columns
    counts = []
    while room and len(counts) < 10 and draw(st.integers(0, 5)):
        counts.append(draw(st.integers(1, min(room, 8))))
        room -= counts[-1]
    layout = Layout(draw(methods), draw(cares), free_rows=draw(st.integers(1, 3)), fair_edges=draw(st.booleans()))
    return rows, columns, coupons_of(counts or [1]), layout


def hung(drawn: DrawnLots, coupons) -> list[Hung]:
    return [Hung(key, treatment, drawn.positions[key]) for key, treatment in coupons]


def by_row(hanging, rows):
    """Coupons by treatment, each as its count in every row."""
    counts = Counter((each.treatment, each.position.row) for each in hanging)
    return {treatment: [counts[treatment, row] for row in range(rows)] for treatment, _ in counts}


@given(boards(), seeds, inclines)
def test_every_coupon_is_placed_once_on_the_board(board, seed, incline):
    rows, columns, coupons, layout = board
    drawn = draw_lots(rows, columns, coupons, layout, seed, incline)
    assert sorted(drawn.positions) == [key for key, _ in coupons]
    assert len(set(drawn.positions.values())) == len(coupons)
    assert all(0 <= each.row < rows and 0 <= each.column < columns for each in drawn.positions.values())


@given(boards(), seeds, inclines)
def test_what_is_told_of_drips_is_what_is_so(board, seed, incline):
    rows, columns, coupons, layout = board
    drawn = draw_lots(rows, columns, coupons, layout, seed, incline)
    assert list(drawn.drain_breaks) == drain_breaks(hung(drawn, coupons), layout, incline)
    assert bool(drawn.drain_breaks) <= bool(drawn.notes)
    assert any("of another treatment" in each for each in drawn.notes) == bool(drawn.drain_breaks)


@given(boards(st.just("columns")), seeds)
def test_whole_columns_keep_the_drain_rule_whenever_there_are_enough_and_else_cannot(board, seed):
    rows, columns, coupons, layout = board
    counts = list(Counter(treatment for _, treatment in coupons).values())
    drawn = draw_lots(rows, columns, coupons, layout, seed, 45)
    # One treatment in a column is the whole rule here, so counting columns decides whether it can be kept.
    assert (not drawn.drain_breaks) == (columns_needed(counts, rows) <= columns)


@given(boards(st.just("spacing")), seeds)
def test_spacing_keeps_the_drain_rule_when_coupons_or_treatments_fit_apart(board, seed):
    rows, columns, coupons, layout = board
    counts = list(Counter(treatment for _, treatment in coupons).values())
    drawn = draw_lots(rows, columns, coupons, layout, seed, None)
    if len(coupons) <= most_spaced(rows, columns, layout.free_rows) or columns_needed(counts, rows) <= columns:
        assert drawn.drain_breaks == ()


@st.composite
def boards_of_runs(draw):
    """A board made up of runs with free rows between, so that one way to keep the rule is known."""
    rows, columns, free = draw(st.integers(3, 8)), draw(st.integers(1, 5)), draw(st.integers(1, 2))
    counts = []
    for _ in range(columns):
        first = draw(st.integers(1, rows))
        counts.append(first)
        if rows - first - free > 0:
            counts.append(rows - first - free)
    return rows, columns, free, draw(st.permutations(counts))


@given(boards_of_runs(), methods, seeds)
def test_runs_that_exactly_fill_the_columns_are_found(board, method, seed):
    rows, columns, free, counts = board
    coupons = coupons_of(counts)
    drawn = draw_lots(rows, columns, coupons, Layout(method, "spacing", free), seed, 30)
    assert drawn.drain_breaks == ()


@given(boards(), seeds)
def test_rows_hold_every_treatment_as_evenly_as_can_be(board, seed):
    rows, columns, coupons, layout = board
    if layout.method == "complete" or layout.drain in ("spacing", "columns"):
        return  # columns draw their rows each by itself, or they could not change places
    drawn = draw_lots(rows, columns, coupons, layout, seed, None)
    for treatment, in_rows in by_row(hung(drawn, coupons), rows).items():
        assert max(in_rows) - min(in_rows) <= 1, treatment


@given(st.integers(1, 6), st.integers(1, 6), seeds, methods)
def test_with_as_many_coupons_a_treatment_as_rows_every_row_has_each_treatment_once(rows, treatments, seed, care):
    coupons = coupons_of([rows] * treatments)
    drawn = draw_lots(rows, treatments, coupons, Layout("rows", "drip edges"), seed, None)
    assert by_row(hung(drawn, coupons), rows) == {each: [1] * rows for _, each in coupons}


@given(st.integers(3, 6), st.integers(2, 6), st.integers(1, 2), seeds)
def test_spaced_rows_of_equal_load_hold_every_treatment_evenly(rows, columns, free, seed):
    coupons = coupons_of([rows])  # one coupon a row at most, or one in some
    drawn = draw_lots(rows, columns, coupons, Layout("rows", "spacing", free), seed, None)
    loads = Counter(each.row for each in drawn.positions.values())
    if len(loads) == rows:
        assert set(loads.values()) == {1}
    assert drawn.drain_breaks == ()


@given(boards(st.sampled_from(["none", "drip edges"])), seeds)
def test_edges_are_spread_fairly_over_the_whole_board(board, seed):
    rows, columns, coupons, layout = board
    fair = Layout("complete", layout.drain, fair_edges=True)
    drawn = draw_lots(rows, columns, coupons, fair, seed, None)
    assert edge_excess(hung(drawn, coupons), rows, columns) == 0
    assert not any("edge could not" in each for each in drawn.notes)


@given(st.integers(1, 8), st.integers(1, 8), seeds)
def test_edges_are_spread_fairly_within_rows_of_one_coupon_a_treatment(rows, columns, seed):
    coupons = coupons_of([rows] * columns)
    drawn = draw_lots(rows, columns, coupons, Layout("rows", "drip edges"), seed, None)
    assert edge_excess(hung(drawn, coupons), rows, columns) == 0


def test_edges_that_whole_columns_cannot_share_are_told():
    coupons = coupons_of([5] * 7)
    drawn = draw_lots(5, 7, coupons, Layout("rows", "columns"), 1, 45)
    assert edge_excess(hung(drawn, coupons), 5, 7) == 4  # the outer two have 5 at the edge, and 3 would be fair
    assert drawn.notes[-1] == (
        "Positions at the edge could not be spread quite fairly over the treatments with this layout."
    )


@given(boards(), seeds, inclines, st.randoms(use_true_random=False))
def test_the_same_seed_gives_the_same_layout_in_whatever_order_the_coupons_come(board, seed, incline, order):
    rows, columns, coupons, layout = board
    mixed = list(coupons)
    order.shuffle(mixed)
    assert draw_lots(rows, columns, coupons, layout, seed, incline) == draw_lots(
        rows, columns, mixed, layout, seed, incline
    )


@settings(max_examples=10)
@given(methods, cares)
def test_other_seeds_give_other_layouts(method, care):
    layouts = {
        tuple(sorted(draw_lots(5, 7, coupons_of([5] * 7), Layout(method, care), seed, None).positions.items()))
        for seed in range(20)
    }
    assert len(layouts) == 20  # of 7! or more orders of columns and 5! of each column's coupons


def drawn_letters(rows, columns, counts, layout, seed):
    coupons = coupons_of(counts)
    places = {
        each.position: each.treatment or 0
        for each in hung(draw_lots(rows, columns, coupons, layout, seed, None), coupons)
    }
    return ["".join(str(places.get(Position(row, column), ".")) for column in range(columns)) for row in range(rows)]


@pytest.mark.parametrize(("layout", "letters"), [
    (Layout("complete", "none"), "203... 132... 010... 122..."),
    (Layout("rows", "drip edges"), "213... 230... 021... 021..."),
    (Layout("complete", "columns"), ".210.. 3210.. 32.... .210.."),
    (Layout("rows", "spacing"), "2.3.0. .1.2.3 1.2.0. .1.2.0"),
])  # fmt: skip
def test_a_seed_gives_these_layouts_for_good(layout, letters):
    """They are written down from this program, so that a board's seed stays worth something under any later one."""
    assert drawn_letters(4, 6, [3, 3, 4, 2], layout, 2026) == letters.split()


@pytest.mark.parametrize(("method", "first_row"), [("complete", "110451145271068"), ("rows", "16291148703510")])
def test_a_seed_gives_these_layouts_for_good_where_exchanges_were_needed(method, first_row):
    """No plain draw with this seed had fair edges when these were written down, so exchanges made them."""
    assert drawn_letters(9, 12, [9] * 12, Layout(method, "none"), 2026)[0] == first_row


def test_coupons_of_one_treatment_change_places_too():
    firsts = Counter(
        draw_lots(1, 4, coupons_of([4]), Layout("complete"), seed, None).positions[1] for seed in range(40)
    )
    assert len(firsts) == 4


def test_more_coupons_than_positions_are_refused():
    with pytest.raises(InputError, match=r"^The board has 6 positions for 7 coupons; add rows or columns, or take"):
        draw_lots(2, 3, coupons_of([7]), Layout(), 1, None)


def test_a_layout_by_hand_is_refused():
    with pytest.raises(InputError, match="made by hand, so no lots are drawn"):
        draw_lots(2, 3, coupons_of([1]), Layout("hand"), 1, None)


def test_no_coupons_need_no_lots():
    assert draw_lots(2, 3, [], Layout(), 1, None) == DrawnLots({}, (), (), in_columns=False)


def test_too_few_columns_are_told_with_what_would_help():
    drawn = draw_lots(3, 5, coupons_of([2] * 7), Layout("rows", "columns"), 1, 45)
    assert drawn.notes[0] == (
        "7 treatments in whole columns need 7 columns and the board has 5; add 2 columns or fit drip edges. "
        f"As it is, {len(drawn.drain_breaks)} coupons drip on a coupon of another treatment."
    )
    assert len(drawn.drain_breaks) == 4  # 9 runs at least of 14 coupons in 5 columns of 3, so 4 neighbours differ


def test_too_little_room_for_spacing_is_told_with_what_would_help():
    drawn = draw_lots(3, 5, coupons_of([2] * 7), Layout("rows", "spacing"), 1, 45)
    assert drawn.notes[0].startswith(
        "The board has no room for 1 free row between all coupons of different treatments; make it 5 rows, make it 7 "
        "columns, or fit drip edges. As it is, "
    )
    for rows, columns in ((5, 5), (3, 7)):
        helped = draw_lots(rows, columns, coupons_of([2] * 7), Layout("rows", "spacing"), 1, 45)
        assert helped.drain_breaks == ()


def test_a_flat_board_is_told_to_need_no_care():
    drawn = draw_lots(3, 5, coupons_of([2] * 7), Layout("rows", "columns"), 1, 0)
    assert drawn.drain_breaks == ()
    assert drawn.notes[0].startswith("The board lies flat and nothing drains")


def test_coupons_at_the_edge_are_counted_by_the_boards_grid():
    drawn = draw_lots(4, 4, coupons_of([8, 8]), Layout("rows", "drip edges"), 3, None)
    at_edge = [key for key, place in drawn.positions.items() if is_edge(place, 4, 4)]
    assert len(at_edge) == 12
    assert sum(key <= 8 for key in at_edge) == 6
