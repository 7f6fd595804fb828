"""Where the axes of charts begin and end, and their steps."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

_MOST_STEPS: Final = 10
_DAY_UNITS: Final = (1, 2, 7, 14, 28, 56, 91, 182, 364, 728)


def day_axis(days: Sequence[float]) -> tuple[int, int, int]:
    """Return (least, most, step) of the time axis in whole days, with at most a dozen steps where that can be."""
    first, last = min(0.0, *days), max(1.0, *days)
    step = next((each for each in _DAY_UNITS if (last - first) / each <= 12), _DAY_UNITS[-1])
    # By floor division: of the tiniest number before zero an ordinary quotient would be zero.
    return (int(first // step) * step, -int(-last // step) * step, step)


def round_axis(values: Sequence[float]) -> tuple[float, float, float]:
    """Return (least, most, step) of an axis from 0 that holds all values, with at most a dozen round steps."""
    first, last = min(0.0, *values, 0.0), max(0.0, *values, 0.0)
    if last <= first:
        last = first + 1
    power = 10.0 ** math.floor(math.log10((last - first) / _MOST_STEPS))
    step = next(power * each for each in (1, 2, 5, 10, 20) if (last - first) / (power * each) <= _MOST_STEPS)
    least, most = (round(end * step, 12) for end in (math.floor(first / step), math.ceil(last / step)))
    return least, most, step
