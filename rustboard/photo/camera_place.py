"""Where the camera stood, as well as one photo of a flat board tells, and how far another one is from there.

The focal length of the camera is not known and is taken to be that of a usual phone. Distances to the board are out
by the share by which it differs, and moves to the side by up to about twice that share: enough to say which way and
about how far.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import acos, atan2, degrees
from typing import Final

import numpy as np

from rustboard.photo.homography import Matrix, Points, as_matrix
from rustboard.photo.placement import Placement
from rustboard.support.problems import InputError

FOCAL_SHARE: Final = 26 / 36
"""Focal length over the longer side of the picture: the main cameras of phones see about as a 26 mm lens does on film
36 mm wide (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class CameraPlace:
    """Where a camera stood and looked.

    Attributes:
        at_mm: place in board millimetres, x to the right, y downward, z into the board: in front of it z is negative.
        axis: unit vector of where it looked.
        roll_deg: how far the board's x axis is turned in the picture, clockwise.
    """

    at_mm: tuple[float, float, float]
    axis: tuple[float, float, float]
    roll_deg: float


@dataclass(frozen=True, slots=True)
class CameraMove:
    """How far one camera is from another, as a person before the board says it.

    Attributes:
        right_mm, up_mm: to the right and upward, negative to the left and downward. nearer_mm: to the board.
        turn_deg: the picture turned clockwise, between -180 and 180.
        sight_deg: between the lines from the board's middle to the two cameras.
        finer: how many pixels of the second photo a length takes over that in the first, both sized alike.
    """

    right_mm: float
    up_mm: float
    nearer_mm: float
    turn_deg: float
    sight_deg: float
    finer: float


def camera_place(placement: Placement) -> CameraPlace:
    """Return where the camera stood (Zhang, "A flexible new technique for camera calibration", 2000, section 3.1).

    Raises:
        InputError: the placement cannot be that of a camera.
    """
    width, height = placement.size_px
    focal = FOCAL_SHARE * max(width, height)
    inner = np.array([[focal, 0, width / 2], [0, focal, height / 2], [0, 0, 1.0]])
    seen: Matrix = np.asarray(np.linalg.solve(inner, as_matrix(placement.mm_to_px)), np.float64)
    length = float((np.linalg.norm(seen[:, 0]) * np.linalg.norm(seen[:, 1])) ** 0.5)
    if length <= 0:
        raise InputError(
            "The board's place in this photo cannot be right; place the photo again by its four corners."
        )
    seen = seen / length * (1.0 if seen[2, 2] > 0 else -1.0)
    rough = np.column_stack([seen[:, 0], seen[:, 1], np.cross(seen[:, 0], seen[:, 1])])
    left, _, right = np.linalg.svd(rough)
    turning = left @ right  # the nearest true rotation
    at: Points = -turning.T @ seen[:, 2]
    x_axis = turning[:, 0]
    return CameraPlace(
        (float(at[0]), float(at[1]), float(at[2])),
        (float(turning[2, 0]), float(turning[2, 1]), float(turning[2, 2])),
        degrees(atan2(float(x_axis[1]), float(x_axis[0]))),
    )


def camera_move(first: Placement, second: Placement, middle_mm: tuple[float, float]) -> CameraMove:
    """Return how the camera of the second photo stood against that of the first.

    Args:
        first: placement of the photo to go by.
        second: of the other.
        middle_mm: of the board.
    """
    one, other = camera_place(first), camera_place(second)
    middle = np.array([*middle_mm, 0.0])
    to_one, to_other = np.array(one.at_mm) - middle, np.array(other.at_mm) - middle
    near, far = float(np.linalg.norm(to_one)), float(np.linalg.norm(to_other))
    cosine = float(to_one @ to_other) / max(near * far, 1e-9)
    turn = (other.roll_deg - one.roll_deg + 180) % 360 - 180
    return CameraMove(
        other.at_mm[0] - one.at_mm[0],
        one.at_mm[1] - other.at_mm[1],
        near - far,
        turn,
        degrees(acos(min(1.0, max(-1.0, cosine)))),
        near / max(far, 1e-9),
    )
