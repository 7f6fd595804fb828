"""The corners of printed squares to hundredths of a pixel, from where their four sides are.

A corner itself is rounded by blur, and a leaf may cover it; a side is read at many places. Across each side the
brightness rises from the black frame to the white around it: the middle of that rise is the side, whatever the blur.
A line through the middles, strays left out, is crossed with its neighbours.
"""

from __future__ import annotations

from typing import Final, NamedTuple

import cv2
import numpy as np
from numpy.typing import NDArray

from rustboard.photo.finding.found import Grey
from rustboard.photo.homography import Points

Floats = NDArray[np.float64]

CELLS_ACROSS: Final = 6
_READINGS: Final = 28
"""Places along a side at which it is read."""
_ENDS: Final = 0.1
"""Share of a side next to a corner that is not read: there the other side's blur reaches in."""
_HALF_PROFILE: Final = 12
"""Samples on either side of where a side is thought to be."""
_ROUNDS: Final = (0.75, 0.5, 0.42)
"""How far each round reads across, in cells."""
_LEAST_CONTRAST: Final = 18.0
_LEAST_READ: Final = 0.4
_NEAR_PX, _NEAR_CELLS = 0.35, 0.06
"""A reading this far off its side's line counts half."""


class Squares(NamedTuple):
    """Corners of squares, and which of them were read.

    Attributes:
        corners_px: n x 4 x 2.
        read: n x 4, whether both sides that meet there were seen clearly enough.
    """

    corners_px: Floats
    read: NDArray[np.bool_]


def read_squares(grey: Grey, corners_px: Floats) -> Squares:
    """Return the corners of n black squares on white to a fraction of a pixel.

    Args:
        grey: the photo at full size; it need not lie by itself in memory.
        corners_px: n x 4 x 2, clockwise, within half a cell of the truth.
    """
    corners = np.asarray(corners_px, np.float64)
    read = np.zeros(corners.shape[:2], np.bool_)
    for reach_cells in _ROUNDS:
        corners, read = _read_once(grey, corners, reach_cells)
    return Squares(corners, read)


def _read_once(grey: Grey, corners: Floats, reach_cells: float) -> tuple[Floats, NDArray[np.bool_]]:
    start, end = corners, np.roll(corners, -1, axis=1)
    along = end - start
    length = np.maximum(np.hypot(along[..., 0], along[..., 1]), 1e-6)
    outward = np.stack([along[..., 1], -along[..., 0]], axis=-1) / length[..., None]  # clockwise, y down
    reach = reach_cells * length / CELLS_ACROSS
    share = np.linspace(_ENDS, 1 - _ENDS, _READINGS)
    across = np.linspace(-1, 1, 2 * _HALF_PROFILE + 1)
    base = start[..., None, :] + share[:, None] * along[..., None, :]
    places = base[..., None, :] + (across[:, None] * (reach[..., None, None, None] * outward[..., None, None, :]))
    profiles = _sampled(grey, places)
    offset, strength = _middles(profiles)
    offset = offset * reach[..., None]
    lines, seen = _lines(share, offset, strength, length)
    new = _crossed(start, along, length, outward, lines)
    read = seen & np.roll(seen, 1, axis=1)
    # A side that was not seen leaves its corners where they were.
    usable = read & (np.hypot(*np.moveaxis(new - corners, -1, 0)) < length / CELLS_ACROSS)
    return np.where(usable[..., None], new, corners), usable


def _sampled(grey: Grey, places: Floats) -> Floats:
    """Return the brightness at places (squares x ... x 2), 0 beyond the picture."""
    found = np.zeros(places.shape[:-1])
    limits = np.array([grey.shape[1], grey.shape[0]])
    for number, of_one in enumerate(places):
        flat = of_one.reshape(-1, 2) - 0.5  # OpenCV counts from the first pixel's centre
        low = np.clip(np.floor(flat.min(axis=0)) - 1, 0, limits).astype(int)
        high = np.clip(np.ceil(flat.max(axis=0)) + 2, 0, limits).astype(int)
        part = np.ascontiguousarray(grey[low[1] : high[1], low[0] : high[0]])
        if part.size:
            x, y = (flat - low).astype(np.float32).T
            read = cv2.remap(part, np.ascontiguousarray(x), np.ascontiguousarray(y), cv2.INTER_LINEAR)
            found[number] = np.asarray(read, np.float64).reshape(of_one.shape[:-1])
    return found


def _middles(profiles: Floats) -> tuple[Floats, Floats]:
    """Return where each profile rises, -1 to 1, and by how much in all."""
    rises = np.maximum(np.diff(profiles, axis=-1), 0)
    places = np.linspace(-1, 1, profiles.shape[-1])
    between = (places[1:] + places[:-1]) / 2
    smooth = rises.copy()
    smooth[..., 1:-1] = rises[..., :-2] + 2 * rises[..., 1:-1] + rises[..., 2:]
    top = between[np.argmax(smooth, axis=-1)]
    weights = rises * (np.abs(between - top[..., None]) < 0.5)
    strength = weights.sum(axis=-1)
    middle = (weights * between).sum(axis=-1) / np.maximum(strength, 1e-6)
    return middle, strength


def _lines(share: Floats, offset: Floats, strength: Floats, length: Floats) -> tuple[Floats, NDArray[np.bool_]]:
    """Return offset at the start and at the end of each side, and whether enough readings agree on it."""
    clear = strength > np.maximum(_LEAST_CONTRAST, 0.4 * np.median(strength, axis=-1, keepdims=True))
    near = np.maximum(_NEAR_PX, _NEAR_CELLS * length / CELLS_ACROSS)[..., None]
    middle = np.median(offset, axis=-1, keepdims=True)
    weights = clear / (1 + ((offset - middle) / (4 * near)) ** 2)
    fit = np.zeros((*offset.shape[:-1], 2))
    for _ in range(6):
        total = np.maximum(weights.sum(axis=-1), 1e-9)
        at = (weights * share).sum(axis=-1) / total
        mean = (weights * offset).sum(axis=-1) / total
        spread = (weights * (share - at[..., None]) ** 2).sum(axis=-1)
        slope = (weights * (share - at[..., None]) * (offset - mean[..., None])).sum(axis=-1)
        slope = slope / np.maximum(spread, 1e-9)
        fit = np.stack([mean - slope * at, mean + slope * (1 - at)], axis=-1)
        stray = offset - (fit[..., :1] + share * (fit[..., 1:] - fit[..., :1]))
        weights = clear / (1 + (stray / near) ** 2) ** 2
    agreeing = (clear & (np.abs(stray) < 2 * near)).mean(axis=-1)
    spanned = spread > 0.25 * _READINGS * share.var() * _LEAST_READ
    return fit, (agreeing > _LEAST_READ) & spanned


def _crossed(start: Floats, along: Floats, length: Floats, outward: Floats, lines: Floats) -> Points:
    """Return the corners where each side's line crosses the one before it."""
    begin = start + lines[..., :1] * outward
    finish = start + along + lines[..., 1:] * outward
    way = finish - begin
    earlier_begin, earlier_way = np.roll(begin, 1, axis=1), np.roll(way, 1, axis=1)
    below = earlier_way[..., 0] * way[..., 1] - earlier_way[..., 1] * way[..., 0]
    between = begin - earlier_begin
    far = (between[..., 0] * way[..., 1] - between[..., 1] * way[..., 0]) / np.where(
        np.abs(below) > 1e-9, below, 1e-9
    )
    crossed: Points = earlier_begin + far[..., None] * earlier_way
    return crossed
