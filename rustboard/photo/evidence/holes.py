"""Holes near a coupon's edge, through which the board shows: what looks rusted there on the first day is wood."""

from __future__ import annotations

from typing import Final

import cv2
import numpy as np

from rustboard.photo.evidence.tables import Plane
from rustboard.photo.looks import CouponFrame, Mask
from rustboard.photo.pieces import pieces_of

# Common practice, no source: holes for a nail, a screw or a wire lie in a strip along the edge and have steel around.
_NEAREST_MM: Final = 0.8
_DEEPEST_MM: Final = 5.0
_LARGEST_MM2: Final = 30.0
_FEWEST: Final = 2  # pixels; what holds the coupon may hide most of its hole
_DARK: Final = 1.0
"""How much darker (nats) than the coupon its darkest place is: little daylight falls into a hole."""


def holes_of(rusty: Mask, darker: Plane, surface: Mask, frame: CouponFrame) -> Mask:
    """Return the rust-coloured pieces (h x w) of a coupon's first look that are holes, not rust.

    A small dark piece close by the edge, but not at it, is more likely a hole than rust on a coupon that was just put
    up. What it costs to be wrong is that this piece is unknown.

    Args:
        rusty: what looks rusted.
        darker: by how much each pixel is darker than most of the coupon, nats.
        surface: inside the outline.
        frame: the coupon.
    """
    pieces = rusty & surface
    if not pieces.any():
        return pieces
    scale = frame.pixels_per_mm
    depth = cv2.distanceTransform(np.pad(surface, 1).view(np.uint8), cv2.DIST_L2, 3)[1:-1, 1:-1]
    depths = np.asarray(depth, np.float32)[pieces] / np.float32(scale)
    labels, area, _ = pieces_of(pieces)
    of, count = labels[pieces].astype(np.intp), area.size
    deepest, darkest = np.zeros(count, np.float32), np.full(count, -np.inf, np.float32)
    nearest = np.full(count, np.inf, np.float32)
    np.maximum.at(deepest, of, depths)
    np.minimum.at(nearest, of, depths)
    np.maximum.at(darkest, of, darker[pieces])
    hole = (nearest >= _NEAREST_MM) & (deepest <= _DEEPEST_MM) & (darkest >= _DARK)
    hole &= (area >= _FEWEST) & (area <= _LARGEST_MM2 * scale**2)
    hole[0] = False
    return np.asarray(hole[labels], np.bool_)
