"""Where outlines go when coupons change places."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rustboard.board.model import Board, Coupon, Photo
from rustboard.board.outline import outline_fault
from rustboard.board.position import Position, parse_position
from rustboard.operations.boards import add_line, edit_board, remove_line
from rustboard.operations.coupons import add_coupon, move_coupon, take_off
from rustboard.operations.outlines import exchanged, shifted
from rustboard.operations.photos import add_photo

SMALL = ((10.0, 20.0), (40.0, 20.0), (40.0, 90.0), (10.0, 90.0))
BRACKET = ((115.0, 30.0), (150.0, 30.0), (170.0, 60.0), (110.0, 110.0))


def moved(outline, across, down):
    return tuple((x + across, y + down) for x, y in outline)


@pytest.fixture
def sized(session):
    """A board of 700 x 300 mm with 3 rows of 7: positions are 100 x 100 mm."""
    session.do(edit_board, replace(session.record.board, width_mm=700, height_mm=300))
    return session


def add(session, name, where, outline=()):
    session.do(add_coupon, Coupon(name, parse_position(where) if where else None, outline_mm=outline))
    return max(session.record.coupons)


def outlines(session):
    return {each.id: each.outline_mm for each in session.record.coupons.values()}


def test_a_coupon_that_moves_takes_its_outline_along_by_the_pitch_of_the_grid(sized):
    key = add(sized, "C1", "A1", SMALL)
    sized.do(move_coupon, key, Position(2, 3))
    assert outlines(sized) == {"C1": moved(SMALL, 300, 200)}
    sized.do(move_coupon, key, Position(0, 0))
    assert outlines(sized) == {"C1": SMALL}


def test_coupons_that_swap_exchange_the_corners_of_their_outlines_and_keep_their_shapes(sized):
    one, _ = add(sized, "C1", "A1", SMALL), add(sized, "C2", "A2", BRACKET)
    before = sized.record.coupons.copy()
    sized.do(move_coupon, one, Position(0, 1))
    assert outlines(sized) == {"C1": moved(SMALL, 100, 10), "C2": moved(BRACKET, -100, -10)}
    sized.undo()
    assert sized.record.coupons == before


def test_a_swap_needs_no_size_of_the_board(session):
    one, _ = add(session, "C1", "A1", SMALL), add(session, "C2", "C7", BRACKET)
    session.do(move_coupon, one, Position(2, 6))
    assert outlines(session) == {"C1": moved(SMALL, 100, 10), "C2": moved(BRACKET, -100, -10)}


def test_without_the_boards_size_an_outline_alone_stays(session):
    key = add(session, "C1", "A1", SMALL)
    session.do(move_coupon, key, Position(2, 3))
    session.do(edit_board, replace(session.record.board, width_mm=700))
    session.do(move_coupon, key, Position(0, 0))
    assert outlines(session) == {"C1": SMALL}


def test_beside_a_coupon_without_an_outline_it_goes_by_the_pitch(sized):
    one, _ = add(sized, "C1", "A1", SMALL), add(sized, "C2", "A2")
    sized.do(move_coupon, one, Position(0, 1))
    assert outlines(sized) == {"C1": moved(SMALL, 100, 0), "C2": ()}


def test_taking_off_and_hanging_up_again_leaves_the_outline(sized):
    key = add(sized, "C1", "A1", SMALL)
    sized.do(take_off, key)
    sized.do(move_coupon, key, Position(1, 1))
    assert outlines(sized) == {"C1": SMALL}


def test_more_or_fewer_rows_and_columns_leave_the_outlines(sized):
    add(sized, "C1", "B2", SMALL)
    for operation, axis, number in ((add_line, "column", 0), (add_line, "row", 3), (remove_line, "row", 0)):
        sized.do(operation, axis, number)
        assert outlines(sized) == {"C1": SMALL}
    assert sized.record.coupons[1].position == Position(0, 2)


def test_an_outline_is_moved_no_further_than_the_edge_of_the_board(sized):
    key = add(sized, "C1", "A2", SMALL)  # drawn at A1
    sized.do(move_coupon, key, Position(0, 0))
    assert outlines(sized) == {"C1": moved(SMALL, -10, 0)}


def rectangle(left, top, width, height):
    return ((left, top), (left + width, top), (left + width, top + height), (left, top + height))


BOARD = Board("b", 3, 7, width_mm=700.0, height_mm=300.0)
lengths = st.floats(2, 90, allow_nan=False)
rectangles = st.builds(rectangle, st.floats(0, 600), st.floats(0, 200), lengths, lengths)
positions = st.builds(Position, st.integers(0, 2), st.integers(0, 6))


def size(outline):
    (left, top), _, (right, bottom), _ = outline
    return pytest.approx((right - left, bottom - top), abs=3e-6, rel=0)


@given(rectangles, rectangles)
def test_exchanged_outlines_are_sound_and_keep_their_sizes(one, other):
    first, second = exchanged(one, other, BOARD)
    assert outline_fault(first, BOARD) == outline_fault(second, BOARD) == ""
    assert [size(first), size(second)] == [
        (each[2][0] - each[0][0], each[2][1] - each[0][1]) for each in (one, other)
    ]


@given(rectangles, positions, positions)
def test_shifted_outlines_are_sound_and_keep_their_sizes(outline, start, end):
    there = shifted(outline, start, end, BOARD)
    assert outline_fault(there, BOARD) == ""
    assert size(there) == (outline[2][0] - outline[0][0], outline[2][1] - outline[0][1])


def test_once_there_are_photos_outlines_stay_where_the_photos_show_their_coupons(sized):
    one, other = add(sized, "C1", "A1", SMALL), add(sized, "C2", "A2", BRACKET)
    sized.do(add_photo, Photo("a.jpg", "a.jpg", "0" * 64, 700, 300))
    sized.do(move_coupon, one, Position(0, 1))
    assert outlines(sized) == {"C1": SMALL, "C2": BRACKET}
    assert sized.record.coupons[other].position == Position(0, 0)
    sized.do(move_coupon, one, Position(2, 3))
    assert outlines(sized) == {"C1": SMALL, "C2": BRACKET}
