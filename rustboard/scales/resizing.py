"""Pictures made smaller without losing what is tiny, and larger without blocks."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Rgb = NDArray[np.uint8]


def shrink(rgb: Rgb, width: int, height: int) -> Rgb:
    """Return a picture at ``width`` x ``height`` pixels, each the mean of the area it stands for.

    Exact for any factor, fractions of pixels included: a speck of rust fades with its area but never falls between
    two samples.

    Args:
        rgb: H x W x 3, 0-255.
        width: wanted width in pixels, 1 to W.
        height: wanted height in pixels, 1 to H.

    Raises:
        ValueError: a wanted size below 1 or above the picture's own.
    """
    if not (1 <= height <= rgb.shape[0] and 1 <= width <= rgb.shape[1]):
        raise ValueError(f"cannot shrink {rgb.shape[1]} x {rgb.shape[0]} to {width} x {height}")
    rows = _sums_of_rows(rgb, height)
    both = _sums_of_rows(rows.swapaxes(0, 1), width).swapaxes(0, 1)
    # Divided once and last: for whole factors the sums are whole numbers, and the means exact.
    both /= rgb.shape[0] / height * (rgb.shape[1] / width)
    return np.ascontiguousarray(np.rint(both).astype(np.uint8))


def _sums_of_rows(values: NDArray[np.uint8] | NDArray[np.float64], wanted: int) -> NDArray[np.float64]:
    """Return the sums over ``wanted`` equal bands of the first axis, by differences of running sums."""
    size = values.shape[0]
    # Whole numbers for whole numbers: half the memory of float64 and as exact.
    kind = np.uint32 if values.dtype == np.uint8 else np.float64
    running = np.zeros((size + 1, *values.shape[1:]), kind)
    np.cumsum(values, axis=0, out=running[1:])
    # In whole numbers, so that a band's end on a pixel's edge has a fraction of exactly nothing.
    ends = np.arange(wanted + 1) * size
    whole = ends // wanted
    share = (ends % wanted / wanted).reshape(-1, *[1] * (values.ndim - 1))
    at_ends = running[whole] + share * values[np.minimum(whole, size - 1)]
    sums: NDArray[np.float64] = np.diff(at_ends, axis=0)
    return sums


def sampled_rows(size: int, wanted: int) -> NDArray[np.intp]:
    """Return which of ``size`` rows each of ``wanted`` rows lies in when they share one height."""
    return (2 * np.arange(wanted) + 1) * size // (2 * wanted)


def enlarge(rgb: Rgb, width: int, height: int) -> Rgb:
    """Return a picture at ``width`` x ``height`` pixels, interpolated between the centres of its pixels.

    Bilinear; beyond the outermost centres the edge is continued. Meant for enlarging: it samples, so a smaller
    size would lose detail (use `shrink`).

    Args:
        rgb: H x W x 3, 0-255.
        width: wanted width in pixels.
        height: wanted height in pixels.
    """
    rows = _between_rows(rgb.astype(np.float32), height)
    both = _between_rows(rows.swapaxes(0, 1), width).swapaxes(0, 1)
    both += np.float32(0.5)
    return np.ascontiguousarray(both.astype(np.uint8))


def _between_rows(values: NDArray[np.float32], wanted: int) -> NDArray[np.float32]:
    size = values.shape[0]
    at = np.clip((np.arange(wanted) + 0.5) * size / wanted - 0.5, 0, size - 1)
    first = at.astype(np.intp)
    share = (at - first).astype(np.float32).reshape(-1, *[1] * (values.ndim - 1))
    between: NDArray[np.float32] = values[first]
    between *= 1 - share
    between += share * values[np.minimum(first + 1, size - 1)]
    return between
