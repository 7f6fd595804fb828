"""Stretches of time without overlap, and sums over them that any moment can be asked for."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from rustboard.weather.readings import Numbers

Places = NDArray[np.int64]

JOINED_UP_TO: Final = 1.5
"""Readings further apart than this many times the usual distance around them have a gap between them (own rule)."""
LONGEST_JOINED_S: Final = 3 * 3_600.0
"""Readings further apart than this are never joined: what the air did in between is not known (own rule)."""
ALONE_S: Final = 3_600.0
"""A reading with no neighbour stands for this long (own rule)."""
_BESIDE: Final = 6
"""Distances on each side that say what is usual."""


@dataclass(frozen=True, slots=True, eq=False)
class Segments:
    """Stretches in order.

    Attributes:
        start, end: seconds; ``end[i] <= start[i + 1]``.
        of: what each stretch belongs to: the place of its reading.
    """

    start: Numbers
    end: Numbers
    of: Places

    def __len__(self) -> int:
        """Return how many there are."""
        return len(self.start)

    def outside(self, other: Segments) -> Segments:
        """Return what of these lies outside all of ``other``."""
        if not len(self) or not len(other):
            return self
        begin = np.concatenate([[-np.inf], other.end])
        stop = np.concatenate([other.start, [np.inf]])
        first = np.searchsorted(stop, self.start, side="right")
        beyond = np.searchsorted(begin, self.end, side="left")
        counts = np.maximum(0, beyond - first)
        of = np.repeat(np.arange(len(self)), counts)
        gap = np.arange(counts.sum()) - np.repeat(np.cumsum(counts) - counts, counts) + np.repeat(first, counts)
        start, end = np.maximum(self.start[of], begin[gap]), np.minimum(self.end[of], stop[gap])
        kept = end > start
        return Segments(start[kept], end[kept], self.of[of][kept])

    def around(self, start: float, end: float) -> slice:
        """Return which of them touch a stretch."""
        return slice(
            int(np.searchsorted(self.end, start, side="right")), int(np.searchsorted(self.start, end, side="left"))
        )


NOTHING: Final = Segments(np.zeros(0), np.zeros(0), np.zeros(0, np.int64))


@dataclass(frozen=True, slots=True, eq=False)
class Growth:
    """Something that grows at its own pace in each stretch, and stands still between them."""

    start: Numbers
    end: Numbers
    rate: Numbers
    before: Numbers

    @classmethod
    def over(cls, segments: Segments, rate: Numbers) -> Growth:
        """Return what grows by ``rate`` each second, one number a stretch; stretches without a rate are left out."""
        known = rate != 0
        start, end, kept = segments.start[known], segments.end[known], rate[known]
        grown = np.cumsum(kept * (end - start))
        return cls(start, end, kept, np.concatenate([[0.0], grown]))

    @classmethod
    def during(cls, segments: Segments, chosen: NDArray[np.bool_]) -> Growth:
        """Return what grows by one each second of the chosen stretches; stretches that touch become one."""
        start, end = segments.start[chosen], segments.end[chosen]
        if not len(start):
            return cls.over(NOTHING, start)
        apart = start[1:] != end[:-1]
        start, end = start[np.concatenate([[True], apart])], end[np.concatenate([apart, [True]])]
        return cls.over(Segments(start, end, np.arange(len(start))), np.ones(len(start)))

    def until(self, seconds: Numbers) -> Numbers:
        """Return how much there was until each moment."""
        at = np.searchsorted(self.start, seconds, side="right") - 1
        if not len(self.start):
            return np.zeros(len(seconds))
        kept = np.maximum(at, 0)
        into = np.clip(seconds - self.start[kept], 0, self.end[kept] - self.start[kept])
        found: Numbers = np.where(at >= 0, self.before[kept] + self.rate[kept] * into, 0.0)
        return found

    def between(self, start: float, end: float) -> float:
        """Return how much there was from one moment until another."""
        return self._until_one(end) - self._until_one(start)

    def _until_one(self, second: float) -> float:
        # As `until`, without the arrays: an exposure asks for dozens of numbers.
        at = int(self.start.searchsorted(second, side="right")) - 1
        if at < 0:
            return 0.0
        into = min(second, float(self.end[at])) - float(self.start[at])
        return float(self.before[at]) + float(self.rate[at]) * into


def reading_segments(seconds: Numbers) -> Segments:
    """Return the stretch that each reading stands for: half-way to its neighbours.

    Where a neighbour is too far it is half the usual distance on that side.

    Args:
        seconds: of the readings, rising.
    """
    if len(seconds) == 0:
        return NOTHING
    distance = np.diff(seconds)
    usual = _usual(distance)
    joined = (distance <= JOINED_UP_TO * usual) & (distance <= LONGEST_JOINED_S)
    half = np.where(joined, distance, np.minimum(usual, LONGEST_JOINED_S)) / 2
    edge = half[[0, -1]] if len(half) else np.full(2, ALONE_S / 2)
    before = np.concatenate([edge[:1], half])
    after = np.concatenate([half, edge[1:]])
    return Segments(seconds - before, seconds + after, np.arange(len(seconds)))


def _usual(distance: Numbers) -> Numbers:
    """Return the median of the distances around each; of those of three hours at most, where there are any.

    Where a distance is joined in any case, since it is no longer than 1.5 times the shortest around, it stands for
    the median itself: nobody asks how long the usual one is there.
    """
    fitting = np.where(distance <= LONGEST_JOINED_S, distance, np.nan)
    usual = np.where(np.isnan(fitting), ALONE_S, distance)
    padded = np.concatenate([np.full(_BESIDE, np.nan), fitting, np.full(_BESIDE, np.nan)])
    shortest = fitting
    for shift in range(2 * _BESIDE + 1):
        shortest = np.fmin(shortest, padded[shift : shift + len(distance)])
    near = np.flatnonzero(~(fitting <= JOINED_UP_TO * shortest))
    if not len(near):
        return usual
    windows = np.lib.stride_tricks.sliding_window_view(padded, 2 * _BESIDE + 1)[near]
    known = ~np.isnan(windows).all(axis=1)
    usual[near[known]] = np.nanmedian(windows[known], axis=1)
    usual[near[~known]] = ALONE_S
    return usual
