"""The painter: what it says is true is what it has painted, and the same seed always gives the same."""

from __future__ import annotations

import io
import json
from itertools import pairwise

import cv2
import numpy as np
import pytest
from PIL import Image, ImageOps

from rustboard.board.json_fields import parse_json
from rustboard.board.plan_json import read_plan_object
from rustboard.board.problem_list import ProblemList
from scenes import Options, scene
from scenes.camera import for_opencv, mapped, scaled, shifted
from scenes.rust_growth import PIXELS_PER_MM

EASY = Options(coupons=(4, 2), light="overcast", wet=False, debris=False, turned=False, tilt_deg=12.0, clear=True)


def _decoded(jpeg: bytes) -> np.ndarray:
    with Image.open(io.BytesIO(jpeg)) as picture:
        return np.asarray(ImageOps.exif_transpose(picture))


def test_percent_is_the_rust_counted_over_the_significant_surface_and_the_coverage_painted() -> None:
    painted = scene(3, megapixels=0.5, photos=4, options=EASY)
    truth = painted.photo(3).truth
    for coupon in painted.by_id:
        growth, surface = painted.growth(coupon), painted.significant(coupon)
        assert truth[coupon].percent == pytest.approx(100 * growth.rusted(3)[surface].mean(), abs=1e-9)
        covered = growth.coverage(3)
        # Soft rims move no area, but for what they carry over the edge of the surface.
        assert 100 * covered[surface].mean() / 255 == pytest.approx(truth[coupon].percent, rel=0.05, abs=0.05)
        assert np.array_equal(painted.true_mask(3, coupon, PIXELS_PER_MM), covered >= 128)
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
        masks = [painted.growth(coupon).rusted(number) for number in range(painted.count)]
        for earlier, later in pairwise(masks):
            assert not np.any(earlier & ~later)


def test_day_zero_is_unrusted_unless_told() -> None:
    clean = scene(5, megapixels=0.5, photos=3, options=Options(coupons=(3, 2), day_zero_rust=False))
    assert all(each.percent == 0 for each in clean.truth(0).values())
    rusted = scene(5, megapixels=0.5, photos=3, options=Options(coupons=(3, 2), day_zero_rust=True))
    assert any(each.percent > 0 for each in rusted.truth(0).values())


@pytest.mark.parametrize("lens", [0.0, 0.02, -0.02])
def test_markers_are_where_the_placement_says(lens: float) -> None:
    options = Options(coupons=(4, 2), light="overcast", wet=False, turned=False, tilt_deg=15, lens=lens, clear=True)
    painted = scene(6, megapixels=3, photos=1, options=options)
    picture = _decoded(painted.photo(0).jpeg)
    parameters = cv2.aruco.DetectorParameters()
    parameters.cornerRefinementMethod = cv2.aruco.CORNER_REFINE_SUBPIX
    detector = cv2.aruco.ArucoDetector(cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_50), parameters)
    # Blur mixes light, not its 8-bit codes: in codes the white paper would seem to eat into the black square.
    light = 255 * (cv2.cvtColor(picture, cv2.COLOR_RGB2GRAY) / 255.0) ** 2.2
    corners, ids, _ = detector.detectMarkers(light.astype(np.uint8))
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
        away = found[number] - expected
        assert np.abs(away).max() < 1.0
        assert np.abs(away.mean(axis=0)).max() < 0.4  # of the whole marker: no shift


def test_a_raised_plane_agrees_with_opencv() -> None:
    camera = scene(7, megapixels=3, photos=1, options=Options(coupons=(3, 2))).conditions[0].camera
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
    small, large = (scene(10, megapixels=size, photos=4, options=Options(coupons=(3, 2))) for size in (0.3, 2))
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


