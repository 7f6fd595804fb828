"""Which pixels of a picture of a coupon count: its significant surface."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from rustboard.support.problems import InputError

Mask = NDArray[np.bool_]


def significant_surface(
    outline_px: Sequence[tuple[float, float]], shape: tuple[int, int], margin_px: float = 0.0
) -> Mask:
    """Return the pixels whose centres lie inside an outline and at least a margin away from all its edges.

    Where an outline crosses itself, what it winds round an even number of times is outside (even-odd rule).

    Args:
        outline_px: corners (x, y) of a closed polygon in pixels; (0, 0) is the outer corner of the top left pixel,
            whose centre is (0.5, 0.5). The polygon may reach beyond the picture.
        shape: height and width of the picture.
        margin_px: width of the strip along the outline that does not count.

    Raises:
        InputError: fewer than three corners, a corner that is not a number, or a negative margin.
    """
    corners = np.asarray(outline_px, np.float64).reshape(-1, 2)
    if len(corners) < 3:
        raise InputError("An outline needs at least three corners.")
    if not np.isfinite(corners).all():
        raise InputError("A corner of the outline is not a number.")
    if not margin_px >= 0:
        raise InputError("The edge margin cannot be negative; give 0 or more.")
    following = np.roll(corners, -1, axis=0)
    inside = _inside(corners, following, shape)
    if margin_px > 0:
        for start, end in zip(corners, following, strict=True):
            _leave_out_strip(inside, start, end, margin_px)
    return inside


def _inside(starts: NDArray[np.float64], ends: NDArray[np.float64], shape: tuple[int, int]) -> Mask:
    """Return the even-odd inside: along each row of pixel centres, every edge crossed turns in and out about."""
    height, width = shape
    crossings = np.zeros((height, width + 1), np.int32)
    for (x0, y0), (x1, y1) in zip(starts, ends, strict=True):
        top, bottom = min(y0, y1), max(y0, y1)
        # Half-open in y, so that a corner on a row of centres is crossed once and not twice.
        first, last = (int(np.clip(np.ceil(y - 0.5), 0, height)) for y in (top, bottom))
        rows = np.arange(first, last)
        if rows.size:
            at = x0 + (rows + 0.5 - y0) * ((x1 - x0) / (y1 - y0))
            columns = np.clip(np.ceil(at - 0.5), 0, width).astype(np.intp)
            crossings[rows, columns] += 1
    return (np.cumsum(crossings[:, :-1], axis=1) % 2).astype(np.bool_)


def _leave_out_strip(inside: Mask, start: NDArray[np.float64], end: NDArray[np.float64], margin: float) -> None:
    """Take the pixels nearer than ``margin`` to one edge out of ``inside``, in place."""
    height, width = inside.shape
    low, high = np.minimum(start, end) - margin, np.maximum(start, end) + margin
    left, top = (int(np.clip(np.floor(low[axis]), 0, size)) for axis, size in ((0, width), (1, height)))
    right, bottom = (int(np.clip(np.ceil(high[axis]), 0, size)) for axis, size in ((0, width), (1, height)))
    if left >= right or top >= bottom:
        return
    x = np.arange(left, right) + 0.5 - start[0]
    y = (np.arange(top, bottom) + 0.5 - start[1])[:, None]
    along = end - start
    length_squared = float(along @ along)
    share = np.clip((x * along[0] + y * along[1]) / length_squared, 0, 1) if length_squared else np.zeros(1)
    away_squared = (x - share * along[0]) ** 2 + (y - share * along[1]) ** 2
    inside[top:bottom, left:right] &= away_squared >= margin * margin
