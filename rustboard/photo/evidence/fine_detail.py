"""The finest detail of a photo as it was taken: how sharp it is, and whether drops of water stand on the coupons."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil
from typing import Any, Final

import cv2
import numpy as np
from numpy.typing import NDArray

from rustboard.board.model import Outline
from rustboard.board.outline import bounds
from rustboard.photo.evidence.planes import quantile_of
from rustboard.photo.evidence.tables import LINEAR
from rustboard.photo.looks import Rgb
from rustboard.photo.placement import Placement

_LEAST_STEP: Final = 0.06
"""Linear light by which the two sides of an edge must differ for its blur to be told from noise."""
_LEAST_BLUR_PX: Final = 0.4
"""No lens and no reduced photo is sharper; what seems so is noise, or an edge of light on the paper."""
_FEWEST_PX: Final = 12
_EDGE_MM: Final = 3.0
_HALF_PX: Final = 60
_SHARE_LOOKED_AT: Final = 0.35
_COMMON, _RARE = 0.8, 0.999
_MOST_COUPONS: Final = 8
"""Rain falls on all; so many tell enough, and a large photo is slow to read."""

Blur = tuple[float, float]
"""Standard deviation in pixels of the photo and in mm; 0, 0 where it cannot be told."""

_Box = tuple[float, float, float, float]


def blur_of(picture: Rgb, placement: Placement, papers: Sequence[Outline], coupons: Sequence[Outline]) -> Blur:
    """Return the blur of an upright photo: of its markers' edges, or without markers of its coupons' edges.

    Of the markers the middle one counts, so that neither the edge of a shadow across one nor dirt decides. Of the
    coupons' edges, whose own roundness and shadow make many look soft, it is one of the sharper ones.
    """
    blur = _among([_edge_blur(picture, placement, _quarter(bounds(each))) for each in papers], 0.4)
    if blur[0] > 0:
        return blur
    some = coupons[:: ceil(len(coupons) / _MOST_COUPONS) or 1]
    return _among([_edge_blur(picture, placement, box) for each in some for box in _sides(bounds(each))], 0.15)


def _among(blurs: Sequence[Blur], share: float) -> Blur:
    found = [each for each in blurs if each[0] > 0]
    if not found:
        return 0.0, 0.0
    in_px, in_mm = np.quantile(np.array(found), share, axis=0)
    return float(in_px), float(in_mm)


def _quarter(box: _Box) -> _Box:
    left, top, right, bottom = box
    return left, top, (left + right) / 2, (top + bottom) / 2


def _sides(box: _Box) -> tuple[_Box, _Box]:
    """Return boxes across the middles of a coupon's left and upper edges."""
    left, top, right, bottom = box
    third, quarter = (bottom - top) / 3, (right - left) / 4
    return (
        (left - _EDGE_MM, top + third, left + _EDGE_MM, bottom - third),
        (left + quarter, top - _EDGE_MM, right - quarter, top + _EDGE_MM),
    )


def _part(picture: Rgb, placement: Placement, box: _Box) -> tuple[NDArray[np.uint8], float]:
    """Return the green channel of a photo where it shows a box, and the pixels a millimetre there."""
    left, top, right, bottom = box
    corners = placement.to_px([(left, top), (right, top), (right, bottom), (left, bottom)])
    (x0, y0), (x1, y1) = corners.min(axis=0), corners.max(axis=0)
    x0, y0, x1, y1 = (int(each) for each in (max(x0, 0), max(y0, 0), max(x1 + 1, 0), max(y1 + 1, 0)))
    across = float(np.hypot(*(corners[1] - corners[0]))) / max(right - left, 1e-6)
    return picture[y0:y1, x0:x1, 1], max(across, 1e-6)


def _edge_blur(picture: Rgb, placement: Placement, box: _Box) -> Blur:
    """Return the blur of the sharpest edges in a box."""
    part, scale = _part(picture, placement, box)
    if min(part.shape) < _FEWEST_PX:
        return 0.0, 0.0
    light = np.asarray(cv2.LUT(np.ascontiguousarray(part), LINEAR), np.float32)
    low, high = np.percentile(light[::2, ::2], (5, 95))
    if high - low < _LEAST_STEP:
        return 0.0, 0.0
    down, across = light[2:, 1:-1] - light[:-2, 1:-1], light[1:-1, 2:] - light[1:-1, :-2]
    steepest = quantile_of(np.asarray(cv2.magnitude(down, across), np.float32).ravel(), 0.99) / 2
    # The slope in the middle of a step of height h blurred by s is h / (s sqrt(2 pi)).
    blur = float(high - low) / (max(steepest, 1e-6) * float(np.sqrt(2 * np.pi)))
    return (blur, blur / scale) if blur >= _LEAST_BLUR_PX else (0.0, 0.0)


def points_on(picture: Rgb, placement: Placement, coupons: Sequence[Outline]) -> NDArray[np.float32]:
    """Return how far the brightest points and the darkest rims of each coupon stand out (n x 2; 0 where not known).

    That is by how much one in a thousand pixels differs from what is around it, over what one in five does. Grain and
    noise keep this between 1 and 4, and it changes slowly with rust; a drop of water is a small lens and a small
    mirror: a bright point, and a dark rim where it throws no light to the camera.
    """
    found = np.zeros((len(coupons), 2), np.float32)
    for number in range(0, len(coupons), ceil(len(coupons) / _MOST_COUPONS) or 1):
        left, top, right, bottom = bounds(coupons[number])
        x, y = (left + right) / 2, (top + bottom) / 2
        across, down = _SHARE_LOOKED_AT * (right - left), _SHARE_LOOKED_AT * (bottom - top)
        part, scale = _part(picture, placement, (x - across, y - down, x + across, y + down))
        height, width = part.shape
        part = part[max(height // 2 - _HALF_PX, 0) : height // 2 + _HALF_PX]
        part = part[:, max(width // 2 - _HALF_PX, 0) : width // 2 + _HALF_PX]
        if min(part.shape) < _FEWEST_PX:
            continue
        smooth = cv2.GaussianBlur(np.ascontiguousarray(part), (3, 3), 0)
        side = 2 * int(np.clip(round(0.4 * scale), 1, 4)) + 1
        square = np.ones((side, side), np.uint8)
        bright = cv2.morphologyEx(smooth, cv2.MORPH_TOPHAT, square)
        dark = cv2.morphologyEx(smooth, cv2.MORPH_BLACKHAT, square)
        # Steel between spots of rust stands out as well, until the spots are filled up.
        filled = cv2.morphologyEx(smooth, cv2.MORPH_CLOSE, np.ones((2 * side + 1, 2 * side + 1), np.uint8))
        points = cv2.morphologyEx(filled, cv2.MORPH_TOPHAT, square)
        found[number] = _outstanding(bright, points), _outstanding(dark, dark)
    return found


def _outstanding(heights: Any, rare: Any) -> float:
    return float(_level(rare, _RARE) + 1) / float(_level(heights, _COMMON) + 1)


def _level(heights: Any, share: float) -> int:
    below = np.cumsum(cv2.calcHist([heights], [0], None, [256], [0, 256]))
    return int(np.searchsorted(below, share * heights.size))
