"""What readings tell about whether a logger's clock was put forward and back with the seasons."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC
from typing import Final, Literal
from zoneinfo import ZoneInfo

import numpy as np

from rustboard.board.clock_names import clock_time
from rustboard.support.problems import InputError
from rustboard.weather.logger_file.options import checked_clock
from rustboard.weather.logger_file.summary import usual_interval
from rustboard.weather.readings import Seconds

ClockHint = Literal["same all year", "put forward and back", ""]

_DAY: Final = 86_400
_MOST_YEARS: Final = 120
_TWICE: Final = 0.5
"""Share of the usual readings of an hour that must be there a second time for the hour to count as repeated."""


def clock_hint(seconds: Seconds, zone: str) -> ClockHint:
    """Return what the hours say in which the clocks of a zone change; empty when they say nothing or contradict.

    Readings in an hour that the clocks skip say that the logger's clock was left alone. An hour read twice when the
    clocks are put back, or an hour without readings between two with readings when they are put forward, say that it
    was put forward and back.

    Args:
        seconds: times as `rustboard.weather.readings.ReadingTable` has them, in any order.
        zone: such as ``Europe/Berlin``; one that does not exist says nothing.
    """
    try:
        rules = ZoneInfo(checked_clock(zone)) if "/" in zone else None
    except (InputError, KeyError, ValueError, OSError):
        rules = None
    interval = usual_interval(seconds)
    if rules is None or interval is None:
        return ""
    times = np.sort(seconds)
    alone = changed = 0
    for begin, end, forward in _changes(rules, int(times[0]), int(times[-1])):
        inside = times[np.searchsorted(times, begin) : np.searchsorted(times, end)]
        if forward:
            alone += len(inside) > 0
            changed += not len(inside) and _read_around(times, begin, end, interval)
        else:
            changed += len(inside) - len(np.unique(inside)) >= max(1.0, _TWICE * (end - begin) / interval)
    if alone and not changed:
        return "same all year"
    return "put forward and back" if changed and not alone else ""


def _read_around(times: Seconds, begin: int, end: int, interval: int) -> bool:
    """Return whether a stretch that holds several usual intervals has readings right before and right after it."""
    place = int(np.searchsorted(times, begin))
    if not 0 < place < len(times) or interval > (end - begin):
        return False
    return begin - int(times[place - 1]) <= interval and int(times[place]) - end < interval


def _changes(zone: ZoneInfo, first: int, last: int) -> Iterator[tuple[int, int, bool]]:
    """Yield the stretches by the clock on the wall that a zone skips (forward) or goes through twice."""
    begin = max(first - _DAY, last - _MOST_YEARS * 366 * _DAY)
    day, before = begin - begin % _DAY, None
    while day <= last + _DAY:
        offset = _offset(zone, day)
        if before is not None and offset != before:
            moment = _moment(zone, day - _DAY, day, before)
            low, high = sorted((moment + before, moment + offset))
            yield low, high, offset > before
        before, day = offset, day + _DAY


def _moment(zone: ZoneInfo, low: int, high: int, before: int) -> int:
    """Return the second of UTC from which another offset holds."""
    while high - low > 1:
        middle = (low + high) // 2
        if _offset(zone, middle) == before:
            low = middle
        else:
            high = middle
    return high


def _offset(zone: ZoneInfo, seconds: int) -> int:
    """Return how many seconds the clocks of a zone are ahead at a second of UTC."""
    there = clock_time(seconds).replace(tzinfo=UTC).astimezone(zone)
    ahead = there.utcoffset()
    return 0 if ahead is None else int(ahead.total_seconds())
