"""Which source counts when: the first logger, where it has nothing the next one, and the day log where none has."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final

import numpy as np

from rustboard.board.clock_names import seconds_since_1970
from rustboard.board.weather import DayNote, Site, assumed_wet_hours
from rustboard.weather.clocks import Clock, Truths
from rustboard.weather.readings import Numbers, Seconds
from rustboard.weather.segments import NOTHING, Segments, reading_segments

BY_HAND: Final = -1
_DAY_HOURS: Final = 24.0


@dataclass(frozen=True, slots=True, eq=False)
class Filled:
    """Stretches in which something is known, with the source of each.

    Attributes:
        segments: in order; ``of`` is the place of the reading in its series, or of the note among the notes.
        source: number of the logger, `BY_HAND` for the day log.
    """

    segments: Segments
    source: np.ndarray[tuple[int, ...], np.dtype[np.int64]]

    def gathered(self, by_logger: Sequence[Numbers], by_hand: Numbers) -> Numbers:
        """Return one number a stretch: of its reading in its logger's column, or of its note."""
        found = np.full(len(self.segments), np.nan)
        for number, column in enumerate(by_logger):
            mine = self.source == number
            found[mine] = column[self.segments.of[mine]]
        mine = self.source == BY_HAND
        found[mine] = by_hand[self.segments.of[mine]]
        return found

    @property
    def is_by_hand(self) -> Truths:
        """Which stretches are of the day log."""
        found: Truths = self.source == BY_HAND
        return found


def filled(by_logger: Sequence[Segments], by_hand: Segments) -> Filled:
    """Return where something is known and by whom: of the first logger all of it, of the others what is left."""
    parts: list[Segments] = []
    covered = NOTHING
    for each in (*by_logger, by_hand):
        parts.append(each.outside(covered))
        covered = in_order([covered, parts[-1]])
    numbers = [*range(len(by_logger)), BY_HAND]
    source = np.concatenate([np.full(len(each), number) for each, number in zip(parts, numbers, strict=True)])
    if len(covered) > max(map(len, parts)):
        source = source[np.argsort(np.concatenate([each.start for each in parts]), kind="stable")]
    return Filled(covered, source)


def standing_for(seconds: Seconds, known: Truths) -> Segments:
    """Return the stretches that those readings stand for which tell something, by the place of each reading."""
    which = np.flatnonzero(known)
    own = reading_segments(seconds[which].astype(np.float64))
    return Segments(own.start, own.end, which[own.of])


def chosen(segments: Segments, which: Truths) -> Segments:
    """Return those stretches whose notes tell something; ``which`` has one truth a note."""
    return Segments(segments.start[which], segments.end[which], segments.of[which])


def in_order(parts: Sequence[Segments]) -> Segments:
    """Return the stretches of several lots that do not overlap, by time."""
    parts = [each for each in parts if len(each)]
    if len(parts) < 2:
        return parts[0] if parts else NOTHING
    start = np.concatenate([each.start for each in parts])
    order = np.argsort(start, kind="stable")
    end = np.concatenate([each.end for each in parts])
    of = np.concatenate([each.of for each in parts])
    return Segments(start[order], end[order], of[order])


def day_segments(notes: Sequence[DayNote], clock: Clock) -> Segments:
    """Return the days noted by hand as stretches of true time, midnight to midnight by the board's clock."""
    if not notes:
        return NOTHING
    start = np.array([_midnight(each, 0) for each in notes], np.int64)
    end = np.array([_midnight(each, 1) for each in notes], np.int64)
    return Segments(
        clock.true_of(start).astype(np.float64), clock.true_of(end).astype(np.float64), np.arange(len(notes))
    )


def _midnight(note: DayNote, later: int) -> int:
    return seconds_since_1970(datetime(note.day.year, note.day.month, note.day.day) + timedelta(days=later))


def wet_share(note: DayNote, site: Site, day_hours: float = _DAY_HOURS) -> float:
    """Return the share of a day noted by hand that counts as wet; NaN where the note says nothing of it.

    A day has 23 or 25 hours where clocks are changed; hours noted stay those hours, but none is wet for longer.

    Hours noted count; else the site's assumption for a day with dew alone, or with rain, fog or snow; a dry day and a
    day with frost alone have none.
    """
    if note.wet_hours is not None:
        return min(note.wet_hours / day_hours, 1.0)
    assumed = assumed_wet_hours(note.conditions, site)
    if assumed is not None:
        return min(assumed / day_hours, 1.0)
    return 0.0 if note.conditions else float("nan")


def day_rain_mm(note: DayNote) -> float:
    """Return the rain of a day noted by hand; NaN where it is not known, such as rain or snow without a number."""
    if note.rain_mm is not None:
        return note.rain_mm
    if not note.conditions or {"rain", "snow"} & set(note.conditions):
        return float("nan")
    return 0.0


def is_assumed(note: DayNote) -> bool:
    """Return whether the wet hours of a day are the site's assumption."""
    return note.wet_hours is None and assumed_wet_hours(note.conditions, Site()) is not None


def day_mean_c(note: DayNote) -> float:
    """Return the middle of the highest and the lowest temperature of a day; NaN unless both are noted."""
    if note.highest_c is None or note.lowest_c is None:
        return float("nan")
    return (note.highest_c + note.lowest_c) / 2.0


def day_lowest_c(note: DayNote) -> float:
    """Return the lowest temperature noted of a day; NaN where there is none."""
    return float("nan") if note.lowest_c is None else note.lowest_c


def day_highest_c(note: DayNote) -> float:
    """Return the highest temperature noted of a day; NaN where there is none."""
    return float("nan") if note.highest_c is None else note.highest_c
