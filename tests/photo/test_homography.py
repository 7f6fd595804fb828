"""Placing the board in a photo: four corners to nine numbers."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rustboard.photo.homography import as_matrix, mapped, pixels_per_mm_at, placed_by_corners
from rustboard.support.problems import InputError

WIDTH, HEIGHT = 700.0, 400.0
BOARD_CORNERS = [(0.0, 0.0), (WIDTH, 0.0), (WIDTH, HEIGHT), (0.0, HEIGHT)]


def test_the_corners_land_where_they_were_tapped():
    corners = [(102.0, 88.5), (1980.0, 131.0), (1921.5, 1207.0), (77.0, 1160.0)]
    placed = as_matrix(placed_by_corners(corners, WIDTH, HEIGHT))
    np.testing.assert_allclose(mapped(placed, BOARD_CORNERS), corners, atol=1e-6)


def test_the_middle_of_the_board_lands_where_the_diagonals_cross():
    # By hand: a homography keeps straight lines, so the middle lies on both diagonals of the trapezium
    # (0, 0) (2, 0) (1, 0.5) (0, 0.5): y = x / 2 and y = 0.5 - x / 4 meet at (2/3, 1/3).
    placed = placed_by_corners([(0, 0), (2, 0), (1, 0.5), (0, 0.5)], 2, 1)
    np.testing.assert_allclose(mapped(as_matrix(placed), [(1, 0.5)]), [(2 / 3, 1 / 3)], atol=1e-12)
    # The same by hand as a matrix: (x, y) to (x, y) / (1 + y) does this.
    np.testing.assert_allclose(placed, (1, 0, 0, 0, 1, 0, 0, 1, 1), atol=1e-12)


def closed_form(quad: list[tuple[float, float]]) -> np.ndarray:
    """Unit square to quadrilateral; P. Heckbert, Texture Mapping and Image Warping (1989), from memory."""
    (x0, y0), (x1, y1), (x2, y2), (x3, y3) = quad
    sx, sy = x0 - x1 + x2 - x3, y0 - y1 + y2 - y3
    dx1, dx2, dy1, dy2 = x1 - x2, x3 - x2, y1 - y2, y3 - y2
    below = dx1 * dy2 - dx2 * dy1
    g, h = (sx * dy2 - dx2 * sy) / below, (dx1 * sy - sx * dy1) / below
    return np.array([[x1 - x0 + g * x1, x3 - x0 + h * x3, x0], [y1 - y0 + g * y1, y3 - y0 + h * y3, y0], [g, h, 1]])


nudges = st.lists(st.tuples(st.floats(-0.2, 0.2), st.floats(-0.2, 0.2)), min_size=4, max_size=4)


@given(nudges)
def test_a_unit_square_agrees_with_the_published_closed_form(nudge):
    square = [(0, 0), (1, 0), (1, 1), (0, 1)]
    quad = [(x + dx, y + dy) for (x, y), (dx, dy) in zip(square, nudge, strict=True)]
    np.testing.assert_allclose(as_matrix(placed_by_corners(quad, 1, 1)), closed_form(quad), atol=1e-9)


@given(nudges, st.floats(0, 1), st.floats(0, 1))
def test_a_known_view_is_found_again_from_its_corners(nudge, along, down):
    square = [(0, 0), (1, 0), (1, 1), (0, 1)]
    quad = [(2000 * (x + dx), 1200 * (y + dy)) for (x, y), (dx, dy) in zip(square, nudge, strict=True)]
    view = closed_form(quad) @ np.diag([1 / WIDTH, 1 / HEIGHT, 1])
    again = as_matrix(placed_by_corners([tuple(each) for each in mapped(view, BOARD_CORNERS)], WIDTH, HEIGHT))
    point = [(along * WIDTH, down * HEIGHT)]
    np.testing.assert_allclose(mapped(again, point), mapped(view, point), atol=1e-4)


@pytest.mark.parametrize("turns", range(4))
def test_a_board_photographed_sideways_or_upside_down_is_placed_too(turns):
    corners = [(0.0, 0.0), (2100.0, 0.0), (2100.0, 1200.0), (0.0, 1200.0)]
    turned = corners[turns:] + corners[:turns]
    placed = as_matrix(placed_by_corners(turned, WIDTH, HEIGHT))
    np.testing.assert_allclose(mapped(placed, BOARD_CORNERS), turned, atol=1e-6)


@pytest.mark.parametrize(
    "corners",
    [
        [(0, 0), (0, 100), (100, 100), (100, 0)],  # anticlockwise
        [(0, 0), (100, 100), (100, 0), (0, 100)],  # crossed over
        [(0, 0), (50, 0), (100, 0), (0, 100)],  # three in a line
        [(0, 0), (100, 0), (10, 10), (0, 100)],  # a dent
        [(5, 5)] * 4,
        [(0, 0), (100, 0), (100, 100)],
        [(0, 0), (100, 0), (100, 100), (0, math.nan)],
        [(0, 0), (100, 0), (100, math.inf), (0, 100)],
    ],
)
def test_corners_that_are_no_board_are_refused_with_a_sentence(corners):
    with pytest.raises(InputError, match=r"corners"):
        placed_by_corners(corners, WIDTH, HEIGHT)


@pytest.mark.parametrize(("width", "height"), [(0, 400), (700, 0), (-1, 400), (math.nan, 400), (700, math.inf)])
def test_a_board_without_a_size_cannot_be_placed(width, height):
    with pytest.raises(InputError, match="width and height"):
        placed_by_corners([(0, 0), (100, 0), (100, 100), (0, 100)], width, height)


@pytest.mark.parametrize(
    "numbers",
    [
        (1.0,) * 8,
        (0.0,) * 9,
        (1.0,) * 9,
        (1, 0, 0, 0, 0, 0, 0, 0, 1),
        (math.nan, 0, 0, 0, 1, 0, 0, 0, 1),
        (math.inf, 0, 0, 0, 1, 0, 0, 0, 1),
        (1e308, 0, 0, 0, 1e-308, 0, 0, 0, 1),
    ],
)
def test_nine_numbers_that_lay_no_surface_are_refused(numbers):
    with pytest.raises(InputError, match="place the photo again"):
        as_matrix(numbers)


def test_a_place_behind_the_horizon_is_refused():
    tilted = as_matrix((1, 0, 0, 0, 1, 0, 0, -0.01, 1))
    with pytest.raises(InputError, match="place the photo again"):
        mapped(tilted, [(0, 0), (0, 150)])


def test_resolution_is_the_root_of_how_much_an_area_grows():
    view = as_matrix((2.9, 0.1, 40, -0.08, 2.8, 60, 2e-5, -4e-5, 1))
    x, y, side = 310.0, 150.0, 1e-3
    corners = mapped(view, [(x, y), (x + side, y), (x + side, y + side), (x, y + side)])
    along, down = corners[1] - corners[0], corners[3] - corners[0]
    area = along[0] * down[1] - along[1] * down[0]
    assert pixels_per_mm_at(view, (x, y)) == pytest.approx(area**0.5 / side, rel=1e-5)
