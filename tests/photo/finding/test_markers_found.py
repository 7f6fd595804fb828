"""The board by its markers: as near as half a pixel to OpenCV's own projection, and refused with a reason."""

from dataclasses import replace

import cv2
import numpy as np
import pytest
from board_pictures import BOARD, BOARD_CORNERS, MARKERS, Camera, drawn, photographed
from hypothesis import given, settings
from hypothesis import strategies as st

from rustboard.board.model import Board, Marker
from rustboard.photo.finding.board import find_board
from rustboard.photo.finding.joint_fit import joint_fit, plain_homography, square_mm
from rustboard.support.problems import InputError

GRID = [(x, y) for x in np.linspace(0, 700, 8) for y in np.linspace(0, 400, 5)]
WOOD = (90, 80, 50)


def strays_px(found, camera, places=GRID):
    return float(np.hypot(*(found.placement.to_px(places) - camera.project(places)).T).max())


def found_in(camera, drawing=None, **looks):
    return find_board(photographed(drawing or drawn(), camera, **looks), BOARD, MARKERS)


def covered(*ids, reach=22, away=(0, 0)):
    drawing = drawn()
    for number in ids:
        x, y = MARKERS[number].centre_mm[0] + away[0], MARKERS[number].centre_mm[1] + away[1]
        drawing = drawing.filled((x - reach, y - reach, x + reach, y + reach), WOOD)
    return drawing


def moved(number, dx, dy):
    markers = list(MARKERS)
    x, y = markers[number].centre_mm
    markers[number] = replace(markers[number], centre_mm=(x + dx, y + dy))
    return drawn(tuple(markers))


def renumbered(order):
    return drawn(tuple(replace(each, id=order[each.id]) for each in MARKERS))


def refusal(picture, board=BOARD, markers=MARKERS):
    with pytest.raises(InputError) as caught:
        find_board(picture, board, markers)
    return caught.value.problem.what


def test_at_twelve_megapixels_a_bent_and_tilted_view_agrees_with_opencvs_projection():
    camera = Camera(size_px=(4000, 3000), turn_deg=3, tilt_deg=(10, -8), k1=0.03)
    found = found_in(camera, drawn(pixels_per_mm=6.0))
    assert found.method == "markers"
    assert found.warnings == ()
    assert found.error_px < 0.3
    assert strays_px(found, camera) <= 0.5
    assert found.placement.lens == pytest.approx(camera.lens, abs=2e-3)


@settings(max_examples=12)
@given(
    st.floats(0, 360),
    st.floats(0, 25),
    st.floats(0, 360),
    st.floats(-0.06, 0.06),
    st.floats(0.55, 0.75),
)
def test_any_view_up_to_25_degrees_agrees_with_opencvs_projection(turn, tilt, toward, k1, fills):
    slant = (tilt * np.cos(np.radians(toward)), tilt * np.sin(np.radians(toward)))
    camera = Camera(size_px=(1600, 1200), turn_deg=turn, tilt_deg=slant, k1=k1, fills=fills)
    assert strays_px(found_in(camera), camera, BOARD_CORNERS) <= 0.75


# Bends such as phones have. The fit expects small ones (`LENS_USUALLY`) and so pulls any by a thousandth of itself.
@given(st.floats(-0.06, 0.06), st.floats(-20, 20), st.floats(-20, 20))
def test_exact_corners_give_opencvs_view_and_lens_back(k1, about_x, about_y):
    camera = Camera(k1=k1, tilt_deg=(about_x, about_y))
    corners = np.stack([camera.project(square_mm(each)) for each in MARKERS])
    fit = joint_fit(MARKERS, corners, np.ones((4, 4), bool), camera.size_px)
    assert np.hypot(*(fit.placement.to_px(GRID) - camera.project(GRID)).T).max() < 0.05
    assert fit.placement.lens == pytest.approx(camera.lens, abs=1e-4)


def test_the_plain_homography_agrees_with_opencvs_perspective_transform():
    corners = np.array([(102.0, 88.5), (1980.0, 131.0), (1921.5, 1207.0), (77.0, 1160.0)])
    board = np.array(BOARD_CORNERS)
    theirs = cv2.getPerspectiveTransform(board.astype(np.float32), corners.astype(np.float32))
    places = np.array([GRID])
    expected = cv2.perspectiveTransform(places, theirs)[0]
    ours = cv2.perspectiveTransform(places, plain_homography(board, corners))[0]
    np.testing.assert_allclose(ours, expected, atol=1e-3)  # theirs was given single precision


