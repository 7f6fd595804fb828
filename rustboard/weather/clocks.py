"""A clock's time to true time: zones, the hour that clocks skip in spring and the one they show twice in autumn."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from functools import lru_cache
from typing import Final
from zoneinfo import ZoneInfo

import numpy as np
from numpy.typing import NDArray

from rustboard.board.clock_names import clock_time, fixed_difference, seconds_since_1970
from rustboard.support.problems import InputError
from rustboard.weather.readings import Numbers, Seconds

Truths = NDArray[np.bool_]

_EPOCH: Final = datetime(1970, 1, 1)
_DAY: Final = 86_400
_MARGIN_DAYS: Final = 2
_EARLIEST: Final = datetime(1900, 1, 1)
_LATEST: Final = datetime(2201, 1, 1)


@dataclass(frozen=True, slots=True, eq=False)
class Clock:
    """How far a clock is ahead of true time, and when that changed.

    Attributes:
        changes: true seconds at which it was put forward or back.
        ahead: seconds ahead before the first change, after it, after the second, and so on.
    """

    changes: NDArray[np.int64]
    ahead: NDArray[np.int64]

    def true_of(self, shown: Seconds) -> Seconds:
        """Return true seconds of what the clock showed.

        Of a time shown twice the first; of a skipped one as if the clock had not been put forward yet.
        """
        before, after = self.ahead[:-1], self.ahead[1:]
        at = np.searchsorted(self.changes + np.maximum(before, after), shown, side="right")
        found: Seconds = shown - self.ahead[at]
        return found

    def true_moment(self, when: datetime) -> float:
        """Return the true second of a moment that somebody told by this clock.

        Of a time shown twice it is the first; one that was never shown is the moment the clock was put forward, so
        that later moments are never earlier in truth.
        """
        shown = np.array([seconds_since_1970(when)], np.int64)
        true = float(self.true_of(shown)[0]) + when.microsecond / 1e6
        if self.is_skipped(shown)[0]:
            return float(self.changes[self.changes <= true][-1])
        return true

    def second_pass(self, shown: Seconds) -> tuple[Truths, Seconds]:
        """Return which times the clock showed twice, and their true seconds the second time."""
        return self._within(shown, self.ahead[1:], self.ahead[:-1])

    def is_skipped(self, shown: Seconds) -> Truths:
        """Return which times the clock never showed."""
        skipped, _ = self._within(shown, self.ahead[:-1], self.ahead[1:])
        return skipped

    def shown_at(self, true: Numbers) -> Numbers:
        """Return what the clock showed at true seconds."""
        shown: Numbers = true + self.ahead[np.searchsorted(self.changes, true, side="right")]
        return shown

    def _within(self, shown: Seconds, low: Seconds, high: Seconds) -> tuple[Truths, Seconds]:
        """Return which times lie from ``low`` to ``high`` after a change, and their true time by its new offset."""
        if not len(self.changes):
            return np.zeros(len(shown), bool), shown
        at = np.searchsorted(self.changes + low, shown, side="right") - 1
        kept = np.maximum(at, 0)
        inside = (at >= 0) & (shown < (self.changes + high)[kept])
        return inside, shown - self.ahead[1:][kept]


STEADY: Final = Clock(np.zeros(0, np.int64), np.zeros(1, np.int64))
"""A clock that shows true time: where no zone is known, every clock is taken for one."""


def clock_of(name: str, site_zone: str, first: int, last: int) -> Clock:
    """Return the clock of a file (see `rustboard.board.weather.WeatherFile.clock`), between two times it shows.

    Where the site's zone is not known, nothing says how a zone's time is told at the board, and every clock is taken
    as it is.

    Raises:
        InputError: there is no such zone.
    """
    if not site_zone:
        return STEADY
    ahead = fixed_difference(name)
    if ahead is not None:
        return Clock(np.zeros(0, np.int64), np.array([ahead], np.int64))
    return zone_clock(name or site_zone, first // _DAY - _MARGIN_DAYS, last // _DAY + _MARGIN_DAYS)


@lru_cache(maxsize=32)
def zone_clock(zone: str, first_day: int, last_day: int) -> Clock:
    """Return the clock of a zone between two days since 1970.

    Raises:
        InputError: there is no such zone.
    """
    try:
        info = ZoneInfo(zone)
    except (KeyError, ValueError, OSError) as error:
        raise InputError(
            f"No zone is called “{zone[:60]}”; choose one such as Europe/Berlin under Site and clock."
        ) from error
    begin = max(_EPOCH + timedelta(days=first_day), _EARLIEST)
    days = min(last_day, (_LATEST - _EPOCH).days) - (begin - _EPOCH).days
    moments = [begin + timedelta(days=number) for number in range(max(1, days) + 1)]
    ahead = [_ahead(info, each) for each in moments]
    changes: list[int] = []
    offsets = [ahead[0]]
    for number in range(len(moments) - 1):
        if ahead[number] != ahead[number + 1]:
            changes.append(_change_between(info, moments[number], moments[number + 1]))
            offsets.append(ahead[number + 1])
    return Clock(np.array(changes, np.int64), np.array(offsets, np.int64))


def _ahead(info: ZoneInfo, true: datetime) -> int:
    offset = true.replace(tzinfo=UTC).astimezone(info).utcoffset()
    return 0 if offset is None else round(offset.total_seconds())


def _change_between(info: ZoneInfo, low: datetime, high: datetime) -> int:
    """Return the true second at which a clock's offset changed, by halving."""
    first = _ahead(info, low)
    begun, ended = seconds_since_1970(low), seconds_since_1970(high)
    while ended - begun > 1:
        middle = (begun + ended) // 2
        if _ahead(info, clock_time(middle)) == first:
            begun = middle
        else:
            ended = middle
    return ended
