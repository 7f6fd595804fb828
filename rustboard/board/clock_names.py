"""Clocks by their names, and what they show as seconds and back."""

from __future__ import annotations

import re
from datetime import datetime, timedelta
from typing import Final
from zoneinfo import ZoneInfo

_EPOCH: Final = datetime(1970, 1, 1)
_FIXED: Final = re.compile(r"UTC(?:([+-])([0-9]{2}):([0-9]{2}))?")


def seconds_since_1970(when: datetime) -> int:
    """Return a clock's time as seconds since 1970-01-01 00:00 of that clock; parts of a second are dropped."""
    return (when - _EPOCH) // timedelta(seconds=1)


def clock_time(seconds: float) -> datetime:
    """Return what a clock shows so many seconds after its 1970-01-01 00:00."""
    return _EPOCH + timedelta(seconds=seconds)


def fixed_difference(name: str) -> int | None:
    """Return seconds by which ``UTC`` or a clock such as ``UTC+01:00`` is ahead of UTC; None for any other name."""
    found = _FIXED.fullmatch(name)
    if found is None:
        return None
    sign, hours, minutes = found.groups()
    return 0 if sign is None else (int(hours) * 3600 + int(minutes) * 60) * (1 if sign == "+" else -1)


def is_zone(name: str) -> bool:
    """Return whether a zone of clocks has this name; the names are those of the time zone database."""
    try:
        ZoneInfo(name)
    except (KeyError, ValueError, OSError):  # OSError: the name of a folder of zones
        return False
    return True
