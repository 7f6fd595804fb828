"""Rectangles, discs and polygons: told apart, and kept what they are while they are dragged, turned and sized."""

from __future__ import annotations

from math import dist, hypot, pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rustboard.board.outline import area_mm2, bounds, crosses_itself
from rustboard.ui.outlines.shapes import (
    DISC_POINTS,
    as_kind,
    centre_of,
    disc,
    holds,
    kept_inside,
    kind_of,
    moved,
    rectangle,
    resized,
    side_near,
    size_of,
    turn_of,
    turned,
    with_corner,
    with_point_after,
    without_point,
)

TRIANGLE = ((10.0, 10.0), (60.0, 10.0), (30.0, 70.0))

places = st.floats(-400, 400).map(lambda value: round(value, 2))
lengths = st.floats(2, 300).map(lambda value: round(value, 2))
turns = st.floats(-85, 85).map(lambda value: round(value, 1))


@given(places, places, lengths, lengths, turns)
def test_a_turned_rectangle_is_still_one_of_the_same_size(
    x: float, y: float, width: float, height: float, turn: float
) -> None:
    shape = turned(rectangle((x, y), width, height), turn)
    assert kind_of(shape) == "rectangle"
    assert size_of(shape) == pytest.approx((width, height), abs=0.01)
    assert turn_of(shape) == pytest.approx(turn, abs=0.02 + 0.02 / width * 57)
    assert centre_of(shape) == pytest.approx((x, y), abs=0.01)


def test_a_disc_is_a_disc_of_nearly_the_true_area() -> None:
    shape = disc((50, 40), 30)
    assert kind_of(shape) == "disc"
    assert size_of(shape) == pytest.approx((30, 30), abs=1e-3)
    true = pi * 15**2
    assert area_mm2(shape) == pytest.approx(true, rel=0.003), "a regular polygon's area: n/2 sin(2 pi/n) r^2"
    assert len(shape) == DISC_POINTS


@given(st.integers(0, 3), places, places, turns)
def test_a_dragged_corner_leaves_the_one_across_where_it_is(number: int, x: float, y: float, turn: float) -> None:
    before = rectangle((50, 60), 40, 80, turn)
    after = with_corner(before, number, (x, y))
    across = (number + 2) % 4
    assert after[across] == pytest.approx(before[across], abs=0.01)
    assert kind_of(after) == "rectangle"
    assert not crosses_itself(after)
    assert abs((turn_of(after) - turn + 45) % 90 - 45) < 3 or min(size_of(after)) < 1


def test_a_corner_lands_where_it_is_dragged_to() -> None:
    assert with_corner(rectangle((50, 60), 40, 80), 2, (90, 130))[2] == (90, 130)
    assert with_corner(rectangle((50, 60), 40, 80), 2, (90, 130), free=True) == (
        (30, 20),
        (70, 20),
        (90, 130),
        (30, 100),
    )
    assert with_corner(TRIANGLE, 1, (80, 0))[1] == (80, 0)


def test_a_discs_rim_that_is_dragged_changes_its_diameter() -> None:
    after = with_corner(disc((50, 40), 30), 0, (70, 40))
    assert size_of(after)[0] == pytest.approx(40, abs=1e-3)
    assert centre_of(after) == pytest.approx((50, 40), abs=1e-3)


def test_typed_sizes_keep_the_middle_and_the_turn() -> None:
    shape = resized(rectangle((50, 60), 40, 80, 12), 45, 75)
    assert size_of(shape) == pytest.approx((45, 75), abs=1e-3)
    assert turn_of(shape) == pytest.approx(12, abs=0.01)
    assert centre_of(shape) == pytest.approx((50, 60), abs=1e-3)
    left, top, right, bottom = bounds(resized(TRIANGLE, 100, 30))
    assert (right - left, bottom - top) == pytest.approx((100, 30), abs=1e-3)


def test_points_are_added_on_a_side_and_taken_away() -> None:
    more = with_point_after(TRIANGLE, 2)
    assert more == (*TRIANGLE, (20.0, 40.0)), "after the last point, on the side back to the first"
    assert without_point(more, 3) == TRIANGLE
    assert without_point(TRIANGLE, 0) == TRIANGLE, "a triangle cannot lose one"


def test_the_nearest_side_is_found_with_its_foot() -> None:
    number, away, foot = side_near(rectangle((50, 50), 40, 40), (75, 55))
    assert (number, away, foot) == (1, 5.0, (70.0, 55.0))


@given(places, places)
def test_what_is_inside_a_disc_is_nearer_to_its_middle_than_its_rim(x: float, y: float) -> None:
    shape, away = disc((10, 20), 100), hypot(x - 10, y - 20)
    if abs(away - 50) > 0.2:
        assert holds(shape, (x, y)) == (away < 50)


def test_a_shape_becomes_another_kind_of_about_its_size() -> None:
    plate = rectangle((50, 60), 40, 80)
    assert size_of(as_kind(plate, "disc"))[0] == pytest.approx(40, abs=1e-3)
    assert size_of(as_kind(TRIANGLE, "rectangle")) == pytest.approx((50, 60))
    few = as_kind(disc((50, 60), 40), "polygon")
    assert kind_of(few) == "polygon"
    assert all(dist(each, (50, 60)) == pytest.approx(20, abs=1e-3) for each in few)


def test_a_shape_that_juts_out_is_shifted_back_where_it_fits() -> None:
    assert bounds(kept_inside(moved(rectangle((50, 60), 40, 80), -60, 200), 300, 200)) == (0, 120, 40, 200)
    shape = rectangle((50, 60), 40, 80)
    assert kept_inside(shape, 0, 0) == shape
