"""A part of the board in grey, straightened out of a photo, its lens included."""

from __future__ import annotations

from math import ceil
from typing import Final

import cv2
import numpy as np

from rustboard.photo.finding.found import Grey
from rustboard.photo.finding.grey_levels import GreyLevels
from rustboard.photo.homography import pixels_per_mm_at
from rustboard.photo.placement import Placement

Box = tuple[float, float, float, float]
"""Left, top, right, bottom in mm on the board."""

_STEP: Final = 16
"""Every so many pixels the way to the photo is exact; linear between, which costs hundredths of a pixel."""


def straightened_grey(levels: GreyLevels, placement: Placement, box_mm: Box, pixels_per_mm: float) -> Grey:
    """Return a box of the board, seen from the front; the photo's border goes on where the photo ends.

    Raises:
        InputError: the placement does not show the whole box.
    """
    left, top, right, bottom = box_mm
    width, height = ceil((right - left) * pixels_per_mm), ceil((bottom - top) * pixels_per_mm)
    columns, rows = ceil(width / _STEP) + 1, ceil(height / _STEP) + 1
    x, y = np.meshgrid(np.arange(columns) * _STEP + 0.5, np.arange(rows) * _STEP + 0.5)
    there = placement.to_px(np.column_stack([left + x.ravel() / pixels_per_mm, top + y.ravel() / pixels_per_mm]))
    finest = pixels_per_mm_at(np.reshape(placement.mm_to_px, (3, 3)), ((left + right) / 2, (top + bottom) / 2))
    halvings = max(0, int(np.log2(max(finest / pixels_per_mm, 1))))
    coarse = (there / 2**halvings - 0.5).reshape(rows, columns, 2).astype(np.float32)
    finer = np.array([[1 / _STEP, 0, 0], [0, 1 / _STEP, 0]])
    flags = cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP
    x_px, y_px = (
        cv2.warpAffine(np.ascontiguousarray(coarse[..., axis]), finer, (width, height), flags=flags)
        for axis in (0, 1)
    )
    source = levels[halvings]
    return np.asarray(cv2.remap(source, x_px, y_px, cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE), np.uint8)
