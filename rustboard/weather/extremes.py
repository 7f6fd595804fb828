"""The lowest and the highest of any stretch of a long row of numbers, without looking at all of them."""

from __future__ import annotations

from typing import Final

import numpy as np

from rustboard.weather.readings import Numbers

_BLOCK: Final = 512


class Extremes:
    """Numbers of which the lowest and the highest of each block are kept; NaN counts as none."""

    def __init__(self, lowest: Numbers, highest: Numbers) -> None:
        """Take the numbers of which the lowest is asked for, and those of which the highest is."""
        self._lowest, self._highest = lowest, highest
        starts = np.arange(0, len(lowest), _BLOCK)
        self._blocks_lowest = np.fmin.reduceat(lowest, starts) if len(lowest) else lowest
        self._blocks_highest = np.fmax.reduceat(highest, starts) if len(highest) else highest

    def between(self, first: int, behind: int) -> tuple[float | None, float | None]:
        """Return the lowest and the highest of the numbers from one place to another, None where there is none."""
        block, last = -(-first // _BLOCK), behind // _BLOCK
        if block >= last:
            low, high = [self._lowest[first:behind]], [self._highest[first:behind]]
        else:
            edges = slice(first, block * _BLOCK), slice(last * _BLOCK, behind)
            low = [*(self._lowest[each] for each in edges), self._blocks_lowest[block:last]]
            high = [*(self._highest[each] for each in edges), self._blocks_highest[block:last]]
        lowest = np.fmin.reduce(np.concatenate(low), initial=np.inf)
        highest = np.fmax.reduce(np.concatenate(high), initial=-np.inf)
        return (
            float(lowest) if np.isfinite(lowest) else None,
            float(highest) if np.isfinite(highest) else None,
        )
