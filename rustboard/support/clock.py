"""The time, passed in so that tests can hold it still."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime

Clock = Callable[[], datetime]


def wall_clock() -> datetime:
    """Return the local wall-clock time to the second, without a zone: what a person reads off the wall."""
    return datetime.now().replace(microsecond=0)
