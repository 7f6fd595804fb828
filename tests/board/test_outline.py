"""Outlines of coupons: simple polygons on the board."""

import math
import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rustboard.board.model import Board
from rustboard.board.outline import area_mm2, crosses_itself, outline_fault, without_repeats

SQUARE = ((10.0, 10.0), (50.0, 10.0), (50.0, 50.0), (10.0, 50.0))
BOARD = Board("b", width_mm=100, height_mm=80)


def star(count, rng):
    """Corners at rising angles around one centre: never crossing, whatever the radii."""
    angles = [2 * math.pi * number / count for number in range(count)]
    radii = [rng.uniform(20, 40) for _ in angles]
    return tuple((50 + r * math.cos(a), 50 + r * math.sin(a)) for r, a in zip(radii, angles, strict=True))


def crosses_by_pairs(outline):
    """The plain way: every side against every other, with exact fractions."""
    from fractions import Fraction

    points = [(Fraction(x), Fraction(y)) for x, y in outline]
    count = len(points)

    def turn(a, b, c):
        value = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
        return (value > 0) - (value < 0)

    def within(a, b, c):
        return min(a[0], b[0]) <= c[0] <= max(a[0], b[0]) and min(a[1], b[1]) <= c[1] <= max(a[1], b[1])

    def share_a_point(a, b, c, d):
        if turn(a, b, c) != turn(a, b, d) and turn(c, d, a) != turn(c, d, b):
            return True
        return any(turn(*side, point) == 0 and within(*side, point)
                   for side, point in (((a, b), c), ((a, b), d), ((c, d), a), ((c, d), b)))  # fmt: skip

    for one in range(count):
        for other in range(one + 1, count):
            a, b, c, d = points[one], points[(one + 1) % count], points[other], points[(other + 1) % count]
            if b == c or d == a:
                far, corner, near = (a, b, d) if b == c else (c, d, b)
                if turn(far, corner, near) == 0 and (within(corner, far, near) or within(corner, near, far)):
                    return True
            elif share_a_point(a, b, c, d):
                return True
    return False


def test_a_square_and_no_outline_at_all_are_right():
    assert outline_fault(SQUARE, BOARD) == ""
    assert outline_fault((), BOARD) == ""


@pytest.mark.parametrize(
    ("outline", "fault"),
    [
        (SQUARE[:2], "The outline has 2 different points; a closed shape needs at least 3."),
        (SQUARE * 101, "The outline has 404 points; use at most 400."),
        (
            ((10, 10), (20, 20), (30, 30)),
            "The outline encloses less than 1 mm²; give its corners in mm, in order around the coupon.",
        ),
        (
            ((10, 10), (50, 50), (50, 10), (10, 60)),
            "The outline crosses or touches itself; give its corners in order around the coupon.",
        ),
        (
            ((10, 10), (50, 10), (90, 10), (40, 10), (40, 60)),
            "The outline crosses or touches itself; give its corners in order around the coupon.",
        ),
        (
            ((math.nan, 10), (50, 10), (50, 50)),
            "The outline has a point that is not a finite number; give every point in mm.",
        ),
        (
            ((10, 10), (math.inf, 10), (50, 50)),
            "The outline has a point that is not a finite number; give every point in mm.",
        ),
        (
            ((10, 10), (120.5, 10), (50, 50)),
            "The outline's point (120.5, 10) lies beyond the board, which is 100 x 80 mm; mend one of them.",
        ),
        (
            ((10, 10), (50, -1), (50, 50)),
            "The outline's point (50, -1) lies beyond the board, which is 100 x 80 mm; mend one of them.",
        ),
    ],
)
def test_what_is_wrong_with_an_outline_is_said(outline, fault):
    assert outline_fault(outline, BOARD) == fault


def test_an_outline_is_not_beyond_a_board_of_unknown_size():
    assert outline_fault(((10, 10), (5_000, 10), (50, 50)), Board("b")) == ""


def test_repeated_points_and_a_closing_point_are_dropped():
    assert without_repeats((SQUARE[0], *SQUARE, SQUARE[3], SQUARE[0])) == SQUARE
    assert without_repeats((SQUARE[0], SQUARE[0])) == SQUARE[:1]


def test_area_does_not_depend_on_the_direction():
    assert area_mm2(SQUARE) == area_mm2(SQUARE[::-1]) == 1600


@given(st.integers(3, 400), st.randoms(use_true_random=False))
def test_a_star_shaped_outline_never_crosses_itself(count, rng):
    assert not crosses_itself(star(count, rng))


@given(st.lists(st.tuples(st.integers(0, 6), st.integers(0, 6)), min_size=3, max_size=8))
def test_the_sweep_finds_what_comparing_all_pairs_finds(points):
    outline = without_repeats(tuple((float(x), float(y)) for x, y in points))
    if len(outline) >= 3:
        assert crosses_itself(outline) == crosses_by_pairs(outline)


def test_two_swapped_corners_of_a_large_outline_are_found():
    corners = list(star(400, random.Random(1)))
    corners[100], corners[300] = corners[300], corners[100]
    assert crosses_itself(tuple(corners))
