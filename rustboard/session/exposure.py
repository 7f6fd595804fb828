"""What the weather was between the inspections of a board, and since its start; and the climate it adds up to."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING, Final
from zoneinfo import ZoneInfo

from rustboard.board.clock_names import clock_time
from rustboard.board.model import Inspection
from rustboard.board.record import BoardRecord, site_of

if TYPE_CHECKING:
    from rustboard.weather.exposure import Exposure
    from rustboard.weather.track import WeatherTrack

LEAST_GAP_HOURS: Final = 1.0
"""Gaps shorter than this count in the coverage but are not named (own choice, no source)."""
MOST_GAPS: Final = 50
"""Most gaps of one stretch that are named; the longest ones are kept."""
_HOUR: Final = 3_600.0


@dataclass(frozen=True, slots=True)
class Gap:
    """A stretch in which nothing is known of wetness, by the board's clock."""

    start: datetime
    end: datetime
    hours: float

    @property
    def length(self) -> str:
        """How long, in words: hours, or days from two on."""
        return f"{self.hours:.0f} h" if self.hours < 48 else f"{self.hours / 24:.1f} days"


@dataclass(frozen=True, slots=True)
class InspectionExposure:
    """What the weather was until one inspection.

    Attributes:
        inspection: key; None = no inspection, but the last moment of which the weather is known.
        interval: from the inspection before, or from the start of exposure. since_start: from that start.
        gaps, gaps_since_start: what is not known of each, by time; of very many the longest.
    """

    inspection: int | None
    interval: Exposure
    since_start: Exposure
    gaps: tuple[Gap, ...] = ()
    gaps_since_start: tuple[Gap, ...] = ()

    def exposure(self, *, from_start: bool) -> Exposure:
        """Return the one or the other."""
        return self.since_start if from_start else self.interval

    def gaps_of(self, *, from_start: bool) -> tuple[Gap, ...]:
        """Return the gaps of the one or the other."""
        return self.gaps_since_start if from_start else self.gaps


def exposed_moments(record: BoardRecord) -> list[tuple[datetime, int | None]]:
    """Return the start of exposure (with no key) and the inspections after it, by time.

    Of inspections at the same moment the first counts; those before the start are not exposed yet (see
    `inspections_before_start`). Empty without a start; the start alone when no inspection came after it.
    """
    start = record.day_zero()
    if start is None:
        return []
    moments: list[tuple[datetime, int | None]] = [(start, None)]
    for each in record.inspections_in_order():
        if each.at > moments[-1][0]:
            moments.append((each.at, each.key))
    return moments


def inspections_before_start(record: BoardRecord) -> list[Inspection]:
    """Return the inspections that lie before the stated start of exposure."""
    start = record.day_zero()
    return [] if start is None else [each for each in record.inspections_in_order() if each.at < start]


def inspection_exposures(record: BoardRecord, track: WeatherTrack) -> list[InspectionExposure]:
    """Return one row for each interval that ends at an inspection: start to first inspection, first to second ...

    Where nothing is known of the weather the rows are there, with nothing covered. No rows without a start of
    exposure, or without an inspection after it.
    """
    moments = exposed_moments(record)
    if len(moments) < 2:
        return []
    start = moments[0][0]
    gaps = _Gaps(record, track)
    intervals = track.exposures([at for at, _ in moments])
    return [
        InspectionExposure(
            key, interval, track.exposure(start, at), gaps.between(interval.start, at), gaps.between(start, at)
        )
        for (at, key), interval in zip(moments[1:], intervals, strict=True)
    ]


def open_exposure(record: BoardRecord, track: WeatherTrack) -> InspectionExposure | None:
    """Return the weather after the last inspection (or since the start, without one), as far as it is known.

    None where there is no start, or where nothing is known after the last inspection.
    """
    moments, span = exposed_moments(record), track.span()
    if not moments or span is None:
        return None
    last, end = moments[-1][0], board_time(record)(span[1])
    if end - last < timedelta(minutes=1):
        return None
    start, gaps = moments[0][0], _Gaps(record, track)
    return InspectionExposure(
        None, track.exposure(last, end), track.exposure(start, end), gaps.between(last, end), gaps.between(start, end)
    )


def board_time(record: BoardRecord) -> Callable[[float], datetime]:
    """Return what turns the seconds of a track into the board's clock: the inverse of `WeatherTrack.seconds_of`."""
    name = site_of(record).zone
    if not name:
        return clock_time
    zone = ZoneInfo(name)
    begin = datetime(1970, 1, 1, tzinfo=UTC)
    return lambda seconds: (begin + timedelta(seconds=seconds)).astimezone(zone).replace(tzinfo=None)


def named_gaps(rows: Sequence[InspectionExposure], most: int) -> tuple[list[Gap], int]:
    """Return the longest gaps of all intervals by time, and how many there are beside them.

    A gap that an inspection cut in two is whole again.
    """
    joined: list[Gap] = []
    for each in (gap for row in rows for gap in row.gaps):
        if joined and joined[-1].end == each.start:
            before = joined.pop()
            joined.append(Gap(before.start, each.end, before.hours + each.hours))
        else:
            joined.append(each)
    longest = sorted(joined, key=lambda each: each.hours, reverse=True)[:most]
    return sorted(longest, key=lambda each: each.start), len(joined) - len(longest)


def cautions_by_time(
    rows: Sequence[InspectionExposure], *, from_start: bool
) -> list[tuple[tuple[datetime, datetime] | None, str]]:
    """Return the cautions of all rows with their times; with None what every row says, once and first."""
    shown = [each.exposure(from_start=from_start) for each in rows]
    said = [each.cautions for each in shown]
    if len(shown) < 2:
        common: tuple[str, ...] = ()
    else:
        common = tuple(text for text in said[0] if all(text in each for each in said))
    found: list[tuple[tuple[datetime, datetime] | None, str]] = [(None, text) for text in common]
    for each in shown:
        found += [((each.start, each.end), text) for text in each.cautions if text not in common]
    return found


def all_gaps(record: BoardRecord, track: WeatherTrack) -> tuple[Gap, ...]:
    """Return the gaps between the first and the last moment of which anything is known."""
    span = track.span()
    if span is None:
        return ()
    time = board_time(record)
    return _Gaps(record, track).between(time(span[0]), time(span[1]))


class _Gaps:
    """Where nothing is known of wetness, worked out once for a track."""

    def __init__(self, record: BoardRecord, track: WeatherTrack) -> None:
        import numpy as np

        self._time, self._track = board_time(record), track
        pieces = track.pieces()
        known = ~np.isnan(pieces.wet)
        starts, ends = pieces.start[known], pieces.end[known]
        # Before the first and after the last piece nothing is known either.
        self._from = np.concatenate([[-np.inf], ends])
        self._to = np.concatenate([starts, [np.inf]])

    def between(self, start: datetime, end: datetime) -> tuple[Gap, ...]:
        import numpy as np

        first, last = self._track.seconds_of(start), self._track.seconds_of(end)
        begin, finish = np.maximum(self._from, first), np.minimum(self._to, last)
        hours = (finish - begin) / _HOUR
        found = np.flatnonzero(hours >= LEAST_GAP_HOURS)
        if len(found) > MOST_GAPS:
            found = np.sort(found[np.argsort(hours[found])[-MOST_GAPS:]])
        return tuple(
            Gap(self._time(float(begin[at])), self._time(float(finish[at])), float(hours[at])) for at in found
        )
