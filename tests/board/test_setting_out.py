"""Where coupons and markers go on a board in millimetres."""

import re
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rustboard.board.layout import Layout
from rustboard.board.model import Board, Marker
from rustboard.board.outline import outline_fault
from rustboard.board.position import Position
from rustboard.board.setting_out import FROM_EDGE_MM, corner_markers, on_a_marker, setting_out
from rustboard.support.problems import InputError

BOARD = Board("b", 3, 7, width_mm=700.0, height_mm=400.0)


def coupons(width, height):
    return Layout(coupon_width_mm=width, coupon_height_mm=height)


def box(outline):
    (left, top), _, (right, bottom), _ = outline
    return left, top, right, bottom


def apart(one, other):
    """Whether two boxes share no more than an edge, to a thousandth of a millimetre."""
    across = min(one[2], other[2]) - max(one[0], other[0])
    down = min(one[3], other[3]) - max(one[1], other[1])
    return across <= 0.001 or down <= 0.001


def zone(marker):
    """A marker with a cell of white around it, by hand: 4/3 of its side."""
    x, y = marker.centre_mm
    reach = marker.size_mm * 4 / 6
    return x - reach, y - reach, x + reach, y + reach


def refusal(call, *arguments):
    with pytest.raises(InputError) as caught:
        call(*arguments)
    return str(caught.value)


def test_without_markers_every_coupon_hangs_in_the_middle_of_its_share_of_the_board():
    outlines = setting_out(BOARD, coupons(60, 100), ())
    assert list(outlines) == [Position(row, column) for row in range(3) for column in range(7)]
    assert outlines[Position(0, 0)] == ((20.0, 16.667), (80.0, 16.667), (80.0, 116.667), (20.0, 116.667))
    assert box(outlines[Position(2, 6)]) == (620.0, 283.333, 680.0, 383.333)


def test_markers_of_30_mm_stand_in_the_corners_clockwise_with_their_white_and_3_mm_around():
    markers = corner_markers(BOARD, 30)
    assert markers == (
        Marker(0, (23, 23), 30), Marker(1, (677, 23), 30), Marker(2, (677, 377), 30), Marker(3, (23, 377), 30),
    )  # fmt: skip
    assert zone(markers[0])[:2] == (FROM_EDGE_MM, FROM_EDGE_MM)


def test_columns_are_laid_between_markers_at_the_left_and_the_right():
    markers = corner_markers(BOARD, 30)
    outlines = setting_out(BOARD, coupons(60, 100), markers)
    # Between 43 and 657 mm, 7 columns: the first middle at 43 + 614/14.
    assert box(outlines[Position(0, 0)]) == pytest.approx((56.857, 16.667, 116.857, 116.667), abs=1e-3)
    assert all(apart(box(each), zone(marker)) for each in outlines.values() for marker in markers)


def test_rows_are_laid_between_upper_and_lower_markers_where_columns_have_no_room():
    markers = corner_markers(BOARD, 30)
    outlines = setting_out(BOARD, coupons(95, 100), markers)
    assert box(outlines[Position(0, 0)])[:2] == pytest.approx((2.5, 45.333), abs=1e-3)


def test_coupons_that_meet_no_marker_are_spread_over_the_whole_board():
    assert setting_out(BOARD, coupons(10, 40), corner_markers(BOARD, 15)) == setting_out(BOARD, coupons(10, 40), ())


@pytest.mark.parametrize(("size", "markers", "sentence"), [
    ((99, 134), (), "3 x 7 coupons of 99 x 134 mm do not fit on the board; the largest that do are 100 x 133.3 mm."),
    ((60, 140), (), "3 x 7 coupons of 60 x 140 mm do not fit on the board; the largest that do are 100 x 133.3 mm."),
    ((99, 133), corner_markers(BOARD, 30),
     "3 x 7 coupons of 99 x 133 mm do not fit on the board beside its markers; the largest that do are 87.7 x "
     "133.3 mm."),
    ((1.9, 9), (), "Coupons that are set out are at least 2 mm wide and high."),
    ((150, 100), corner_markers(BOARD, 145),
     "3 x 7 coupons of 150 x 100 mm do not fit on the board beside its markers; the largest that do are 43.9 x "
     "133.3 mm."),  # markers and their white reach to 3 + 145 * 4/3 mm: (700 - 2 * 196.33) / 7
    ((0, 100), (), "The size of the coupons is not given; enter their width and height in mm first."),
])  # fmt: skip
def test_coupons_that_do_not_fit_are_refused_with_the_largest_that_do(size, markers, sentence):
    assert refusal(setting_out, BOARD, coupons(*size), markers) == sentence


def test_a_board_without_a_size_is_refused():
    sentence = "The size of the board is not given; enter its width and height in mm first."
    assert refusal(setting_out, Board("b", width_mm=700), coupons(60, 100), ()) == sentence
    assert refusal(corner_markers, Board("b", height_mm=400), 30) == sentence


@pytest.mark.parametrize(("size", "sentence"), [
    (200, "Four markers of 200 mm do not fit into the board's corners; the largest have 147.7 mm."),
    (0.5, "The side of a marker is from 1 to 10,000 mm."),
    (float("nan"), "The side of a marker is from 1 to 10,000 mm."),
])  # fmt: skip
def test_markers_that_cannot_be_are_refused(size, sentence):
    assert refusal(corner_markers, BOARD, size) == sentence


def test_the_largest_markers_named_fit_and_meet_in_the_middle():
    markers = corner_markers(BOARD, 147.7)
    assert all(apart(zone(one), zone(other)) for one, other in combinations(markers, 2))
    assert refusal(setting_out, BOARD, coupons(60, 100), markers).startswith(
        "3 x 7 coupons of 60 x 100 mm do not fit"
    )


def test_a_coupon_on_a_marker_or_its_white_is_seen():
    markers = corner_markers(BOARD, 30)
    assert on_a_marker(((42, 42), (60, 42), (60, 60), (42, 60)), markers)
    assert not on_a_marker(((43, 43), (60, 43), (60, 60), (43, 60)), markers)
    assert not on_a_marker((), markers)


def set_out_or_told(*arguments):
    try:
        return setting_out(*arguments)
    except InputError as error:
        return str(error)


sizes = st.floats(20, 3_000)


@given(
    st.builds(Board, st.just("b"), st.integers(1, 9), st.integers(1, 9), sizes, sizes),
    st.floats(2, 400), st.floats(2, 400), st.none() | st.floats(1, 60),
)  # fmt: skip
def test_coupons_lie_on_the_board_apart_from_one_another_and_from_markers(board, width, height, marker):
    room = 2 * (3 + (marker or 0) * 4 / 3) <= min(board.width_mm, board.height_mm)
    markers = corner_markers(board, marker) if marker and room else ()
    outlines = set_out_or_told(board, coupons(width, height), markers)
    if isinstance(outlines, str):
        found = re.search(r"the largest that do are ([0-9.]+) x ([0-9.]+) mm", outlines)
        if found is None:
            assert "and no smaller ones do" in outlines
            return
        width, height = map(float, found.groups())
        outlines = setting_out(board, coupons(width, height), markers)
    assert len(outlines) == board.rows * board.columns
    for outline in outlines.values():
        assert outline_fault(outline, board) == ""
        left, top, right, bottom = box(outline)
        assert (right - left, bottom - top) == pytest.approx((width, height), abs=2e-3)
    boxes = [box(each) for each in outlines.values()]
    assert all(apart(*pair) for pair in combinations(boxes, 2))
    assert all(apart(each, zone(marker)) for each in boxes for marker in markers)
