"""What a file of readings is, in a few sentences."""

from __future__ import annotations

from typing import Final

import numpy as np

from rustboard.board.clock_names import clock_time
from rustboard.support.text import counted
from rustboard.weather.readings import ReadingTable, Seconds

_GAP: Final = 3
"""How many usual intervals without a reading are a gap."""
_UNITS: Final = ((86_400, "day"), (3_600, "hour"), (60, "minute"))


def usual_interval(seconds: Seconds) -> int | None:
    """Return the most common number of seconds from one time to the next, or None for fewer than two times."""
    steps = np.sort(np.diff(different_times(seconds)))
    if not len(steps):
        return None
    begins = np.flatnonzero(np.diff(steps, prepend=steps[0] - 1))
    lengths = np.diff(begins, append=len(steps))
    return int(steps[begins[lengths.argmax()]])


def different_times(seconds: Seconds) -> Seconds:
    """Return the times in order, each once."""
    steps = np.diff(seconds)
    if (steps > 0).all():
        return seconds
    times = np.sort(seconds)
    return times[np.diff(times, prepend=times[0] - 1) > 0]


def gaps(seconds: Seconds) -> list[tuple[int, int]]:
    """Return the stretches without readings, longer than three usual intervals, the longest first."""
    times = different_times(seconds)
    interval = usual_interval(times)
    if interval is None:
        return []
    steps = np.diff(times)
    wide = np.flatnonzero(steps > _GAP * interval)
    wide = wide[np.argsort(-steps[wide], kind="stable")]
    return [(int(times[each]), int(times[each + 1])) for each in wide]


def reading_sentences(table: ReadingTable) -> tuple[str, ...]:
    """Return plain sentences: how many readings, from when to when, how often, and the gaps."""
    if not len(table):
        return ("There are no readings.",)
    first, last = (_shown(int(each)) for each in (table.seconds.min(), table.seconds.max()))
    sentences = [f"{counted(len(table), 'reading')} from {first} to {last}, of {', '.join(table.values)}."]
    interval = usual_interval(table.seconds)
    if interval is not None:
        sentences.append(f"There is usually one every {length_shown(interval)}.")
    found = gaps(table.seconds)
    if found:
        start, end = found[0]
        longest = f"from {_shown(start)} to {_shown(end)} ({length_shown(end - start)})"
        sentences.append(
            f"There is one gap {longest}."
            if len(found) == 1
            else f"There are {len(found)} gaps; the longest is {longest}."
        )
    return tuple(sentences)


def length_shown(seconds: int) -> str:
    """Return a length of time in the largest unit in which it has at most one decimal: ``10 minutes``."""
    for size, name in _UNITS:
        if seconds >= size:
            number = round(seconds / size, 1)
            return f"{number:g} {name}" if number == 1 else f"{number:g} {name}s"
    return counted(seconds, "second")


def _shown(seconds: int) -> str:
    return clock_time(seconds).strftime("%Y-%m-%d %H:%M")
