"""Where a photo shows the board: a homography for the view, and one number for the lens.

A place on the board (mm) goes through the homography to where a perfect lens would show it; the lens then moves it
along the line from the picture's middle: ``actual = middle + (ideal - middle) * (1 + lens * r * r)``, where ``r`` is
the distance of the ideal place from the middle over half the picture's diagonal. Positive ``lens`` is a pincushion,
negative a barrel. This is the first term of the usual radial model (Brown, "Close-range camera calibration", 1971).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from rustboard.photo.homography import Homography, Matrix, Points, as_matrix, mapped, through_four

MOST_LENS: Final = 0.2
"""A stronger bend than this is a fish-eye lens, which one number does not describe."""

_NEWTON_STEPS: Final = 6


@dataclass(frozen=True, slots=True)
class Placement:
    """The board in one upright photo.

    Attributes:
        mm_to_px: homography of the view, nine numbers row by row.
        size_px: width and height of the upright photo.
        lens: how the lens bends, 0 = not at all.
    """

    mm_to_px: Homography
    size_px: tuple[int, int]
    lens: float = 0.0

    def to_px(self, points_mm: Sequence[tuple[float, float]] | Points) -> Points:
        """Return places on the board (n x 2, mm) as places in the photo (n x 2, px).

        Raises:
            InputError: a place lies on or behind the horizon, or the numbers are no placement.
        """
        return bent(mapped(as_matrix(self.mm_to_px), points_mm), self.size_px, self.lens)

    def to_mm(self, points_px: Sequence[tuple[float, float]] | Points) -> Points:
        """Return places in the photo (n x 2, px) as places on the board (n x 2, mm)."""
        back: Matrix = np.asarray(np.linalg.inv(as_matrix(self.mm_to_px)), np.float64)
        return mapped(back, straightened(points_px, self.size_px, self.lens))

    def local(self, box_mm: tuple[float, float, float, float]) -> Matrix:
        """Return the homography that agrees with this placement at the four corners of a box, lens included.

        Inside a box the size of a coupon it differs from the true bend by far less than a pixel.

        Args:
            box_mm: left, top, right, bottom.
        """
        if self.lens == 0:
            return as_matrix(self.mm_to_px)
        left, top, right, bottom = box_mm
        corners = [(left, top), (right, top), (right, bottom), (left, bottom)]
        return through_four(corners, self.to_px(corners))


def bent(points_px: Points, size_px: tuple[int, int], lens: float) -> Points:
    """Return where a lens shows places (n x 2) that a perfect lens would show at ``points_px``."""
    points = np.asarray(points_px, np.float64).reshape(-1, 2)
    if lens == 0:
        return points
    middle, half = _middle(size_px)
    away = (points - middle) / half
    square = np.sum(away**2, axis=1, keepdims=True)
    moved: Points = middle + (points - middle) * (1 + lens * square)
    return moved


def straightened(points_px: Sequence[tuple[float, float]] | Points, size_px: tuple[int, int], lens: float) -> Points:
    """Return where a perfect lens would show places (n x 2) that this one shows at ``points_px``; undoes `bent`."""
    points = np.asarray(points_px, np.float64).reshape(-1, 2)
    if lens == 0:
        return points
    middle, half = _middle(size_px)
    seen = np.hypot(*((points - middle) / half).T)
    # From where a barrel turns back on itself outward, nothing is shown any more.
    farthest = (1 / (-3 * lens)) ** 0.5 if lens < 0 else np.inf
    radius = np.minimum(seen, farthest)
    for _ in range(_NEWTON_STEPS):  # r + lens r^3 = seen, by Newton's method
        radius -= (radius + lens * radius**3 - seen) / np.maximum(1 + 3 * lens * radius**2, 0.1)
        radius = np.clip(radius, 0, farthest)
    share = np.where(seen > 0, radius / np.where(seen > 0, seen, 1), 1.0)
    ideal: Points = middle + (points - middle) * share[:, None]
    return ideal


def _middle(size_px: tuple[int, int]) -> tuple[Points, float]:
    width, height = size_px
    return np.array([width / 2, height / 2]), float(np.hypot(width, height)) / 2
