"""A marker that the search missed - dirty, half covered, in glare - looked for where the others say it must be."""

from __future__ import annotations

from functools import lru_cache
from typing import Final

import cv2
import numpy as np

from rustboard.board.model import Marker
from rustboard.photo.finding.found import Grey
from rustboard.photo.finding.grey_levels import GreyLevels
from rustboard.photo.finding.joint_fit import square_mm
from rustboard.photo.finding.marker_edges import CELLS_ACROSS
from rustboard.photo.homography import Points, mapped, through_four
from rustboard.photo.placement import Placement
from rustboard.support.problems import InputError

_CELL_PX: Final = 6
_AROUND_CELLS: Final = 2
"""How far off, in cells, the others may have guessed its place."""
_LEAST_LIKENESS: Final = 0.6
"""Correlation with the printed pattern; half a pattern under a leaf still has 0.6, wood and steel stay below 0.4."""


def rescued(levels: GreyLevels, placement: Placement, marker: Marker) -> Points | None:
    """Return a marker's corners (4 x 2) within half a cell, or None when its pattern does not show there.

    Args:
        levels: the photo.
        placement: from the other markers.
        marker: the one that is missing.
    """
    square = square_mm(marker)
    try:
        corners = placement.to_px(square)
    except InputError:  # beyond the horizon of a view that few markers gave
        return None
    if np.any(corners.mean(axis=0) < 0) or np.any(corners.mean(axis=0) > np.array(levels.size_px)):
        return None
    side = float(np.hypot(*(corners - np.roll(corners, -1, axis=0)).T).mean())
    halvings = max(0, int(np.log2(max(side / CELLS_ACROSS / _CELL_PX, 1))))
    pad = (1 + _AROUND_CELLS) * _CELL_PX
    wide = CELLS_ACROSS * _CELL_PX
    flat = [(pad, pad), (pad + wide, pad), (pad + wide, pad + wide), (pad, pad + wide)]
    to_photo = through_four(flat, corners)
    half = np.array([[1, 0, 0.5], [0, 1, 0.5], [0, 0, 1]])
    smaller = np.diag([0.5**halvings, 0.5**halvings, 1])
    patch = cv2.warpPerspective(
        levels[halvings],
        np.linalg.inv(half) @ smaller @ to_photo @ half,
        (wide + 2 * pad, wide + 2 * pad),
        flags=cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP,
        borderMode=cv2.BORDER_REPLICATE,
    )
    likeness = cv2.matchTemplate(cv2.GaussianBlur(patch, (0, 0), 1), _pattern(marker.id), cv2.TM_CCOEFF_NORMED)
    _, best, _, (x, y) = cv2.minMaxLoc(likeness)
    if best < _LEAST_LIKENESS:
        return None
    shift = np.array([x, y]) - _AROUND_CELLS * _CELL_PX
    return mapped(to_photo, np.asarray(flat, np.float64) + shift)


@lru_cache(maxsize=8)
def _pattern(number: int) -> Grey:
    dictionary = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_50)
    drawn = cv2.aruco.generateImageMarker(dictionary, number, CELLS_ACROSS * _CELL_PX)
    framed = cv2.copyMakeBorder(drawn, _CELL_PX, _CELL_PX, _CELL_PX, _CELL_PX, cv2.BORDER_CONSTANT, value=[255.0])
    return np.asarray(cv2.GaussianBlur(framed, (0, 0), 1), np.uint8)
