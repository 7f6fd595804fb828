"""A coupon cut from a photo onto its own grid, and which pixels of that grid count."""

from __future__ import annotations

from functools import lru_cache
from math import ceil, floor, sqrt
from typing import Final, NamedTuple

import cv2
import numpy as np

from rustboard.board.model import Outline
from rustboard.board.outline import bounds
from rustboard.photo.homography import (
    LEAST_SCALE,
    MOST_SCALE,
    Matrix,
    Points,
    mapped,
    pixels_per_mm_at,
    unlikely_place,
)
from rustboard.photo.looks import PAD_MM, CouponFrame, Mask, Motion, Rgb
from rustboard.photo.placement import Placement
from rustboard.photo.source import Source
from rustboard.scales.surface import significant_surface

FINEST_GRID: Final = 8.0
"""Most pixels a millimetre: a finer grid only shows the lens's own blur."""
COARSEST_GRID: Final = 2.5
"""Photos coarser than twice this get a grid nearer to their own resolution, lest specks be lost."""
MOST_GRID_PIXELS: Final = 750_000
GRID_STEP: Final = 0.25
PHOTO_TO_GRID: Final = 2.0
"""Pixels of the photo along one of the grid: a photo's colours are kept at half the resolution of its light."""

_COARSER: Final = 1.5
"""From this many pixels of the photo to one of the grid on, between two samples something would be skipped."""
_MOST_SAMPLES: Final = 4
_HALF_FROM, _HALF_UP_TO = 1.7, 2.0 * _COARSER
"""Between so many pixels of the photo to one of the grid, the photo at half its size says all that is wanted."""
_MARGIN_PX: Final = 2
_BEYOND: Final = (128, 128, 128)


class GridCut(NamedTuple):
    """A coupon as one photo shows it, on the coupon's own grid.

    Attributes:
        rgb: H x W x 3, 0-255; grey where the photo shows nothing.
        shown: H x W, the pixels that the photo shows.
    """

    rgb: Rgb
    shown: Mask


def grid_scale(placement: Placement, outline_mm: Outline) -> float:
    """Return the pixels a millimetre that a coupon's grid should have for a series that begins with this photo.

    Half the photo's own resolution, rounded up, within the limits of this module; for coarse photos up to all of it.

    Args:
        placement: of the first photo in which the coupon hangs.
        outline_mm: the coupon's outline on the board.

    Raises:
        InputError: the coupon lies where that photo shows no board, or nearer or farther than any photo does.
    """
    left, top, right, bottom = bounds(outline_mm)
    box = (left - PAD_MM, top - PAD_MM, right + PAD_MM, bottom + PAD_MM)
    finest = pixels_per_mm_at(placement.local(box), ((left + right) / 2, (top + bottom) / 2))
    if not LEAST_SCALE <= finest <= MOST_SCALE:
        raise unlikely_place()
    wanted = max(finest / PHOTO_TO_GRID, min(COARSEST_GRID, finest))
    scale = min(ceil(wanted / GRID_STEP - 1e-6) * GRID_STEP, FINEST_GRID)
    affordable = sqrt(MOST_GRID_PIXELS / ((box[2] - box[0]) * (box[3] - box[1])))
    if scale <= affordable:
        return scale
    return max(floor(affordable / GRID_STEP) * GRID_STEP, min(affordable, GRID_STEP))


def cut_grid(photo: Rgb | Source, placement: Placement, frame: CouponFrame, motion: Motion) -> GridCut:
    """Return a coupon cut from a photo onto its grid.

    Args:
        photo: upright, H x W x 3; or made ready for several coupons.
        placement: of the board in it.
        frame: the coupon.
        motion: how the coupon hangs in this photo.

    Raises:
        InputError: the coupon lies where the photo shows no board.
    """
    matrix = grid_to_photo(placement, frame, motion)
    if isinstance(photo, Source):
        ratio = _ratio(matrix, frame)
        if _HALF_FROM <= ratio <= _HALF_UP_TO:
            shown = _shown(matrix, frame, mapped(matrix, _corners(frame)), photo.picture)
            halving = np.diag([0.5, 0.5, 1.0])
            return GridCut(_warped(photo.half, halving @ matrix, frame, cv2.INTER_CUBIC), shown)
        photo = photo.picture
    return GridCut(_warped(photo, matrix, frame), _shown(matrix, frame, mapped(matrix, _corners(frame)), photo))


def _corners(frame: CouponFrame) -> list[tuple[float, float]]:
    height, width = frame.shape
    return [(0, 0), (width, 0), (width, height), (0, height)]


