"""The painter: what it says is true is what it has painted, and the same seed always gives the same."""

from __future__ import annotations

import io
from itertools import pairwise

import cv2
import numpy as np
import pytest
from PIL import Image, ImageOps

from scenes import Options, scene
from scenes.rust_growth import PIXELS_PER_MM

EASY = Options(coupons=(4, 2), light="overcast", wet=False, debris=False, turned=False, tilt_deg=12.0, clear=True)


def _decoded(jpeg: bytes) -> np.ndarray:
    with Image.open(io.BytesIO(jpeg)) as picture:
        return np.asarray(ImageOps.exif_transpose(picture))


def test_percent_is_the_painted_coverage_counted_over_the_significant_surface() -> None:
    painted = scene(3, megapixels=0.5, photos=4, options=EASY)
    truth = painted.photo(3).truth
    for coupon in painted.by_id:
        rusted = painted.growth(coupon).coverage(3) >= 128
        surface = painted.significant(coupon)
        assert truth[coupon].percent == pytest.approx(100 * rusted[surface].mean(), abs=1e-9)
        same = painted.true_mask(3, coupon, PIXELS_PER_MM)
        assert np.array_equal(same, rusted)
    assert max(each.percent for each in truth.values()) > 1


def test_significant_surface_is_the_outline_less_its_margin() -> None:
    painted = scene(3, megapixels=0.5, photos=2, options=Options(coupons=(3, 2), shapes=False))
    for coupon in painted.board.coupons:
        left, top, right, bottom = coupon.box_mm
        margin = painted.board.edge_margin_mm
        expected = (right - left - 2 * margin) * (bottom - top - 2 * margin)
        counted = painted.significant(coupon.id).sum() / PIXELS_PER_MM**2
        assert counted == pytest.approx(expected, rel=0.01)


def test_rust_never_shrinks() -> None:
    painted = scene(4, megapixels=0.5, photos=6, options=EASY)
    for coupon in painted.by_id:
        masks = [painted.growth(coupon).mask(number) for number in range(painted.count)]
        for earlier, later in pairwise(masks):
            assert not np.any(earlier & ~later)


def test_day_zero_is_unrusted_unless_told() -> None:
    clean = scene(5, megapixels=0.5, photos=3, options=Options(day_zero_rust=False))
    assert all(each.percent == 0 for each in clean.truth(0).values())
    rusted = scene(5, megapixels=0.5, photos=3, options=Options(day_zero_rust=True))
    assert any(each.percent > 0 for each in rusted.truth(0).values())


@pytest.mark.parametrize("lens", [0.0, 0.02, -0.02])
def test_markers_are_where_the_placement_says(lens: float) -> None:
    options = Options(coupons=(4, 2), light="overcast", wet=False, turned=False, tilt_deg=15.0, lens=lens, clear=True)
    painted = scene(6, megapixels=3, photos=1, options=options)
    picture = _decoded(painted.photo(0).jpeg)
    parameters = cv2.aruco.DetectorParameters()
    parameters.cornerRefinementMethod = cv2.aruco.CORNER_REFINE_SUBPIX
    detector = cv2.aruco.ArucoDetector(cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_50), parameters)
    corners, ids, _ = detector.detectMarkers(cv2.cvtColor(picture, cv2.COLOR_RGB2GRAY))
    found = {int(each): place[0] + 0.5 for each, place in zip(ids.ravel(), corners, strict=True)}
    assert set(found) == {0, 1, 2, 3}
    camera = painted.conditions[0].camera
    for number, x, y, size in painted.board.markers:
        half = size / 2
        square = np.array([(-half, -half), (half, -half), (half, half), (-half, half)]) + np.array([x, y])
        # OpenCV's own projection as the second opinion; it counts pixels from the middle of the first.
        inner = camera.inner.copy()
        inner[:2, 2] -= 0.5
        turn, _ = cv2.Rodrigues(camera.rotation)
        ideal, _ = cv2.projectPoints(np.c_[square, np.zeros(4)], turn, camera.translation_mm, inner, None)
        expected = camera.bent(ideal[:, 0] + 0.5)
        assert np.abs(found[number] - expected).max() < 1.0


def test_a_raised_plane_agrees_with_opencv() -> None:
    camera = scene(7, megapixels=3, photos=1).conditions[0].camera
    points = np.array([(100.0, 80.0, -4.0), (600, 80, -4.0), (350, 300, -4.0)])
    turn, _ = cv2.Rodrigues(camera.rotation)
    ideal, _ = cv2.projectPoints(points, turn, camera.translation_mm, camera.inner, None)
    homogeneous = np.c_[points[:, :2], np.ones(3)] @ camera.plane(4.0).T
    assert np.allclose(ideal[:, 0], homogeneous[:, :2] / homogeneous[:, 2:], atol=1e-6)


def test_the_same_seed_gives_the_same_bytes_in_any_order() -> None:
    options = Options(coupons=(3, 2))
    first, second = (scene(8, megapixels=0.4, photos=3, options=options) for _ in range(2))
    second.photo(2)
    assert first.photo(1).jpeg == second.photo(1).jpeg
    assert first.photo(1).truth == second.photo(1).truth
    assert first.plan == second.plan
    assert scene(9, megapixels=0.4, photos=3, options=options).photo(1).jpeg != first.photo(1).jpeg


def test_truth_does_not_depend_on_the_size_of_the_photos() -> None:
    small, large = (scene(10, megapixels=size, photos=4) for size in (0.3, 2))
    assert [each.percent for each in small.truth(3).values()] == [each.percent for each in large.truth(3).values()]


def test_a_turned_file_is_upright_again_by_its_tag() -> None:
    options = Options(coupons=(3, 2), turned=True, roll_deg=0.0)
    painted = scene(11, megapixels=0.4, photos=8, options=options)
    seen = set()
    for number in range(painted.count):
        photo = painted.photo(number)
        seen.add(photo.conditions["orientation"])
        upright, expected = _decoded(photo.jpeg).astype(float), painted.picture(number).astype(float)
        assert upright.shape == expected.shape == (photo.size_px[1], photo.size_px[0], 3)
        assert np.abs(upright - expected).mean() < 8
    assert seen & {6, 8}
