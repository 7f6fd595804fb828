"""Histories as steps: what is known of a coupon or of the replicates of a treatment, and where nothing is known.

The rules, for everything drawn from here:

- A **point** is an inspection at which the coupon was graded.
- A grade holds until the next inspection, and no longer: a **segment** joins two points only when no inspection lies
  between them. It runs level at the earlier grade and drops to the later one at the later inspection.
- Where a coupon was not graded at an inspection the line therefore ends at the last point before it and starts again
  at the first point after it; a point with neither neighbour stands alone. Nothing is drawn after the last point.
- A **band** is, at each inspection, the lowest, median and highest grade of the replicates graded then, and how many
  those were. It breaks at an inspection at which none of them was graded.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from statistics import median
from typing import NamedTuple

from rustboard.board.record import BoardRecord

Run = tuple[int, int]
"""First and last number (inclusive) of points that follow each other without a missed inspection."""


class InspectionDay(NamedTuple):
    """An inspection on the time axis.

    Attributes:
        inspection: key.
        day: days of exposure, a fraction of a day counts; negative before the start.
    """

    inspection: int
    day: float


Days = tuple[InspectionDay, ...]
"""All inspections of a board by time."""


class StepPoint(NamedTuple):
    """One current grade of a coupon.

    Attributes:
        order: number of the inspection among all of the board by time, from 0.
        day: days of exposure.
    """

    order: int
    day: float
    grade: int


class BandPoint(NamedTuple):
    """The replicates graded at one inspection.

    Attributes:
        order: number of the inspection among all of the board by time, from 0.
        day: days of exposure.
        low, median, high: of the grades given then.
        graded: how many coupons were graded then.
    """

    order: int
    day: float
    low: int
    median: float
    high: int
    graded: int


class Segment(NamedTuple):
    """A step between two neighbouring inspections.

    Attributes:
        start, end: days of exposure.
        held: the grade from ``start`` until ``end``.
        then: the grade found at ``end``.
    """

    start: float
    end: float
    held: float
    then: float


@dataclass(frozen=True, slots=True)
class StepSeries:
    """The history of one coupon.

    Attributes:
        points: by time.
        runs: every point is in exactly one; the line breaks between them.
    """

    points: tuple[StepPoint, ...]
    runs: tuple[Run, ...]

    def segments(self) -> Iterator[Segment]:
        """Yield the steps that may be drawn, by time."""
        for first, last in self.runs:
            for at in range(first, last):
                point, following = self.points[at], self.points[at + 1]
                yield Segment(point.day, following.day, point.grade, following.grade)


@dataclass(frozen=True, slots=True)
class BandSeries:
    """The history of several coupons that got the same.

    Attributes:
        points: by time.
        runs: every point is in exactly one; band and median break between them.
    """

    points: tuple[BandPoint, ...]
    runs: tuple[Run, ...]

    def segments(self) -> Iterator[Segment]:
        """Yield the steps of the median, by time."""
        for first, last in self.runs:
            for at in range(first, last):
                point, following = self.points[at], self.points[at + 1]
                yield Segment(point.day, following.day, point.median, following.median)


def inspection_days(record: BoardRecord) -> Days:
    """Return the board's inspections by time with their days of exposure."""
    zero = record.day_zero()
    if zero is None:
        return ()
    # One look at day zero for all: `BoardRecord.day_of` would look through every inspection each time.
    return tuple(
        InspectionDay(each.key, (each.at - zero).total_seconds() / 86_400) for each in record.inspections_in_order()
    )


def coupon_series(record: BoardRecord, coupon_key: int, days: Days | None = None) -> StepSeries:
    """Return the history of a coupon; empty when it was never graded.

    ``days`` is `inspection_days` when the caller has it already.
    """
    graded = record.current.get(coupon_key, {})
    points = [
        StepPoint(order, each.day, graded[each.inspection].grade)
        for order, each in enumerate(inspection_days(record) if days is None else days)
        if each.inspection in graded
    ]
    return StepSeries(tuple(points), runs_of([each.order for each in points]))


def treatment_series(record: BoardRecord, treatment_key: int, days: Days | None = None) -> BandSeries:
    """Return the history of a treatment's replicates; empty when none was ever graded."""
    keys = (each.key for each in record.coupons.values() if each.treatment == treatment_key)
    return band_series(record, keys, days)


def band_series(record: BoardRecord, coupon_keys: Iterable[int], days: Days | None = None) -> BandSeries:
    """Return the history of any coupons taken together; empty when none was ever graded.

    ``days`` is `inspection_days` when the caller has it already.
    """
    histories = [record.current[key] for key in coupon_keys if key in record.current]
    points: list[BandPoint] = []
    for order, (inspection, day) in enumerate(inspection_days(record) if days is None else days):
        grades = [history[inspection].grade for history in histories if inspection in history]
        if grades:
            points.append(BandPoint(order, day, min(grades), float(median(grades)), max(grades), len(grades)))
    return BandSeries(tuple(points), runs_of([each.order for each in points]))


def runs_of(orders: Sequence[int]) -> tuple[Run, ...]:
    """Return the runs of rising inspection numbers without a number missing, as positions in ``orders``."""
    runs: list[Run] = []
    start = 0
    for at in range(1, len(orders) + 1):
        if at == len(orders) or orders[at] != orders[at - 1] + 1:
            runs.append((start, at - 1))
            start = at
    return tuple(runs)
