"""The board by an earlier photo, and by four taps."""

import pickle
from functools import lru_cache

import numpy as np
import pytest
from board_pictures import AROUND_MM, BOARD, BOARD_CORNERS, HEIGHT_MM, WIDTH_MM, Camera, Drawing, drawn, photographed

from rustboard.photo.finding.board import find_board
from rustboard.photo.finding.corners import placed_by_taps
from rustboard.photo.finding.view import placed_view
from rustboard.support.problems import InputError

GRID = [(x, y) for x in np.linspace(0, 700, 8) for y in np.linspace(0, 400, 5)]
FIRST = Camera(size_px=(1600, 1200), k1=0.03)


def strays_px(found, camera):
    return float(np.hypot(*(found.placement.to_px(GRID) - camera.project(GRID)).T).max())


@lru_cache(maxsize=1)
def first_view():
    return placed_view(photographed(drawn(()), FIRST), FIRST.placement, BOARD)


@pytest.mark.parametrize("turn", [5, 95, 180])
def test_a_later_day_is_placed_by_an_earlier_photo_though_all_coupons_look_otherwise(turn):
    camera = Camera(size_px=(1600, 1200), k1=0.03, turn_deg=turn, tilt_deg=(10, -12), fills=0.75)
    found = find_board(photographed(drawn((), coupon_seed=2), camera), BOARD, (), [first_view()])
    assert found.method == "view"
    assert found.error_px < 1.0
    assert strays_px(found, camera) <= 1.5


def test_another_board_with_the_same_coupons_in_the_same_places_is_refused():
    picture = photographed(drawn((), seed=77, coupon_seed=5), Camera(size_px=(1600, 1200)))
    with pytest.raises(InputError, match="tap the four corners"):
        find_board(picture, BOARD, (), [first_view()])


def test_a_bare_board_that_looks_alike_turned_round_is_refused():
    blank = np.full((round((HEIGHT_MM + 2 * AROUND_MM) * 2), round((WIDTH_MM + 2 * AROUND_MM) * 2), 3), 120, np.uint8)
    drawing = Drawing(blank, 2.0).filled((0, 0, WIDTH_MM, HEIGHT_MM), (60, 60, 60))
    for column in range(7):
        for row in range(3):
            left, top = 42 + 92 * column, 20 + 125 * row
            drawing = drawing.filled((left, top, left + 64, top + 110), (170, 170, 170))
    camera = Camera(size_px=(1600, 1200), turn_deg=180)
    view = placed_view(photographed(drawing, FIRST), FIRST.placement, BOARD)
    with pytest.raises(InputError, match="tap the four corners"):
        find_board(photographed(drawing, camera), BOARD, (), [view])


def test_a_photo_with_nothing_to_go_by_is_refused():
    with pytest.raises(InputError, match="no earlier photo"):
        find_board(np.full((600, 800, 3), 99, np.uint8), BOARD, ())


def test_a_view_can_be_kept_and_is_small():
    kept = pickle.dumps(first_view())
    assert len(kept) < 2_000_000
    assert np.array_equal(pickle.loads(kept).grey, first_view().grey)


@pytest.mark.parametrize("camera", [Camera(tilt_deg=(10, -5), turn_deg=90), Camera(tilt_deg=(10, -5), k1=0.05)])
def test_exact_taps_place_the_board_as_the_camera_saw_it(camera):
    taps = [tuple(each) for each in camera.project(BOARD_CORNERS)]
    found = placed_by_taps(BOARD, taps, camera.size_px, camera.lens)
    assert (found.method, found.error_px, found.warnings) == ("corners", None, ())
    assert strays_px(found, camera) < 0.01


@pytest.mark.parametrize("taps", [[(0, 0), (10, 10)], [(0, 0), (0, 900), (900, 900), (900, 0)], [(5, np.nan)] * 4])
def test_taps_that_are_no_board_are_refused(taps):
    with pytest.raises(InputError, match="corners"):
        placed_by_taps(BOARD, taps, (1000, 1000))
