"""What happened to a board between two inspections: its weather, what was noted, and which coupons fell."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from rustboard.board.measured import Disturbance
from rustboard.board.model import Coupon, Grading, Inspection
from rustboard.board.record import BoardRecord
from rustboard.board.weather import DayNote

if TYPE_CHECKING:
    from rustboard.weather.exposure import Exposure
    from rustboard.weather.track import WeatherTrack


@dataclass(frozen=True, slots=True)
class Change:
    """The grades of a coupon before and at an inspection.

    Attributes:
        before: the last grade it had before this inspection, or None where it had none.
        now: the grade at this inspection.
        older: when ``before`` was given, where that was at an earlier inspection than the one before; else None.
    """

    coupon: Coupon
    before: Grading | None
    now: Grading
    older: datetime | None = None

    @property
    def fell(self) -> int:
        """Grades lost; negative where the grade is better than before, 0 where nothing is known of before."""
        return 0 if self.before is None else self.before.grade - self.now.grade


@dataclass(frozen=True, slots=True)
class Stretch:
    """The time before an inspection, from the one before it or from the start of exposure.

    Attributes:
        inspection: at its end. before: at its beginning, or None where exposure begins there.
        number, count: which of how many, by time, from 1.
        earlier, later: keys of the inspections before and after this one, or None.
        start, end: by the board's clock; the same where nothing came before.
        exposure: what the weather was, or None where nothing is known of it.
        day_notes: of the days it touches, by day. disturbances: after its start and until its end, by time.
        fell: what fell, furthest first, then as one reads the board. rose: what has a better grade than before.
        same: how many kept their grade. first: coupons graded for the first time.
        not_graded: on the board, without a grade at this inspection.
    """

    inspection: Inspection
    before: Inspection | None
    number: int
    count: int
    earlier: int | None
    later: int | None
    start: datetime
    end: datetime
    exposure: Exposure | None
    day_notes: tuple[DayNote, ...]
    disturbances: tuple[Disturbance, ...]
    fell: tuple[Change, ...]
    rose: tuple[Change, ...]
    same: int
    first: tuple[Change, ...]
    not_graded: tuple[Coupon, ...]

    @property
    def days(self) -> float:
        """How long it was."""
        return (self.end - self.start) / timedelta(days=1)


def what_happened(record: BoardRecord, track: WeatherTrack | None, inspection: int) -> Stretch | None:
    """Return what happened before an inspection; None when it is not on the board.

    Args:
        record: the board.
        track: its weather, where that is known.
        inspection: key of the inspection at the end.
    """
    ordered = record.inspections_in_order()
    at = next((number for number, each in enumerate(ordered) if each.key == inspection), None)
    if at is None:
        return None
    end, before = ordered[at], ordered[at - 1] if at else None
    start = min(end.at, before.at if before is not None else record.day_zero() or end.at)
    changes = _changes(record, end, before)
    falls = sorted((each for each in changes if each.fell > 0), key=_by_fall)
    return Stretch(
        inspection=end,
        before=before,
        number=at + 1,
        count=len(ordered),
        earlier=None if before is None else before.key,
        later=ordered[at + 1].key if at + 1 < len(ordered) else None,
        start=start,
        end=end.at,
        exposure=_exposure(track, start, end.at),
        day_notes=_day_notes(record, start, end.at),
        disturbances=_disturbances(record, start, end.at, since_start=before is None),
        fell=tuple(falls),
        rose=tuple(each for each in changes if each.fell < 0),
        same=sum(each.before is not None and each.fell == 0 for each in changes),
        first=tuple(each for each in changes if each.before is None),
        not_graded=tuple(record.ungraded(inspection)),
    )


def _by_fall(change: Change) -> int:
    return -change.fell  # sorting keeps the order of reading among equals


def _exposure(track: WeatherTrack | None, start: datetime, end: datetime) -> Exposure | None:
    if track is None or end <= start:
        return None
    found = track.exposure(start, end)
    nothing = found.coverage <= 0 and found.rain_coverage <= 0 and found.temperature_coverage <= 0
    return None if nothing else found


def _day_notes(record: BoardRecord, start: datetime, end: datetime) -> tuple[DayNote, ...]:
    touched = (each for each in record.day_notes.values() if start.date() <= each.day <= end.date())
    return tuple(sorted(touched, key=lambda each: each.day))


def _disturbances(
    record: BoardRecord, start: datetime, end: datetime, *, since_start: bool
) -> tuple[Disturbance, ...]:
    """Return what was noted; what lies on an inspection belongs to the stretch that ends there."""
    within = (
        each for each in record.disturbances.values() if start < each.at <= end or (since_start and each.at == start)
    )
    return tuple(sorted(within, key=lambda each: (each.at, each.key)))


def _changes(record: BoardRecord, end: Inspection, before: Inspection | None) -> list[Change]:
    found = []
    for coupon in record.coupons_in_order():
        now = record.grading(coupon.key, end.key)
        if now is None:
            continue
        held = None if before is None else record.latest(coupon.key, before)
        is_older = held is not None and before is not None and held.inspection != before.key
        older = record.inspections[held.inspection].at if held is not None and is_older else None
        found.append(Change(coupon, held, now, older))
    return found
