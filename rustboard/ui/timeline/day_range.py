"""Which days are in view: zoomed and panned within what the board has."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

SHORTEST: Final = 2.0
"""Fewest days in view, so that at least two whole days are numbered."""

BEFORE: Final = 0.5
"""Most days shown before the first inspection where there are few; the next ones will come after it."""

EDGE: Final = 0.03
"""Free room beside the first and the last inspection, as a part of the days between them."""


@dataclass(frozen=True, slots=True)
class DayRange:
    """The days in view.

    Attributes:
        first, last: limits, a little beyond the first and the last inspection.
        low, high: what is in view, never beyond the limits.
        shortest: fewest days that can be in view.

    Where the axis counts something else than days, all of these are in what it counts.
    """

    first: float
    last: float
    low: float
    high: float
    shortest: float = SHORTEST

    @classmethod
    def over(cls, first_day: float, last_day: float, shortest: float = SHORTEST) -> DayRange:
        """Return the range that shows everything between two days."""
        span = last_day - first_day
        edge = span * EDGE
        missing = max(0.0, shortest - span - 2 * edge)
        first = first_day - edge - min(BEFORE * shortest / SHORTEST, missing / 2)
        last = max(last_day + edge, first + shortest)
        return cls(first, last, first, last, shortest)

    @property
    def is_whole(self) -> bool:
        """Whether all days are in view."""
        return self.low <= self.first and self.high >= self.last

    def whole(self) -> DayRange:
        """Return the range with all days in view."""
        return replace(self, low=self.first, high=self.last)

    def zoomed(self, factor: float, centre: float) -> DayRange:
        """Return a range ``factor`` times as long that keeps ``centre`` at its place."""
        longest = self.last - self.first
        span = self.high - self.low
        new = min(max(span * factor, min(self.shortest, longest)), longest)
        low = centre - (centre - self.low) * new / span
        return self._placed(low, new)

    def panned(self, days: float) -> DayRange:
        """Return the range moved by some days, as far as the limits allow."""
        return self._placed(self.low + days, self.high - self.low)

    def showing(self, day: float) -> DayRange:
        """Return the range moved as little as it takes to have a day in view, with some room beside it."""
        room = (self.high - self.low) * 0.1
        if day < self.low + room:
            return self.panned(day - room - self.low)
        if day > self.high - room:
            return self.panned(day + room - self.high)
        return self

    def moved_to(self, other: DayRange) -> DayRange:
        """Return the days in view here within the limits of ``other``; all days stay all days."""
        if self.is_whole:
            return other.whole()
        span = min(self.high - self.low, other.last - other.first)
        return other._placed(self.low, span)

    def _placed(self, low: float, span: float) -> DayRange:
        if span >= self.last - self.first:
            return self.whole()
        low = min(max(low, self.first), self.last - span)
        return replace(self, low=low, high=low + span)
