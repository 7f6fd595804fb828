"""The calendar of inspections that was planned for a board."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import time
from typing import Final

MOST_DAYS: Final = 400
LONGEST_DAYS: Final = 36_600


@dataclass(frozen=True, slots=True)
class InspectionDays:
    """On which days of exposure the board is to be looked at.

    Attributes:
        days: whole days after the start, rising; 0 is the day it begins.
        hour: time of day for the calendar file.
        remind: whether the shelf reminds.
        uid: what the events of the calendar file are known by; a random one, given once and kept. Two calendars that
            plan the same are equal whatever theirs is. A copy of a board's folder shares it, being the same board; a
            board made from a plan has its own, for no plan's file holds it.
    """

    days: tuple[int, ...] = ()
    hour: time = time(9)
    remind: bool = True
    key: int = 0
    uid: str = field(default="", compare=False)
