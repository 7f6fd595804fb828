"""The significant surface of a coupon's outline."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rustboard.scales.surface import significant_surface
from rustboard.support.problems import InputError

SQUARE = [(2, 3), (12, 3), (12, 9), (2, 9)]


def test_a_rectangle_on_pixel_edges_counts_its_pixels_exactly() -> None:
    mask = significant_surface(SQUARE, (20, 20))
    expected = np.zeros((20, 20), np.bool_)
    expected[3:9, 2:12] = True
    assert np.array_equal(mask, expected)


def test_the_margin_leaves_out_a_strip_all_round() -> None:
    mask = significant_surface(SQUARE, (20, 20), 2)
    expected = np.zeros((20, 20), np.bool_)
    expected[5:7, 4:10] = True
    assert np.array_equal(mask, expected)


def test_a_margin_wider_than_the_coupon_leaves_nothing() -> None:
    assert not significant_surface(SQUARE, (20, 20), 5).any()


def test_the_direction_and_first_corner_of_the_outline_do_not_matter() -> None:
    mask = significant_surface(SQUARE, (20, 20), 1)
    assert np.array_equal(mask, significant_surface(SQUARE[::-1], (20, 20), 1))
    assert np.array_equal(mask, significant_surface(SQUARE[2:] + SQUARE[:2], (20, 20), 1))


def test_a_repeated_corner_does_no_harm() -> None:
    assert np.array_equal(
        significant_surface([*SQUARE, SQUARE[0]], (20, 20), 1), significant_surface(SQUARE, (20, 20), 1)
    )


def test_a_disc_has_its_area_with_and_without_margin() -> None:
    corners = [(150 + 100 * math.cos(turn), 140 + 100 * math.sin(turn)) for turn in np.linspace(0, 2 * np.pi, 400)]
    # Areas pi r^2; the polygon of 399 corners is smaller by 0.01 %, the raster's edge adds little.
    assert significant_surface(corners, (280, 300)).sum() == pytest.approx(math.pi * 100**2, rel=0.002)
    assert significant_surface(corners, (280, 300), 20).sum() == pytest.approx(math.pi * 80**2, rel=0.002)


def test_an_inward_corner_stays_outside() -> None:
    hook = [(0, 0), (10, 0), (10, 10), (6, 10), (6, 4), (4, 4), (4, 10), (0, 10)]
    mask = significant_surface(hook, (10, 10))
    assert mask.sum() == 100 - 2 * 6
    assert not mask[4:, 4:6].any()


def test_what_an_outline_winds_round_twice_is_outside() -> None:
    twice = [*SQUARE, SQUARE[0], (4, 5), (8, 5), (8, 7), (4, 7), (4, 5)]
    mask = significant_surface(twice, (20, 20))
    assert mask.sum() == 10 * 6 - 4 * 2


def test_an_outline_reaching_beyond_the_picture_counts_what_is_in_it() -> None:
    mask = significant_surface([(-50, -50), (500, -50), (500, 500), (-50, 500)], (8, 9), 3)
    assert mask.all()
    assert not significant_surface([(50, 50), (60, 50), (60, 60)], (8, 9)).any()


triangles = st.lists(st.tuples(st.floats(-5, 35), st.floats(-5, 35)), min_size=3, max_size=3)


@given(triangles, st.floats(0.1, 4))
def test_a_pixel_counts_when_its_centre_is_inside_and_far_enough_from_every_edge(
    corners: list[tuple[float, float]], margin: float
) -> None:
    mask = significant_surface(corners, (30, 30), margin)
    for y in range(0, 30, 3):
        for x in range(0, 30, 3):
            depth = _depth(x + 0.5, y + 0.5, corners)
            if abs(depth - margin) > 1e-6:
                assert mask[y, x] == (depth >= margin)


def _depth(x: float, y: float, corners: list[tuple[float, float]]) -> float:
    """How deep a point lies in a triangle: distance to the nearest side's line, negative outside; exact inside."""
    (ax, ay), (bx, by), (cx, cy) = corners
    turn = math.copysign(1, (bx - ax) * (cy - ay) - (by - ay) * (cx - ax))
    depths = []
    for (px, py), (qx, qy) in zip(corners, corners[1:] + corners[:1], strict=True):
        length = math.hypot(qx - px, qy - py)
        if length < 1e-9:
            return -1
        depths.append(turn * ((qx - px) * (y - py) - (qy - py) * (x - px)) / length)
    return min(depths)


@pytest.mark.parametrize(
    ("outline", "margin", "sentence"),
    [
        ([], 0, "at least three corners"),
        (SQUARE[:2], 0, "at least three corners"),
        ([(0, 0), (1, math.nan), (2, 2)], 0, "not a number"),
        ([(0, 0), (math.inf, 0), (2, 2)], 0, "not a number"),
        (SQUARE, -1, "cannot be negative"),
        (SQUARE, math.nan, "cannot be negative"),
    ],
)
def test_an_outline_that_is_none_is_refused_in_a_sentence(
    outline: list[tuple[float, float]], margin: float, sentence: str
) -> None:
    with pytest.raises(InputError, match=sentence):
        significant_surface(outline, (9, 9), margin)
