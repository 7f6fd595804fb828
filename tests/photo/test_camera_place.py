"""Where the camera stood: against OpenCV's own projection of a camera whose place is known."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from rustboard.photo.camera_place import FOCAL_SHARE, camera_move, camera_place
from rustboard.photo.homography import placed_by_corners
from rustboard.photo.placement import Placement

SIZE_PX = (4000, 3000)
BOARD_MM = (600.0, 400.0)


def seen_from(at_mm: tuple[float, float, float], roll_deg: float = 0.0, focal: float = FOCAL_SHARE) -> Placement:
    """Return the placement of a camera that looks at the board's middle (projection: cv2.projectPoints)."""
    middle, eye = np.array([BOARD_MM[0] / 2, BOARD_MM[1] / 2, 0.0]), np.array(at_mm)
    forward = (middle - eye) / np.linalg.norm(middle - eye)
    right = np.cross([0.0, 1.0, 0.0], forward)
    right /= np.linalg.norm(right)
    rotation = np.stack([right, np.cross(forward, right), forward])
    roll = np.radians(roll_deg)
    rotation = np.array([[np.cos(roll), -np.sin(roll), 0], [np.sin(roll), np.cos(roll), 0], [0, 0, 1]]) @ rotation
    turned, _ = cv2.Rodrigues(rotation)
    length = focal * max(SIZE_PX)
    inner = np.array([[length, 0, SIZE_PX[0] / 2], [0, length, SIZE_PX[1] / 2], [0, 0, 1.0]])
    wide, high = BOARD_MM
    corners = np.array([(0, 0, 0), (wide, 0, 0), (wide, high, 0), (0, high, 0)], np.float64)
    px, _ = cv2.projectPoints(corners, turned, -rotation @ eye, inner, None)
    points = [(float(x), float(y)) for x, y in px[:, 0]]
    return Placement(placed_by_corners(points, wide, high), SIZE_PX)


@pytest.mark.parametrize("at", [(300, 200, -900), (100, 260, -700), (520, -40, -1200)])
@pytest.mark.parametrize("roll", [0, 7, -90, 180])
def test_the_place_is_that_of_the_camera(at: tuple[float, float, float], roll: float) -> None:
    found = camera_place(seen_from(at, roll))
    assert found.at_mm == pytest.approx(at, abs=0.5)


def test_a_move_is_told_as_one_who_faces_the_board_would() -> None:
    move = camera_move(seen_from((300, 200, -900)), seen_from((180, 170, -800), 4.0), (300, 200))
    assert move.right_mm == pytest.approx(-120, abs=1)
    assert move.up_mm == pytest.approx(30, abs=1)
    far = np.linalg.norm([120, 30, 800])
    assert move.nearer_mm == pytest.approx(900 - far, abs=1)
    assert move.sight_deg == pytest.approx(np.degrees(np.arccos(800 / far)), abs=0.1)
    assert move.finer == pytest.approx(900 / far, rel=0.01)
    assert move.turn_deg == pytest.approx(4.0, abs=1.0)


@pytest.mark.parametrize("turn", [90.0, 180.0, -90.0])
def test_a_phone_that_was_turned_stood_at_the_same_place(turn: float) -> None:
    move = camera_move(seen_from((320, 180, -900)), seen_from((320, 180, -900), turn), (300, 200))
    assert (move.right_mm, move.up_mm, move.nearer_mm) == pytest.approx((0, 0, 0), abs=0.5)
    assert abs(move.turn_deg) == pytest.approx(abs(turn), abs=0.2)


def test_a_lens_a_fifth_longer_than_thought_changes_a_move_by_less_than_two_fifths() -> None:
    longer = FOCAL_SHARE * 1.2
    move = camera_move(
        seen_from((300, 200, -900), focal=longer), seen_from((180, 200, -900), focal=longer), (300, 200)
    )
    assert move.right_mm == pytest.approx(-120, rel=0.4)
