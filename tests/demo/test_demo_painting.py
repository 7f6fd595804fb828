"""The painted photos: exact areas, growth only, markers and coupons where the plan says."""

from dataclasses import replace

import numpy as np
import pytest
from PIL import Image

from rustboard.app.demo import camera, painter
from rustboard.app.demo.fittings import marker_plate
from rustboard.app.demo.harbour import HARBOUR
from rustboard.app.demo.porch import PORCH
from rustboard.app.demo.rusting import FACE_SHAPE, PaintedCoupon, painted_coupon
from rustboard.app.demo.scenario import DemoBoard
from rustboard.board.model import Inspection
from rustboard.photo.crops import cut_coupon
from rustboard.photo.decode import open_upright
from rustboard.photo.homography import as_matrix, mapped
from rustboard.scales.marker_patterns import MARKER_PATTERNS

PERCENTS = (0.0, 0.002, 0.01, 0.03, 0.1, 0.37, 1.0, 4.4, 16.0, 50.0, 97.0)


@pytest.fixture(scope="module", params=[("T1", "S"), ("T7", "G"), ("T5", "P")], ids=lambda each: each[1])
def coupon(request: pytest.FixtureRequest) -> PaintedCoupon:
    treatment, letter = request.param
    return painted_coupon(treatment, letter, 2103)


def test_the_rusted_share_of_the_significant_surface_is_the_true_percent_to_the_pixel(coupon: PaintedCoupon):
    counted = np.count_nonzero(coupon.counted)
    for percent in PERCENTS:
        rusted = np.count_nonzero(coupon.rusted(percent) & coupon.counted)
        assert abs(rusted - percent / 100 * counted) <= 0.5


def test_rust_only_grows(coupon: PaintedCoupon):
    before = np.zeros(FACE_SHAPE, np.bool_)
    for percent in PERCENTS:
        now = coupon.rusted(percent)
        assert not np.any(before & ~now)
        before = now


def test_only_the_rusted_pixels_are_painted(coupon: PaintedCoupon):
    clean, rusty = coupon.face(0.0, 20.0), coupon.face(4.4, 20.0)
    changed = np.any(clean != rusty, axis=2)
    rusted = coupon.rusted(4.4)
    assert not np.any(changed & ~rusted)
    # A rust colour may by chance be the ground's own.
    assert np.count_nonzero(rusted & ~changed) < 0.01 * np.count_nonzero(rusted)


def test_rust_is_redder_than_every_ground():
    for treatment in ("T1", "T2", "T3", "T4", "T5", "T6", "T7"):
        painted = painted_coupon(treatment, "G", 77)
        face = painted.face(30.0, 30.0).astype(float)
        share = face[:, :, 0] / face.sum(axis=2)
        assert share[painted.rusted(30.0)].mean() > 0.1 + share[~painted.rusted(30.0)].mean()


def test_the_counted_surface_is_the_outline_less_the_edge_margin(coupon: PaintedCoupon):
    # By hand: 60 x 120 mm less 3 mm all round is 54 x 114 mm, at 6 pixels a millimetre.
    assert np.count_nonzero(coupon.counted) == 54 * 6 * 114 * 6


def test_every_coupon_has_a_drawing_of_its_own():
    one, other = (painted_coupon("T7", "G", seed) for seed in (1, 2))
    assert np.mean(one.rusted(20.0) == other.rusted(20.0)) < 0.9


def small(demo: DemoBoard, *days: int) -> tuple[DemoBoard, list[Inspection]]:
    """The board with the first coupon of each row only, and some of its visits."""
    coupons = tuple(each for each in demo.plan.coupons if each.position.column == 0)
    visits = [each for each in demo.visits if round(demo.day_of(each)) in days]
    return replace(demo, plan=replace(demo.plan, coupons=coupons)), visits


def nobody() -> None:
    """Nobody wants to know how far it is."""


@pytest.mark.parametrize("demo", [HARBOUR, PORCH], ids=["harbour", "porch"])
def test_two_paintings_of_one_visit_are_the_same_file(demo: DemoBoard):
    board, visits = small(demo, 14)
    (one,), (other,) = (list(painter.painted_photos(board, visits, nobody)) for _ in range(2))
    assert one.jpeg == other.jpeg
    assert len(one.jpeg) < 700_000
    photo = open_upright(one.jpeg)
    assert (photo.width, photo.height) == (one.width_px, one.height_px)
    assert photo.width == 2100