def _warped(picture: Rgb, matrix: Matrix, frame: CouponFrame, between: int = cv2.INTER_LINEAR) -> Rgb:
    """Return a picture's pixels on a grid, from which ``matrix`` leads to the picture's."""
    height, width = frame.shape
    left, top, right, bottom = _window(mapped(matrix, _corners(frame)), picture)
    if left >= right or top >= bottom:
        return np.full((height, width, 3), _BEYOND, np.uint8)
    samples = _samples(_ratio(matrix, frame))
    # The library counts pixels from the centre of the first one.
    shift = np.array([[1, 0, -left - 0.5], [0, 1, -top - 0.5], [0, 0, 1.0]])
    finer = np.array([[1 / samples, 0, 0.5 / samples], [0, 1 / samples, 0.5 / samples], [0, 0, 1.0]])
    rgb = cv2.warpPerspective(
        picture[top:bottom, left:right],
        shift @ matrix @ finer,
        (width * samples, height * samples),
        flags=between | cv2.WARP_INVERSE_MAP,
        borderMode=cv2.BORDER_CONSTANT,
        borderValue=_BEYOND,
    )
    if samples > 1:
        rgb = cv2.resize(rgb, (width, height), interpolation=cv2.INTER_AREA)
    return rgb.astype(np.uint8, copy=False)


def grid_to_photo(placement: Placement, frame: CouponFrame, motion: Motion) -> Matrix:
    """Return the homography from a coupon's grid to the pixels of a photo in which it hangs by ``motion``."""
    moving = motion.matrix(frame.middle_mm)
    left, top, right, bottom = frame.box_mm
    moved = mapped(moving, [(left, top), (right, top), (right, bottom), (left, bottom)])
    (low_x, low_y), (high_x, high_y) = moved.min(axis=0).tolist(), moved.max(axis=0).tolist()
    matrix: Matrix = placement.local((low_x, low_y, high_x, high_y)) @ moving @ frame.grid_to_mm()
    return matrix


@lru_cache(maxsize=512)
def inside(frame: CouponFrame) -> Mask:
    """Return the pixels of a coupon's grid inside its outline, holes included; read-only."""
    mask = significant_surface(frame.on_grid(frame.outline_mm), frame.shape)
    mask.flags.writeable = False
    return mask


@lru_cache(maxsize=512)
def significant(frame: CouponFrame) -> Mask:
    """Return the pixels of a coupon's grid that count: its significant surface; read-only.

    What lies in the margin along the outline, in an excluded area or in the margin around one does not count.
    """
    margin_px = frame.margin_mm * frame.pixels_per_mm
    mask = significant_surface(frame.on_grid(frame.outline_mm), frame.shape, margin_px)
    for excluded in frame.excluded_mm:
        hole = significant_surface(frame.on_grid(excluded), frame.shape)
        if margin_px > 0 and hole.any():
            # From centre to centre of pixels; the hole's edge is half a pixel nearer.
            away = cv2.distanceTransform((~hole).astype(np.uint8), cv2.DIST_L2, cv2.DIST_MASK_PRECISE)
            hole = away < margin_px + 0.5
        mask &= ~hole
    mask.flags.writeable = False
    return mask


def _window(corners: Points, picture: Rgb) -> tuple[int, int, int, int]:
    """Return left, top, right, bottom of the part of a photo that a cut needs."""
    limits = np.array([picture.shape[1], picture.shape[0]])
    low = np.clip(np.floor(corners.min(axis=0)) - _MARGIN_PX, 0, limits).astype(int)
    high = np.clip(np.ceil(corners.max(axis=0)) + _MARGIN_PX, 0, limits).astype(int)
    return int(low[0]), int(low[1]), int(high[0]), int(high[1])


def _ratio(matrix: Matrix, frame: CouponFrame) -> float:
    """Return how many pixels of a picture, along a line, go into one of the grid."""
    height, width = frame.shape
    return pixels_per_mm_at(matrix, (width / 2, height / 2))


def _samples(ratio: float) -> int:
    """Return how many samples, along a line, are taken for one pixel of the grid."""
    return 1 if ratio <= _COARSER else min(ceil(ratio - 0.25), _MOST_SAMPLES)


def _shown(matrix: Matrix, frame: CouponFrame, corners: Points, picture: Rgb) -> Mask:
    height, width = frame.shape
    limits = np.array([picture.shape[1], picture.shape[0]])
    if np.all(corners >= 0.5) and np.all(corners <= limits - 0.5):
        return np.ones((height, width), np.bool_)
    x, y = np.meshgrid(np.arange(width) + 0.5, np.arange(height) + 0.5)
    there = mapped(matrix, np.stack([x.ravel(), y.ravel()], axis=1))
    shown: Mask = np.all((there >= 0.5) & (there <= limits - 0.5), axis=1).reshape(height, width)
    return shown