@pytest.mark.parametrize("turn", [90, 180, 270])
def test_sideways_and_upside_down_is_usual(turn):
    camera = Camera(turn_deg=turn, tilt_deg=(8, 5))
    assert strays_px(found_in(camera), camera) <= 0.5


@pytest.mark.parametrize(("blur", "noise"), [(2.5, 3), (0.7, 15)])
def test_blur_and_noise_cost_little(blur, noise):
    camera = Camera(tilt_deg=(5, -5), k1=0.02)
    assert strays_px(found_in(camera, blur_px=blur, noise=noise), camera) <= 0.75


def test_a_marker_under_a_leaf_is_left_out_with_a_warning():
    camera = Camera(tilt_deg=(5, 9), k1=0.03)
    found = found_in(camera, covered(2))
    assert found.warnings == ("Marker 2 is not found; the others placed the board.",)
    assert strays_px(found, camera) <= 1.0


@pytest.mark.parametrize("away", [(12, 12), (-12, 12)])
def test_a_marker_with_one_corner_covered_still_counts(away):
    camera = Camera(tilt_deg=(5, 9), k1=0.03)
    found = found_in(camera, covered(2, reach=8, away=away))
    assert not any("not found" in each for each in found.warnings)
    assert strays_px(found, camera) <= 0.5


@pytest.mark.parametrize("pair", [(1, 2), (0, 2)])
def test_two_markers_apart_place_the_board_with_a_warning(pair):
    camera = Camera(tilt_deg=(5, 9))
    found = found_in(camera, covered(*pair))
    assert any("not found" in each for each in found.warnings)
    assert strays_px(found, camera) <= 1.5


def test_one_marker_is_not_enough():
    assert "Only marker 1 was found" in refusal(photographed(covered(0, 2, 3), Camera()))


def test_a_marker_that_was_moved_is_left_out():
    camera = Camera(tilt_deg=(5, 9), k1=0.03)
    found = found_in(camera, moved(2, -6, 0))
    assert found.warnings == ("Marker 2 seems to have moved by about 6 mm; it was left out.",)
    assert strays_px(found, camera) <= 1.0


def test_exchanged_markers_are_named():
    what = refusal(photographed(renumbered({0: 1, 1: 0, 2: 2, 3: 3}), Camera()))
    assert what.startswith("Markers 0 and 1 hang in each other's place")


def test_another_boards_markers_are_named():
    what = refusal(photographed(renumbered({0: 7, 1: 8, 2: 9, 3: 10}), Camera()))
    assert what.startswith("Markers 7, 8, 9 and 10 show in this photo, which are not this board's")


def test_a_marker_seen_twice_is_taken_where_it_fits():
    camera = Camera(tilt_deg=(5, -5))
    assert strays_px(found_in(camera, drawn((*MARKERS, Marker(2, (360, 200), 40.0)))), camera) <= 0.5


def test_markers_printed_a_little_small_do_not_bend_the_lens():
    camera = Camera(tilt_deg=(5, 9), k1=0.03)
    found = found_in(camera, drawn(tuple(replace(each, size_mm=29.0) for each in MARKERS)))
    assert found.placement.lens == pytest.approx(camera.lens, abs=2e-3)
    assert strays_px(found, camera) <= 0.5


def test_a_mirrored_photo_is_refused():
    picture = np.ascontiguousarray(photographed(drawn(), Camera())[:, ::-1])
    assert "mirrored" in refusal(picture)


def test_a_photo_without_the_board_is_refused():
    assert "None of this board's markers" in refusal(np.full((1200, 1600, 3), 130, np.uint8))


def test_a_board_mostly_outside_the_photo_is_refused():
    assert "outside this photo" in refusal(photographed(drawn(), Camera(shift_mm=(380, 0))))


def test_a_record_with_another_size_of_board_is_refused():
    wider = tuple(replace(each, centre_mm=(each.centre_mm[0] * 1.5, each.centre_mm[1])) for each in MARKERS)
    board = Board("wider", width_mm=1050.0, height_mm=400.0)
    assert "as the record has" in refusal(photographed(drawn(), Camera()), board, wider)
