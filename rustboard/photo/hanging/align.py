"""A photo's cut laid more finely onto the first one, by the coupon's own marks, where its edge says too little."""

from __future__ import annotations

from typing import Final

import cv2
import numpy as np

from rustboard.photo.cutting import inside
from rustboard.photo.hanging.profiles import Singles, log_colours
from rustboard.photo.looks import CouponFrame, Mask, Motion, Rgb

MOST_PX: Final = 1.5
_BROAD_PX: Final = 12.0
_LEAST_PIXELS: Final = 1000
_CLEARLY: Final = 0.75  # to so much of itself, at least, the disagreement has to shrink
_LEAST_AGREEMENT: Final = 0.35


def aligned(rgb: Rgb, shown: Mask, frame: CouponFrame, base: Rgb, motion: Motion) -> Motion:
    """Return how the coupon hangs by its marks; ``motion`` itself unless moving is clearly better.

    Only a shift of at most `MOST_PX` pixels of the grid is looked for, by phase correlation (Kuglin and Hines, 1975);
    it has to raise the correlation of both pictures' marks.

    Args:
        rgb: the cut on the coupon's grid, made with ``motion``.
        shown: the pixels of it that the photo shows.
        frame: the coupon.
        base: the first picture on the same grid.
        motion: how the coupon was taken to hang.
    """
    valid = inside(frame) & shown
    if valid.sum() < _LEAST_PIXELS:
        return motion
    weight = np.asarray(cv2.GaussianBlur(valid.astype(np.float32), (0, 0), 3.0) * valid, np.float32)
    one, other = _marks(base, weight), _marks(rgb, weight)
    (dx, dy), _ = cv2.phaseCorrelate(one.astype(np.float64), other.astype(np.float64))
    if not 0.05 < float(np.hypot(dx, dy)) <= MOST_PX:
        return motion
    size = (one.shape[1], one.shape[0])
    back = cv2.warpAffine(other, np.array([[1, 0, -dx], [0, 1, -dy]]), size, flags=cv2.INTER_LINEAR)
    # Interpolation smooths and so raises the agreement by itself; what it is compared with is smoothed too.
    before = max(
        _agreement(one, other), _agreement(one, np.asarray(cv2.GaussianBlur(other, (0, 0), 0.5), np.float32))
    )
    after = _agreement(one, np.asarray(back, np.float32))
    if after < _LEAST_AGREEMENT or 1 - after > _CLEARLY * (1 - before):
        return motion
    scale = frame.pixels_per_mm
    shift = np.array([dx, dy]) / scale
    # A mark seen at + d on the grid means that the coupon hangs by d farther along, turned and scaled as it hangs.
    way = motion.matrix((0.0, 0.0))[:2, :2] @ shift
    return Motion(motion.dx_mm + float(way[0]), motion.dy_mm + float(way[1]), motion.turn_deg, motion.scale)


def _marks(rgb: Rgb, weight: Singles) -> Singles:
    light = log_colours(rgb)[..., 0]
    broad = cv2.GaussianBlur(light * weight, (0, 0), _BROAD_PX)
    broad = broad / np.maximum(cv2.GaussianBlur(weight, (0, 0), _BROAD_PX), 1e-3)
    fine = np.clip(light - broad, -0.5, 0.5) * weight
    return np.asarray(cv2.GaussianBlur(fine, (0, 0), 0.8), np.float32)


def _agreement(one: Singles, other: Singles) -> float:
    norm = float(np.linalg.norm(one) * np.linalg.norm(other))
    return float(np.sum(one * other)) / norm if norm > 0 else 0.0
