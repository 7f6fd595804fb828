"""The most frequent of many values: a coupon's unrusted colour among that of spots, shade and dirt."""

from __future__ import annotations

from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

_BIN: Final = 1 / 64


def mode_of(
    values: NDArray[np.float32], reach: float = 3.0, width: float = 0.06, likely: tuple[float, float] = (0, 0)
) -> tuple[float, float]:
    """Return the most frequent value within ``reach`` of 0, and the share of all values within ``width`` of it.

    Args:
        values: any number.
        reach: how far from 0 is looked.
        width: half of the stretch that counts as near.
        likely: spread of what is expected below and above 0, by which values there are weighed; 0 = all alike.
    """
    if not values.size:
        return 0.0, 0.0
    count = round(2 * reach / _BIN)
    bins = ((values + np.float32(reach)) * np.float32(1 / _BIN)).astype(np.intp)
    np.clip(bins, -1, count, out=bins)
    bins += 1  # what is out of reach goes into a bin of its own on either side
    histogram = np.bincount(bins, minlength=count + 2)[1:-1].astype(np.float32)
    half = max(1, round(width / _BIN))
    window = np.convolve(histogram, _bell(half), "same")
    if likely[0] > 0:
        window = window * _expected(count, reach, likely)
    best = int(window.argmax())
    low, high = max(best - half, 0), min(best + half + 1, count)
    near = histogram[low:high]
    total = float(near.sum())
    if total <= 0:
        return 0.0, 0.0
    middle = float((near * (np.arange(low, high) + 0.5)).sum()) / total * _BIN - reach
    return middle, total / values.size


@lru_cache(maxsize=32)
def _bell(half: int) -> NDArray[np.float64]:
    """Return the weights by which neighbouring bins are added up."""
    return np.hanning(2 * half + 3)[1:-1]


@lru_cache(maxsize=32)
def _expected(count: int, reach: float, likely: tuple[float, float]) -> NDArray[np.float64]:
    """Return how likely each bin is."""
    at = (np.arange(count) + 0.5) * _BIN - reach
    return np.asarray(np.exp(-0.5 * (at / np.where(at < 0, *likely)) ** 2), np.float64)
