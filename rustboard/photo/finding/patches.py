"""Two straightened pictures of one board laid onto each other: small pieces of one looked for in the other."""

from __future__ import annotations

from typing import Final, NamedTuple

import cv2
import numpy as np

from rustboard.photo.finding.damped import Floats
from rustboard.photo.finding.found import Grey

PATCH_PX: Final = 32
_APART_PX: Final = 28
_LEAST_SPREAD: Final = 4.0
"""Standard deviation below which a piece shows nothing to recognise."""
_LEAST_LIKENESS: Final = 0.55


class Pieces(NamedTuple):
    """Pieces that were recognised.

    Attributes:
        places: n x 2, middles in pixels of the picture they were taken from.
        shifts: n x 2, where they lie in the other picture, less that.
        sureness: n x 2 x 2, rows that take a distance in these pixels to one that counts; its largest gain is 1.
    """

    places: Floats
    shifts: Floats
    sureness: Floats


def recognised(earlier: Grey, now: Grey, reach: int) -> Pieces:
    """Return the pieces of one picture that show within ``reach`` pixels of the same place in the other.

    The other picture goes on for ``reach`` pixels on every side.
    """
    height, width = earlier.shape
    first, second = (np.asarray(cv2.GaussianBlur(each, (0, 0), 1.2), np.uint8) for each in (earlier, now))
    places, shifts, sureness = [], [], []
    for top in _starts(height):
        for left in _starts(width):
            piece = first[top : top + PATCH_PX, left : left + PATCH_PX]
            if float(cv2.meanStdDev(piece)[1][0, 0]) < _LEAST_SPREAD:
                continue
            around = second[top : top + PATCH_PX + 2 * reach, left : left + PATCH_PX + 2 * reach]
            found = _peak(np.asarray(cv2.matchTemplate(around, piece, cv2.TM_CCOEFF_NORMED), np.float64))
            if found is None:
                continue
            shift, sure = found
            places.append((left + PATCH_PX / 2, top + PATCH_PX / 2))
            shifts.append(shift - reach)
            sureness.append(sure)
    if not places:
        return Pieces(np.zeros((0, 2)), np.zeros((0, 2)), np.zeros((0, 2, 2)))
    return Pieces(np.array(places), np.array(shifts), np.array(sureness))


def _starts(length: int) -> list[int]:
    """Return where pieces start along a side, so that they reach from end to end of it."""
    last = length - PATCH_PX
    steps = max(1, round(last / _APART_PX))
    return [last * step // steps for step in range(steps + 1)] if last > 0 else []


def _peak(likeness: Floats) -> tuple[Floats, Floats] | None:
    """Return the top of a hill of likeness to a fraction of a pixel, and how steeply it falls; None without one."""
    row, column = np.unravel_index(int(np.argmax(likeness)), likeness.shape)
    if likeness[row, column] < _LEAST_LIKENESS:
        return None
    if not (0 < row < likeness.shape[0] - 1 and 0 < column < likeness.shape[1] - 1):
        return None
    near = likeness[row - 1 : row + 2, column - 1 : column + 2]
    slope = np.array([near[1, 2] - near[1, 0], near[2, 1] - near[0, 1]]) / 2
    xx, yy = near[1, 2] + near[1, 0] - 2 * near[1, 1], near[2, 1] + near[0, 1] - 2 * near[1, 1]
    xy = (near[2, 2] + near[0, 0] - near[0, 2] - near[2, 0]) / 4
    fall, ways = np.linalg.eigh(-np.array([[xx, xy], [xy, yy]]))
    if fall[1] <= 1e-6:
        return None
    fall = np.maximum(fall, 0)
    # Along a straight edge the hill is a ridge: there the top is not known, and does not count.
    known = fall > 0.05 * fall[1]
    step = ways @ (np.where(known, (ways.T @ slope) / np.maximum(fall, 1e-9), 0.0))
    sure = np.sqrt(fall / fall[1])[:, None] * ways.T
    return np.array([column, row]) + np.clip(step, -1, 1), np.where(known[:, None], sure, 0.0)
