"""Clocks that the exposure of a board can be told by: days, wet hours, mm of rain, grades the controls lost.

A clock gives every inspection its place and joins days to places: it never runs backwards, and it stands still where
what it counts does. All clocks stand at 0 when exposure begins.

The **control clock** counts how many grades the untreated controls have lost: 10 less the mean of the last known
grades of all coupons with the role control, and never less than it was before (a clock that ran back would show one
grade at two places). It begins at 0, stands still where the controls were not graded or are at 0 already, and between
two inspections it is taken to run evenly, because nobody looked in between.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate
from typing import Final, Literal

from rustboard.board.record import BoardRecord
from rustboard.board.series import Days

ClockKind = Literal["days", "wet hours", "rain", "controls"]
CLOCK_KINDS: Final[tuple[ClockKind, ...]] = ("days", "wet hours", "rain", "controls")

BEST_GRADE: Final = 10.0


@dataclass(frozen=True, slots=True)
class ExposureClock:
    """A clock over the exposure of a board.

    Attributes:
        places: where each inspection lies, by time; never falling. In days, hours, mm or grades.
        days, values: what the clock shows at these days; both never fall. Empty for days, which are their own clock.
        known: share of the exposure until the last inspection for which what it counts is known, 0 to 1. What is not
            known is not counted.
    """

    kind: ClockKind
    places: tuple[float, ...]
    days: tuple[float, ...] = ()
    values: tuple[float, ...] = ()
    known: float = 1.0

    def at_day(self, day: float) -> float:
        """Return what the clock shows on a day; before its first and after its last day it stands still."""
        return day if not self.days else _between(self.days, self.values, day)

    def day_at(self, value: float) -> float:
        """Return the last day on which the clock shows no more than this."""
        if not self.days:
            return value
        at = bisect_right(self.values, value)
        if at == 0:
            return self.days[0]
        if at == len(self.values):
            return self.days[-1]
        low, high = self.values[at - 1], self.values[at]
        return self.days[at - 1] + (self.days[at] - self.days[at - 1]) * (value - low) / (high - low)


def _between(knots: Sequence[float], values: Sequence[float], wanted: float) -> float:
    at = bisect_left(knots, wanted)
    if at == 0:
        return values[0]
    if at == len(knots):
        return values[-1]
    low, high = knots[at - 1], knots[at]
    return values[at - 1] + (values[at] - values[at - 1]) * (wanted - low) / (high - low)


def day_clock(days: Days) -> ExposureClock:
    """Return the clock that counts days."""
    return ExposureClock("days", tuple(each.day for each in days))


def has_graded_controls(record: BoardRecord) -> bool:
    """Return whether a coupon with the role control was ever graded."""
    return any(record.current.get(each.key) for each in record.coupons.values() if each.role == "control")


def control_clock(record: BoardRecord, days: Days) -> ExposureClock:
    """Return the clock that counts the grades lost by the untreated controls; see the module for its rules."""
    places = tuple(controls_lost(record, [each.inspection for each in days]))
    knots = [(each.day, place) for each, place in zip(days, places, strict=True)]
    if not knots or knots[0][0] > 0:
        knots.insert(0, (0.0, 0.0))
    return ExposureClock("controls", places, tuple(day for day, _ in knots), tuple(place for _, place in knots))


def controls_lost(record: BoardRecord, inspections: Sequence[int]) -> list[float]:
    """Return how many grades the controls had lost at each inspection (keys by time), never falling."""
    controls = [each.key for each in record.coupons.values() if each.role == "control"]
    last: dict[int, int] = {}
    lost = []
    for inspection in inspections:
        for coupon in controls:
            grading = record.grading(coupon, inspection)
            if grading is not None:
                last[coupon] = grading.grade
        lost.append(BEST_GRADE - sum(last.values()) / len(last) if last else 0.0)
    return list(accumulate(lost, max))


def counted_clock(
    kind: ClockKind, places: Sequence[float], days: Sequence[float], values: Sequence[float], known: float
) -> ExposureClock:
    """Return a clock that counts something that was measured: its values are lifted where they would fall."""
    return ExposureClock(
        kind, tuple(accumulate(places, max)), tuple(days), tuple(accumulate(values, max)), min(1.0, max(0.0, known))
    )
