"""Holes near a coupon's edge, through which the board shows: what looks rusted there on the first day is wood."""

from __future__ import annotations

from typing import Final

import cv2
import numpy as np

from rustboard.photo.evidence.planes import widened
from rustboard.photo.looks import CouponFrame, Mask

_DEEPEST_MM: Final = 8.0
"""Farther from the edge than this no hole for a nail or a wire reaches; common practice, no source."""
_SMALLEST_MM2: Final = 1.5
_LARGEST_MM2: Final = 80.0
_LIKE_RUST: Final = 0.5
"""Share of the board around that must be rust-coloured for a hole to be."""
_GAP_MM: Final = 1.0


def holes_of(coloured: Mask, surface: Mask, frame: CouponFrame) -> Mask:
    """Return the rust-coloured pieces (h x w) of a coupon's first look that are holes, not rust.

    Only a board of rust-like colour shows through a hole like that. There, a small piece close by the edge is more
    likely a hole than rust on a coupon that was just put up; what it costs to be wrong is that this piece is unknown.

    Args:
        coloured: what has rust's colour, on the coupon and around it.
        surface: inside the outline.
        frame: the coupon.
    """
    scale = frame.pixels_per_mm
    around = ~widened(surface, 2 * round(_GAP_MM * scale) + 1)
    holes = np.zeros_like(surface)
    if not around.any() or coloured[around].mean() < _LIKE_RUST:
        return holes
    pieces = coloured & surface
    if not pieces.any():
        return holes
    depth = cv2.distanceTransform(np.pad(surface, 1).view(np.uint8), cv2.DIST_L2, 3)[1:-1, 1:-1]
    count, labels, stats, _ = cv2.connectedComponentsWithStats(pieces.view(np.uint8), connectivity=8)
    deepest = np.zeros(count, np.float32)
    np.maximum.at(deepest, labels[pieces], np.asarray(depth, np.float32)[pieces])
    area = stats[:, cv2.CC_STAT_AREA] / scale**2
    hole = (deepest <= _DEEPEST_MM * scale) & (area >= _SMALLEST_MM2) & (area <= _LARGEST_MM2)
    hole[0] = False
    return np.asarray(hole[labels], np.bool_)
