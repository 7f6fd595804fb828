"""A coupon cut onto its grid, and which pixels of the grid count."""

from __future__ import annotations

import numpy as np
import pytest

from rustboard.photo.cutting import (
    FINEST_GRID,
    GRID_STEP,
    MOST_GRID_PIXELS,
    cut_grid,
    grid_scale,
    inside,
    significant,
)
from rustboard.photo.looks import PAD_MM, CouponFrame, Motion
from rustboard.photo.placement import Placement
from rustboard.photo.source import source_of
from rustboard.scales.surface import significant_surface

OUTLINE = ((30.0, 40.0), (90.0, 40.0), (90.0, 120.0), (30.0, 120.0))
SIZE = (1200, 900)
STRAIGHT = (5.0, 0.0, 0.0, 0.0, 5.0, 0.0, 0.0, 0.0, 1.0)
"""5 pixels a millimetre, the board's corner in the photo's corner."""


def frame(scale: float = 5.0, **more: object) -> CouponFrame:
    return CouponFrame(1, "C01", OUTLINE, scale, **more)  # type: ignore[arg-type]


def picture_of(values: np.ndarray) -> np.ndarray:
    return np.repeat(values[:, :, None], 3, axis=2).astype(np.uint8)


def smooth_photo(function: object, size: tuple[int, int] = SIZE) -> np.ndarray:
    """A photo whose value at any place, in pixels from the outer corner, is a function of that place."""
    x, y = np.meshgrid(np.arange(size[0]) + 0.5, np.arange(size[1]) + 0.5)
    return picture_of(np.rint(function(x, y)))  # type: ignore[operator]


def test_a_straight_photo_at_the_grids_own_resolution_is_cut_pixel_by_pixel() -> None:
    photo = np.random.default_rng(1).integers(0, 256, (900, 1200, 3), np.uint8)
    cut = cut_grid(photo, Placement(STRAIGHT, SIZE), frame(), Motion())
    left, top = round((30 - PAD_MM) * 5), round((40 - PAD_MM) * 5)
    height, width = frame().shape
    assert cut.shown.all()
    assert np.array_equal(cut.rgb, photo[top : top + height, left : left + width])


@pytest.mark.parametrize("lens", [0.0, -0.06])
def test_every_pixel_shows_the_place_that_placement_and_motion_name(lens: float) -> None:
    placement = Placement((4.6, 0.5, 60.0, -0.4, 5.1, 80.0, -0.0004, 0.0003, 1.0), SIZE, lens)
    motion = Motion(1.4, -0.8, 3.0, 1.02)
    coupon = frame(6.0)
    cut = cut_grid(smooth_photo(lambda x, y: 40 + 0.1 * x + 0.08 * y), placement, coupon, motion)
    height, width = coupon.shape
    columns, rows = np.meshgrid(np.arange(0, width, 37) + 0.5, np.arange(0, height, 41) + 0.5)
    grid = np.stack([columns.ravel(), rows.ravel(), np.ones(columns.size)])
    board = motion.matrix(coupon.middle_mm) @ coupon.grid_to_mm() @ grid
    x, y = placement.to_px(board[:2].T).T
    seen = cut.rgb[rows.ravel().astype(int), columns.ravel().astype(int), 0]
    # 0.1 of a level for a pixel of the photo: one level is a rounding, three would be ten pixels.
    assert np.abs(seen - (40 + 0.1 * x + 0.08 * y)).max() < 1.0


@pytest.mark.parametrize("scale", [2.0, 2.5, 2.75, 5.0])
@pytest.mark.parametrize("lens", [0.0, -0.06])
def test_a_photo_made_ready_for_many_coupons_shows_the_same_places(scale: float, lens: float) -> None:
    placement = Placement((4.6, 0.5, 60.0, -0.4, 5.1, 80.0, -0.0004, 0.0003, 1.0), (1201, 901), lens)
    photo = smooth_photo(lambda x, y: 128 + 100 * np.sin(x / 23) * np.cos(y / 31), (1201, 901))
    motion = Motion(1.4, -0.8, 3.0, 1.02)
    at_once = cut_grid(photo, placement, frame(scale), motion)
    made_ready = cut_grid(source_of(photo), placement, frame(scale), motion)
    assert np.array_equal(at_once.shown, made_ready.shown)
    # The steepest slope is 4.3 levels a pixel: a quarter of a pixel aside would be more than one.
    apart = np.abs(at_once.rgb.astype(int) - made_ready.rgb)
    assert apart.mean() < 0.5
    assert apart.max() <= 4


