"""What finding the board gives, and the checks that every way of finding it must pass."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

import cv2
import numpy as np
from numpy.typing import NDArray

from rustboard.board.model import Board
from rustboard.photo.homography import Points, pixels_per_mm_at
from rustboard.photo.placement import MOST_LENS, Placement
from rustboard.support.problems import InputError

UprightPixels = NDArray[np.uint8]
"""The decoded upright photo, H x W x 3, red first."""

Grey = NDArray[np.uint8]
"""H x W, 0-255."""

LEAST_PIXELS_PER_MM: Final = 0.6
"""Coarser photos show rust spots of a millimetre as nothing."""

MOST_ERROR_PX: Final = 1.5
MOST_ERROR_MM: Final = 0.5
"""A placement may err by the larger of the two: what a blurred photo and hand-glued markers cost, and no more."""

_LEAST_INSIDE: Final = 0.6
_WHOLE: Final = 0.995

TAP_INSTEAD: Final = "tap the four corners of the board instead"


@dataclass(frozen=True, slots=True)
class FoundBoard:
    """Where a photo shows the board, and how surely.

    Attributes:
        error_px: root mean square distance, in pixels of the upright photo, between where the placement expects what
            it was made from and where the photo shows it; None when nothing is left over to compare.
        warnings: plain sentences, for people.
    """

    placement: Placement
    method: Literal["markers", "view", "corners"]
    error_px: float | None
    warnings: tuple[str, ...] = ()


def board_corners(board: Board) -> list[tuple[float, float]]:
    """Return the board's corners in mm, clockwise from the top left; none when its size is not given."""
    width, height = board.width_mm, board.height_mm
    return [(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)] if width > 0 and height > 0 else []


def checked(placement: Placement, area_mm: list[tuple[float, float]], error_px: float | None) -> tuple[str, ...]:
    """Return warnings about a placement.

    Args:
        placement: to judge.
        area_mm: corners of the board, clockwise, or of what stands for it.
        error_px: see `FoundBoard`.

    Raises:
        InputError: the board cannot be measured with this placement; the sentence says why.
    """
    middle = (sum(x for x, _ in area_mm) / len(area_mm), sum(y for _, y in area_mm) / len(area_mm))
    corners = placement.to_px(area_mm)
    if abs(placement.lens) > MOST_LENS:
        raise InputError("This photo is bent as by a fish-eye lens; photograph the board with the main camera.")
    share = _share_inside(corners, placement.size_px)
    if share < _LEAST_INSIDE:
        raise InputError("Most of the board lies outside this photo; photograph the whole board.")
    scale = pixels_per_mm_at(np.reshape(placement.mm_to_px, (3, 3)), middle)
    if scale < LEAST_PIXELS_PER_MM:
        raise InputError("The board is too small in this photo to see rust on it; photograph it from nearer.")
    if error_px is not None and error_px > max(MOST_ERROR_PX, MOST_ERROR_MM * scale):
        raise InputError(
            f"The board does not lie in this photo as the record has it (off by {error_px:.1f} pixels); "
            f"photograph it sharp and from the front, or {TAP_INSTEAD}."
        )
    return ("Part of the board lies outside the photo.",) if share < _WHOLE else ()


def _share_inside(corners: Points, size_px: tuple[int, int]) -> float:
    """Return the share of a quadrilateral that the picture holds; 0 when it is folded or seen from behind."""
    width, height = size_px
    sides = np.roll(corners, -1, axis=0) - corners
    following = np.roll(sides, -1, axis=0)
    if not np.all(sides[:, 0] * following[:, 1] - sides[:, 1] * following[:, 0] > 0):
        return 0.0
    frame = np.array([(0, 0), (width, 0), (width, height), (0, height)], np.float32)
    inside, _ = cv2.intersectConvexConvex(corners.astype(np.float32), frame)
    return float(inside) / max(float(cv2.contourArea(corners.astype(np.float32))), 1e-9)
