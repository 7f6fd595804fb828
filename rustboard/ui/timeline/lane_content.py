"""What the lane of the weather shows: the weather along the axis, and marks for disturbances."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import timedelta
from typing import Final

import numpy as np

from rustboard.board.measured import Disturbance
from rustboard.board.record import BoardRecord
from rustboard.ui.disturbance_words import kind_letter
from rustboard.ui.timeline.geometry import Floats
from rustboard.ui.timeline.lane_data import LaneAxis, LaneWeather

APART_PX: Final = 17.0
"""Marks nearer to each other than this are drawn as one with their number."""


@dataclass(frozen=True, slots=True)
class Mark:
    """A disturbance on the axis.

    Attributes:
        day: of exposure. place: on the axis. strong: of the whole board, or of a coupon that is chosen.
    """

    entry: Disturbance
    day: float
    place: float
    letter: str
    strong: bool


@dataclass(frozen=True, slots=True)
class MarkGroup:
    """Marks that are drawn as one.

    Attributes:
        x: px. text: a letter, or how many there are.
    """

    x: float
    text: str
    marks: tuple[Mark, ...]

    @property
    def strong(self) -> bool:
        """Whether one of them is."""
        return any(each.strong for each in self.marks)


@dataclass(frozen=True, slots=True, eq=False)
class LaneContent:
    """All that the lane shows.

    Attributes:
        axis: the clock of the axis. weather: None where none is known.
        marks: by day. ends: places of the inspections, by time. start: where the time before the first one begins.
    """

    axis: LaneAxis
    weather: LaneWeather | None
    marks: tuple[Mark, ...]
    ends: Floats
    start: float

    @property
    def is_empty(self) -> bool:
        """Whether there is nothing to show."""
        return self.weather is None and not self.marks

    def stretch_at(self, place: float) -> int:
        """Return the number of the inspection at whose end a place of the axis lies, or -1 after the last one."""
        found = int(np.searchsorted(self.ends, place, side="left"))
        return found if found < len(self.ends) and place >= self.start else -1

    def stretch(self, number: int) -> tuple[float, float]:
        """Return the places between which the stretch before an inspection lies."""
        end = float(self.ends[number])
        return (float(self.ends[number - 1]) if number else min(self.start, end)), end


def marks_of(record: BoardRecord, axis: LaneAxis, chosen: frozenset[int]) -> tuple[Mark, ...]:
    """Return the marks of all disturbances since exposure began, by day."""
    zero = record.day_zero()
    if zero is None:
        return ()
    entries = sorted(record.disturbances.values(), key=lambda each: (each.at, each.key))
    days = np.array([(each.at - zero) / timedelta(days=1) for each in entries])
    return tuple(
        Mark(each, float(day), float(place), kind_letter(each.kind), each.coupon is None or each.coupon in chosen)
        for each, day, place in zip(entries, days, axis.at_day(days), strict=True)
    )


def grouped(marks: Sequence[Mark], places: Floats) -> list[MarkGroup]:
    """Return marks with those that would cover each other taken together; ``places`` are theirs, px, rising."""
    groups: list[list[int]] = []
    for number, x in enumerate(places):
        if not groups or x - places[groups[-1][0]] >= APART_PX:
            groups.append([])
        groups[-1].append(number)
    found = []
    for members in groups:
        own = tuple(marks[each] for each in members)
        text = own[0].letter if len(own) == 1 else str(len(own))
        found.append(MarkGroup(float(places[members].mean()), text, own))
    return found
