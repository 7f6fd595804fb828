"""A pinhole camera with a lens that bends a little, looking at a board: places in mm to places in pixels.

The board is the plane z = 0, x to the right, y downward; what stands off the board is nearer to the camera. Pixels
are counted from the outer corner of the top left pixel, whose centre is (0.5, 0.5).
"""

from __future__ import annotations

from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

from scenes.colour import Plane

Matrix = NDArray[np.float64]
_HALF = np.array([[1, 0, 0.5], [0, 1, 0.5], [0, 0, 1.0]])


@dataclass(frozen=True)
class Camera:
    """Where the camera is and how it looks.

    Attributes:
        size_px: width and height of the upright photo. focal_px: distance of the picture behind the pinhole.
        rotation: 3 x 3, from the board's directions to the camera's (x right, y down, z into the scene).
        translation_mm: the board's top left corner as the camera sees it.
        lens: places move away from the middle by 1 + lens * r * r, r = 1 at the picture's corners.
    """

    size_px: tuple[int, int]
    focal_px: float
    rotation: Matrix
    translation_mm: Matrix
    lens: float = 0.0

    @property
    def inner(self) -> Matrix:
        """The matrix from the camera's directions to pixels."""
        width, height = self.size_px
        return np.array([[self.focal_px, 0, width / 2], [0, self.focal_px, height / 2], [0, 0, 1.0]])

    def plane(self, height_mm: float = 0.0) -> Matrix:
        """Return the homography from mm on a plane that stands ``height_mm`` off the board to ideal pixels."""
        sideways, down, inward = self.rotation.T
        seen: Matrix = self.inner @ np.column_stack([sideways, down, self.translation_mm - height_mm * inward])
        return seen / seen[2, 2]

    def bent(self, points_px: Matrix) -> Matrix:
        """Return where the lens shows what a perfect one would show at ``points_px`` (n x 2)."""
        middle = np.array(self.size_px) / 2
        away = (points_px - middle) / float(np.hypot(*middle))
        return middle + (points_px - middle) * (1 + self.lens * np.sum(away**2, axis=1, keepdims=True))

    def through_lens(self, ideal: Plane) -> Plane:
        """Return the picture that the lens makes of what a perfect one would show."""
        if self.lens == 0:
            return ideal
        width, height = self.size_px
        columns, rows = max(width // 16, 2), max(height // 16, 2)
        # Where each place of a coarse grid comes from, by fixed-point steps; the bend is far smoother than the grid.
        x, y = np.meshgrid((np.arange(columns) + 0.5) / columns - 0.5, (np.arange(rows) + 0.5) / rows - 0.5)
        x, y = x * width, y * height
        seen = np.hypot(x, y) / (np.hypot(width, height) / 2)
        radius = seen.copy()
        for _ in range(12):
            radius = seen / (1 + self.lens * radius**2)
        share = 1 / (1 + self.lens * radius**2)
        moves = [cv2.resize((each * (share - 1)).astype(np.float32), (width, height)) for each in (x, y)]
        moves[0] += np.arange(width, dtype=np.float32)[None]
        moves[1] += np.arange(height, dtype=np.float32)[:, None]
        return cv2.remap(ideal, moves[0], moves[1], cv2.INTER_CUBIC, borderMode=cv2.BORDER_REPLICATE)


def mapped(matrix: Matrix, points: object) -> Matrix:
    """Return points (n x 2) taken through a homography."""
    flat = np.asarray(points, np.float64).reshape(-1, 2)
    far = flat @ matrix[:, :2].T + matrix[:, 2]
    return far[:, :2] / far[:, 2:]


def for_opencv(matrix: Matrix) -> Matrix:
    """Return a homography between pixel places as OpenCV wants it: counted from the middle of the first pixel."""
    return np.linalg.inv(_HALF) @ matrix @ _HALF


def scaled(pixels_per_mm: float) -> Matrix:
    """Return the matrix from mm to a grid's pixels."""
    return np.diag([pixels_per_mm, pixels_per_mm, 1.0])


def shifted(x: float, y: float) -> Matrix:
    return np.array([[1, 0, x], [0, 1, y], [0, 0, 1.0]])


def looking_at(
    board_mm: tuple[float, float],
    size_px: tuple[int, int],
    *,
    roll_deg: float,
    tilt_deg: float,
    tilt_towards_deg: float,
    fill: float,
    focal: float,
    lens: float,
    aside: tuple[float, float],
) -> Camera:
    """Return a camera that has the whole board in the picture.

    Args:
        board_mm: width and height.
        size_px: of the picture.
        roll_deg: how far the board's right is turned in the picture, clockwise.
        tilt_deg: between the camera's axis and the board's normal. tilt_towards_deg: in which direction.
        fill: share of the picture's width or height that the board takes, whichever is more.
        focal: focal length in picture widths (of the longer side).
        lens: bend.
        aside: where the board lies in the room that is left, -1 to 1 across and down.
    """
    axis = np.radians(tilt_towards_deg)
    tilt, _ = cv2.Rodrigues(np.radians(tilt_deg) * np.array([np.cos(axis), np.sin(axis), 0]))
    roll, _ = cv2.Rodrigues(np.radians(roll_deg) * np.array([0, 0, 1.0]))
    rotation = np.asarray(roll @ tilt, np.float64)
    middle = np.array([board_mm[0] / 2, board_mm[1] / 2, 0.0])
    corners = np.array([(0, 0), (board_mm[0], 0), board_mm, (0, board_mm[1])], np.float64)
    focal_px = focal * max(size_px)
    size = np.array(size_px, np.float64)
    place = np.array([0.0, 0.0, 2 * max(board_mm)])
    camera = Camera(size_px, focal_px, rotation, place - rotation @ middle, lens)
    for _ in range(25):
        seen = camera.bent(mapped(camera.plane(), corners))
        low, high = seen.min(axis=0), seen.max(axis=0)
        wanted = size / 2 + np.array(aside) * (1 - fill) / 2 * size
        place[:2] += (wanted - (low + high) / 2) * place[2] / focal_px
        place[2] *= float(np.max((high - low) / size)) / fill
        camera = Camera(size_px, focal_px, rotation, place - rotation @ middle, lens)
    return camera
