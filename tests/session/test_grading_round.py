"""The order in which coupons are graded."""

from __future__ import annotations

from datetime import datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rustboard.board.model import Board, Coupon, Grading, Inspection
from rustboard.board.position import Position
from rustboard.board.record import BoardRecord
from rustboard.session.grading_round import neighbour, next_ungraded


def board(places: dict[int, tuple[int, int] | None], graded: set[int] = frozenset()) -> BoardRecord:
    """A board with coupons by key at (row, column), or off the board, and those graded at inspection 1."""
    coupons = {
        key: Coupon(f"C{key:02}", None if place is None else Position(*place), key=key)
        for key, place in places.items()
    }
    gradings = {key: {1: Grading(key, key, 1, 9, "", None, "", "eye", "", "")} for key in graded}
    record = BoardRecord(Board("b", 6, 6), coupons=coupons, current=gradings)
    record.inspections = {1: Inspection(datetime(2026, 3, 2), key=1)}
    return record


# Keys are not in reading order: 4 hangs at A1, 1 at A2, 3 at B1, 2 at C1; 5 is off the board.
MIXED = {1: (0, 1), 2: (2, 0), 3: (1, 0), 4: (0, 0), 5: None}


@pytest.mark.parametrize(
    ("graded", "after", "following"),
    [
        (set(), None, 4),
        (set(), 4, 1),
        (set(), 1, 3),
        (set(), 2, 4),  # round the end
        ({4, 1}, 2, 3),
        ({1, 2, 3}, 4, 4),  # the only one left, even when it is where one stands
        ({1, 2, 3, 4}, 4, None),
        ({1, 2, 3, 4}, None, None),
        (set(), 5, 4),  # from beside the board one begins at the start
        (set(), 99, 4),  # a coupon that is gone
    ],
)
def test_the_next_ungraded_follows_in_reading_order(graded, after, following):
    assert next_ungraded(board(MIXED, graded), 1, after) == following


@pytest.mark.parametrize(
    ("coupon", "by", "found"),
    [(4, 1, 1), (1, 1, 3), (2, 1, 4), (4, -1, 2), (3, -1, 1), (4, 5, 1), (5, 1, 4), (5, -1, 4), (99, 1, 4)],
)
def test_neighbours_are_found_in_reading_order_round_the_end(coupon, by, found):
    assert neighbour(board(MIXED), coupon, by) == found


def test_on_an_empty_board_there_is_nobody():
    assert next_ungraded(board({}), 1, None) is None
    assert neighbour(board({}), 1, 1) is None
    assert neighbour(board({5: None}), 5, 1) is None


PLACES = st.dictionaries(
    st.integers(1, 40),
    st.tuples(st.integers(0, 5), st.integers(0, 5)),
    min_size=1,
    max_size=20,
).filter(lambda places: len(set(places.values())) == len(places))


@given(PLACES, st.data())
def test_a_round_grades_every_coupon_once_in_reading_order_from_wherever_it_begins(places, data):
    start = data.draw(st.sampled_from(sorted(places)))
    order, graded = [], set()
    at = start
    while at is not None:
        order.append(at)
        graded.add(at)
        at = next_ungraded(board(places, graded), 1, at)
    reading = sorted(places, key=places.__getitem__)
    first = reading.index(start)
    assert order == reading[first:] + reading[:first]


@given(PLACES, st.data())
def test_forward_and_back_is_where_one_was(places, data):
    coupon = data.draw(st.sampled_from(sorted(places)))
    record = board(places)
    onward = neighbour(record, coupon, 1)
    assert neighbour(record, onward, -1) == coupon
