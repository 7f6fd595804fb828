"""What readings tell about whether a logger's clock was put forward and back with the seasons."""

from __future__ import annotations

from typing import Literal

from rustboard.weather.readings import Seconds

ClockHint = Literal["same all year", "put forward and back", ""]


def clock_hint(seconds: Seconds, zone: str) -> ClockHint:
    """Return what the hours say in which the clocks of a zone change; empty when they say nothing or contradict.

    Args:
        seconds: times as `rustboard.weather.readings.ReadingTable` has them, in any order.
        zone: such as ``Europe/Berlin``; one that does not exist says nothing.
    """
    raise NotImplementedError