def test_a_finer_photo_gives_each_pixel_the_mean_of_its_area() -> None:
    stripes = smooth_photo(lambda x, _y: np.where(x.astype(int) % 4 == 0, 255, 0), (3600, 2700))
    fine = tuple(each * 3 for each in STRAIGHT[:6]) + STRAIGHT[6:]
    cut = cut_grid(stripes, Placement(fine, (3600, 2700)), frame(), Motion())
    # A quarter of all columns is white; sampled at single places it would be anything between 0 and 255.
    assert cut.rgb.mean() == pytest.approx(255 / 4, abs=1.0)
    assert cut.rgb.max() <= 255 / 3 + 1


def test_what_the_photo_does_not_show_is_not_shown() -> None:
    moved = (5.0, 0.0, -300.0, 0.0, 5.0, 0.0, 0.0, 0.0, 1.0)
    cut = cut_grid(np.full((900, 1200, 3), 200, np.uint8), Placement(moved, SIZE), frame(), Motion())
    # The photo begins at board x = 60 mm; the grid at 22 mm.
    first = (60 - 22) * 5
    assert not cut.shown[:, :first].any()
    assert cut.shown[:, first + 1 :].all()
    assert (cut.rgb[cut.shown] == 200).all()


def test_a_coupon_outside_the_photo_is_not_shown_at_all() -> None:
    away = (5.0, 0.0, -3000.0, 0.0, 5.0, 0.0, 0.0, 0.0, 1.0)
    cut = cut_grid(np.zeros((900, 1200, 3), np.uint8), Placement(away, SIZE), frame(), Motion())
    assert cut.rgb.shape == (*frame().shape, 3)
    assert not cut.shown.any()


def test_the_significant_surface_is_that_of_the_scales() -> None:
    coupon = frame(5.3, margin_mm=3.0)
    wanted = significant_surface(coupon.on_grid(OUTLINE), coupon.shape, 3.0 * 5.3)
    assert np.array_equal(significant(coupon), wanted)
    assert np.array_equal(inside(coupon), significant_surface(coupon.on_grid(OUTLINE), coupon.shape))


def test_a_hole_and_the_margin_around_it_do_not_count() -> None:
    turns = np.linspace(0, 2 * np.pi, 48, endpoint=False)
    hole = tuple((60 + 4 * float(np.cos(each)), 50 + 4 * float(np.sin(each))) for each in turns)
    coupon = frame(8.0, margin_mm=2.0, excluded_mm=(hole,))
    lost = significant(frame(8.0, margin_mm=2.0)) & ~significant(coupon)
    rows, columns = np.nonzero(lost)
    x, y = (columns + 0.5) / 8 + 30 - PAD_MM, (rows + 0.5) / 8 + 40 - PAD_MM
    away = np.hypot(x - 60, y - 50)
    assert away.max() <= 6.0 + 1 / 8
    assert lost.sum() / 64 == pytest.approx(np.pi * 6.0**2, rel=0.02)
    assert inside(coupon)[rows, columns].all()


def test_masks_are_made_once_and_cannot_be_spoilt() -> None:
    assert significant(frame(5.0, margin_mm=3.0)) is significant(frame(5.0, margin_mm=3.0))
    with pytest.raises(ValueError, match="read-only"):
        significant(frame(5.0, margin_mm=3.0))[0, 0] = True


@pytest.mark.parametrize(
    ("photo_scale", "wanted"), [(5.0, 2.5), (5.1, 2.75), (3.0, 2.5), (2.0, 2.0), (0.2, 0.25), (40.0, FINEST_GRID)]
)
def test_the_grid_is_half_as_fine_as_the_photo_and_finer_where_the_photo_is_coarse(
    photo_scale: float, wanted: float
) -> None:
    placement = Placement((photo_scale, 0, 0, 0, photo_scale, 0, 0, 0, 1.0), (8000, 6000))
    assert grid_scale(placement, OUTLINE) == wanted


@pytest.mark.parametrize("side", [200.0, 3000.0, 6000.0])
def test_a_large_coupon_gets_no_larger_grid_than_can_be_afforded(side: float) -> None:
    placement = Placement((16.0, 0, 0, 0, 16.0, 0, 0, 0, 1.0), (8000, 6000))
    outline = ((10.0, 10.0), (10.0 + side, 10.0), (10.0 + side, 10.0 + side), (10.0, 10.0 + side))
    scale = grid_scale(placement, outline)
    height, width = CouponFrame(1, "L", outline, scale).shape
    assert 0.85 * MOST_GRID_PIXELS <= height * width <= 1.01 * MOST_GRID_PIXELS or scale % GRID_STEP == 0
    assert height * width <= 1.01 * MOST_GRID_PIXELS


def test_a_strip_of_pixels_is_made_ready_without_a_half():
    assert source_of(np.zeros((1, 70, 3), np.uint8)).half.shape == (0, 35, 3)
