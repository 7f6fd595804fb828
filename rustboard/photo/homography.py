"""From millimetres on the board to pixels of a photo: a homography, nine numbers row by row.

Pixels are counted from the outer corner of the top left pixel, whose centre is (0.5, 0.5), in the upright picture.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

from rustboard.support.problems import InputError

Homography = tuple[float, ...]
Matrix = NDArray[np.float64]
Points = NDArray[np.float64]

LEAST_SCALE, MOST_SCALE = 0.05, 200.0
"""Pixels of a photo a millimetre: beyond these no photo shows a whole board (our own choice, on the safe side)."""

_LARGEST_NUMBER: Final = 1e15
"""Its powers are still numbers."""

_LEAST_TURN: Final = 1e-4
"""Least sine of an angle at a corner of the board: flatter ones make a line of it, not a surface."""


def as_matrix(mm_to_px: Sequence[float]) -> Matrix:
    """Return nine numbers as a 3 x 3 matrix; read-only.

    Raises:
        InputError: they are not nine finite numbers, or they lay the board flat onto a line.
    """
    return _as_matrix(tuple(mm_to_px))


@lru_cache(maxsize=256)
def _as_matrix(mm_to_px: Homography) -> Matrix:
    matrix = np.array(mm_to_px, np.float64)
    if matrix.shape != (9,) or not np.isfinite(matrix).all():
        raise unlikely_place()
    matrix = matrix.reshape(3, 3)
    largest = float(np.abs(matrix).max())
    if not 0 < largest < _LARGEST_NUMBER or np.linalg.matrix_rank(matrix / largest, tol=1e-14) < 3:
        raise unlikely_place()
    matrix.flags.writeable = False
    return matrix


def mapped(matrix: Matrix, points: Sequence[tuple[float, float]] | Points) -> Points:
    """Return points (n x 2) taken through a homography.

    Raises:
        InputError: a point lies on or behind the horizon, where no photo shows it.
    """
    given = np.asarray(points, np.float64).reshape(-1, 2)
    homogeneous = given @ matrix[:, :2].T + matrix[:, 2]
    depth = homogeneous[:, 2]
    # A matrix and its negative are the same homography; points in front of the camera have one sign.
    if not (np.all(depth > 0) or np.all(depth < 0)):
        raise unlikely_place()
    flat: Points = homogeneous[:, :2] / depth[:, None]
    return flat


def placed_by_corners(corners_px: Sequence[tuple[float, float]], width_mm: float, height_mm: float) -> Homography:
    """Return the homography that puts the board's four corners at four places in a photo.

    Args:
        corners_px: the board's corners in the photo, clockwise from the board's top left.
        width_mm: of the board, more than 0.
        height_mm: of the board, more than 0.

    Raises:
        InputError: not four finite corners, not clockwise, or not the corners of a surface seen from its front.
    """
    corners = np.asarray(corners_px, np.float64)
    if corners.shape != (4, 2) or not np.isfinite(corners).all():
        raise InputError("A board is placed by four corners; give x and y of each.")
    if not (0 < width_mm < np.inf and 0 < height_mm < np.inf):
        raise InputError("Placing a board in a photo needs its width and height in mm; enter them first.")
    _refuse_folded(corners)
    board = np.array([(0, 0), (width_mm, 0), (width_mm, height_mm), (0, height_mm)], np.float64)
    return tuple(float(each) for each in through_four(board, corners).ravel())


def through_four(start: Sequence[tuple[float, float]] | Points, end: Points) -> Matrix:
    """Return the homography that takes four places to four others.

    Solves the eight linear equations that four pairs of points give (the last number is held at 1).

    Raises:
        InputError: three of either four lie on a line.
    """
    equations = np.zeros((8, 8))
    for number, ((x, y), (u, v)) in enumerate(zip(np.asarray(start, np.float64), end, strict=True)):
        equations[2 * number] = (x, y, 1, 0, 0, 0, -u * x, -u * y)
        equations[2 * number + 1] = (0, 0, 0, x, y, 1, -v * x, -v * y)
    try:
        solved = np.linalg.solve(equations, np.asarray(end, np.float64).ravel())
    except np.linalg.LinAlgError as error:
        raise InputError(
            "These four points do not place a board; give four corners that are not in one line."
        ) from error
    return np.append(solved, 1.0).reshape(3, 3)


def _refuse_folded(corners: Points) -> None:
    """Refuse corners that do not turn clockwise (y downward) at every one of the four."""
    sides = np.roll(corners, -1, axis=0) - corners
    following = np.roll(sides, -1, axis=0)
    turns = sides[:, 0] * following[:, 1] - sides[:, 1] * following[:, 0]
    lengths = np.hypot(*sides.T) * np.hypot(*following.T)
    if not np.all(turns > _LEAST_TURN * lengths):
        raise InputError(
            "These four points are not the corners of a board; give them clockwise from the board's top left."
        )


def pixels_per_mm_at(matrix: Matrix, point: tuple[float, float]) -> float:
    """Return how many pixels of the photo a millimetre at a place on the board takes (root of the area's ratio).

    Raises:
        InputError: the place is not in front of the camera.
    """
    mapped(matrix, [point])  # refuses what the camera cannot see
    if not np.abs(matrix).max() < _LARGEST_NUMBER:
        raise unlikely_place()
    depth = float(matrix[2] @ (*point, 1.0))
    # The area a homography gives to a small piece is its determinant over the third power of the depth.
    scale = abs(float(np.linalg.det(matrix)) / depth**3)
    return float(scale**0.5)


def unlikely_place() -> InputError:
    """Return what to say of a place that no board can have in a photo."""
    return InputError("The board's place in this photo cannot be right; place the photo again by its four corners.")
