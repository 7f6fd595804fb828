"""Rain of a logger as amounts, each over the time in which it fell."""

from __future__ import annotations

import numpy as np

from rustboard.weather.merging import Series
from rustboard.weather.readings import Numbers, Seconds
from rustboard.weather.segments import Segments, reading_segments

_HOUR: float = 3_600.0


def rain_segments(series: Series) -> tuple[Segments, Numbers]:
    """Return the stretches in which a logger knows the rain, and how much fell in each, mm.

    An amount fell since the reading before, at most over the usual distance. A counter is read by its differences,
    whatever lies between, since it goes on counting; where it falls it was set back, and shows what fell since. A
    rate counts for the time its reading stands for. Of several, amounts go before counters, and these before rates.
    """
    amount = series.of("rain")
    if not np.isnan(amount).all():
        return _amounts(series.seconds, amount)
    total = series.of("rain total")
    if not np.isnan(total).all():
        return _by_counter(series.seconds, total)
    rate = series.of("rain rate")
    which = np.flatnonzero(~np.isnan(rate))
    own = reading_segments(series.seconds[which].astype(np.float64))
    return Segments(own.start, own.end, which[own.of]), rate[which][own.of] * (own.end - own.start) / _HOUR


def _amounts(seconds: Seconds, amount: Numbers) -> tuple[Segments, Numbers]:
    which = np.flatnonzero(~np.isnan(amount))
    times = seconds[which].astype(np.float64)
    own = reading_segments(times)
    # A reading's stretch lies about it; what it tells of lies before it.
    length = 2 * (times - own.start)
    return Segments(times - length, times, which), amount[which]


def _by_counter(seconds: Seconds, total: Numbers) -> tuple[Segments, Numbers]:
    which = np.flatnonzero(~np.isnan(total))
    times, shown = seconds[which].astype(np.float64), total[which]
    grown = np.diff(shown)
    return Segments(times[:-1], times[1:], which[1:]), np.where(grown >= 0, grown, shown[1:])