def test_motion_says_where_a_raised_and_askew_coupon_appears() -> None:
    painted = scene(14, megapixels=1, photos=3, options=Options(coupons=(4, 2), tilt_deg=15.0, lens=0.01))
    camera = painted.conditions[2].camera
    for coupon in painted.board.coupons:
        motion = painted.truth(2)[coupon.id].motion
        assert motion.scale > 1  # nearer to the camera than the board
        seen = mapped(painted.coupon_to_px(2, coupon.id), coupon.outline_mm)
        turn = motion.scale * np.exp(1j * np.radians(motion.turn_deg))
        middle = complex(*coupon.middle_mm)
        moved = [
            turn * (complex(*each) - middle) + middle + complex(motion.dx_mm, motion.dy_mm)
            for each in coupon.outline_mm
        ]
        expected = mapped(camera.plane(), [(each.real, each.imag) for each in moved])
        assert np.abs(seen - expected).max() < 0.2 * painted._pixels_per_mm


def test_pixels_of_a_coupon_are_where_its_matrix_says() -> None:
    """Rust of a strong colour on a bright coupon: the mask, taken into the photo, covers what is orange there."""
    options = Options(
        coupons=(3, 2), finish="blasted", light="overcast", wet=False, debris=False, lens=0.0, clear=True
    )
    painted = scene(15, megapixels=3, photos=8, options=options)
    picture = painted.picture(7).astype(np.float32)
    orange = picture[..., 0] / (picture[..., 2] + 1)
    grid = 5.0
    compared = 0
    for coupon in painted.board.coupons:
        mask = painted.true_mask(7, coupon.id, grid)
        if not 0.02 < mask.mean() < 0.9:
            continue
        left, top, _, _ = coupon.box_mm
        to_px = painted.coupon_to_px(7, coupon.id) @ shifted(left, top) @ scaled(1 / grid)
        rows, columns = mask.shape
        flags = cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP
        cut = cv2.warpPerspective(orange, for_opencv(to_px), (columns, rows), flags=flags)
        inside = cv2.erode(mask.astype(np.uint8), np.ones((5, 5))) > 0
        outside = (cv2.dilate(mask.astype(np.uint8), np.ones((9, 9))) == 0) & (coupon.filled(grid) == 255)
        if inside.any():
            compared += 1
            assert np.median(cut[inside]) > 1.15 * np.median(cut[outside])
    assert compared


def test_a_missing_coupon_has_no_percent_and_a_swapped_one_says_who_hangs_there() -> None:
    lost = scene(16, megapixels=0.3, photos=3, options=Options(coupons=(4, 2), missing=0.5))
    truths = [each for number in range(3) for each in lost.truth(number).values()]
    assert any(each.missing for each in truths)
    assert all(np.isnan(each.percent) == each.missing for each in truths)
    assert not any(each.missing for each in lost.truth(0).values())
    swapped = scene(16, megapixels=0.3, photos=3, options=Options(coupons=(4, 2), swapped=1.0, shapes=False))
    truth = swapped.truth(2)
    moved = {place: each.hanging for place, each in truth.items() if each.hanging != place}
    assert len(moved) == 2
    for place, hanging in moved.items():
        assert moved[hanging] == place
        assert truth[place].percent == swapped.growth(hanging).percent(2)


def test_debris_comes_and_goes_for_good() -> None:
    painted = scene(17, megapixels=0.3, photos=8, hard=True, options=Options(coupons=(4, 3)))
    for coupon, things in painted.debris.items():
        shares = [painted.truth(number)[coupon].debris_percent for number in range(8)]
        for thing in things:
            assert 1 <= thing.first <= thing.last < 8
        lying = {number for thing in things for number in range(thing.first, thing.last + 1)}
        assert all(share == 0 for number, share in enumerate(shares) if number not in lying)
    assert any(painted.debris.values())


def test_the_plan_is_one_the_program_reads() -> None:
    painted = scene(18, megapixels=0.3, photos=1)
    problems = ProblemList("scene.json")
    plan = read_plan_object(parse_json(json.dumps(painted.plan).encode(), problems), problems)
    assert problems.listed() == []
    assert [each.id for each in plan.coupons] == list(painted.by_id)
    assert len(plan.markers) == 4
    assert scene(18, megapixels=0.3, photos=1, options=Options(markers=False)).plan["markers"] == []