@pytest.mark.parametrize("demo", [HARBOUR, PORCH], ids=["harbour", "porch"])
def test_every_photo_shows_the_whole_board_and_nothing_beyond_the_drawing(demo: DemoBoard):
    board = demo.plan.board
    width, height = camera.PHOTO_WIDTH_PX, camera.photo_height_px(board.height_mm)
    corners = [(0, 0), (board.width_mm, 0), (board.width_mm, board.height_mm), (0, board.height_mm)]
    rows, columns = painter.plane_shape(board)
    for number in range(len(demo.visits)):
        view = as_matrix(camera.viewpoint(board.width_mm, board.height_mm, demo.seed, number))
        seen = mapped(view, corners)
        assert np.all(seen > 0)
        assert np.all(seen < (width, height))
        drawn = mapped(
            np.linalg.inv(view @ painter.plane_to_mm()), [(0, 0), (width, 0), (width, height), (0, height)]
        )
        assert np.all(drawn >= 0)
        assert np.all(drawn <= (columns, rows))


def overlap(one: np.ndarray, other: np.ndarray) -> float:
    return float(np.count_nonzero(one & other) / np.count_nonzero(one | other))


@pytest.mark.parametrize("number", [0, 6, 12])
def test_a_cut_coupon_lies_exactly_where_the_coupon_was_painted(number: int):
    plan = HARBOUR.plan
    white = [np.full((360, 180, 3), 255, np.uint8)] * len(plan.coupons)
    black = np.zeros((*painter.plane_shape(plan.board), 3), np.uint8)
    bare = replace(HARBOUR, plan=replace(plan, markers=()))
    plane = painter.with_coupons(black, bare, white)
    view = camera.viewpoint(plan.board.width_mm, plan.board.height_mm, HARBOUR.seed, number)
    size = (camera.PHOTO_WIDTH_PX, camera.photo_height_px(plan.board.height_mm))
    photo = Image.fromarray(camera.seen(plane, painter.plane_to_mm(), view, size))
    for coupon in plan.coupons:
        cut = cut_coupon(photo, view, coupon.outline_mm, pixels_per_mm=3.0, margin_mm=2.0)
        lit = cut.rgb[:, :, 0] > 127
        # Studs are light too and reach 2 mm beside the coupon; rows without a stud judge the sides.
        rows = np.r_[0:24, 100:260, 344 : lit.shape[0]]
        assert overlap(lit[rows], cut.mask[rows]) > 0.98


def test_the_marker_patterns_are_those_of_the_dictionary_they_are_named_after():
    import cv2

    dictionary = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_50)
    for number, rows in enumerate(MARKER_PATTERNS):
        drawn = cv2.aruco.generateImageMarker(dictionary, number, 6)
        assert ["".join(str(each // 255) for each in row) for row in drawn[1:5, 1:5].tolist()] == list(rows)


def test_a_marker_has_a_black_frame_one_cell_wide_on_a_white_plate():
    light, cover = marker_plate(0, 30.0, 3)
    dark = light.mean(axis=2) < 128
    black = dark[12:-12, 12:-12]
    assert cover.shape == (38 * 3, 38 * 3)
    assert not dark[:12].any()
    assert not dark[:, -12:].any()
    assert black[:15].all()
    assert black[:, -15:].all()
    cells = ~black[22:75:15, 22:75:15]
    assert ["".join("01"[int(each)] for each in row) for row in cells] == list(MARKER_PATTERNS[0])


@pytest.mark.parametrize(
    ("demo", "day"), [(HARBOUR, 14), (HARBOUR, 28), (PORCH, 49)], ids=["wet", "low sun", "porch"]
)
def test_a_marker_finder_finds_the_markers_where_the_photo_says(demo: DemoBoard, day: int):
    import cv2

    board, visits = small(demo, day)
    (photo,) = painter.painted_photos(board, visits, nobody)
    grey = np.asarray(open_upright(photo.jpeg).convert("L"))
    dictionary = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_50)
    finely = cv2.aruco.DetectorParameters()
    finely.cornerRefinementMethod = cv2.aruco.CORNER_REFINE_SUBPIX
    corners, ids, _ = cv2.aruco.ArucoDetector(dictionary, finely).detectMarkers(grey)
    assert sorted(ids.ravel().tolist()) == [0, 1, 2, 3]
    markers = {each.id: each for each in demo.plan.markers}
    for found, number in zip(corners, ids.ravel().tolist(), strict=True):
        (x, y), half = markers[number].centre_mm, markers[number].size_mm / 2
        square = [(x - half, y - half), (x + half, y - half), (x + half, y + half), (x - half, y + half)]
        # OpenCV counts from the middle of the first pixel, the program from its corner.
        off = found.reshape(4, 2) + 0.5 - mapped(as_matrix(photo.mm_to_px), square)
        assert np.hypot(*off.T).max() < 1.0
        assert np.hypot(*off.mean(axis=0)) < 0.5
