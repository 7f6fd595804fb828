"""What the grades of one coupon come to: last grade, exposure-weighted mean, and when it first failed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from rustboard.board.exposure_clock import BEST_GRADE, ExposureClock
from rustboard.board.model import Grading, Inspection
from rustboard.board.record import BoardRecord
from rustboard.scales.rust_grade import grade_from_percent

Place = tuple[float, Grading]
"""What the clock shows at an inspection, never below 0, and the grade given then."""


@dataclass(frozen=True, slots=True)
class Failure:
    """When a coupon first fell to the failing grade or below, as far as anybody can know.

    Attributes:
        after: the last place on the clock at which it was seen above the failing grade; 0 where it had failed at its
            first grading already: it was whole when exposure began.
        before: the place at which it was first seen failed; None = not failed by its last grading, at ``after``.
        recovered: whether a later grade was better than the failing grade again. It stays failed; rust does not go
            back, so one of the two grades is doubtful.
    """

    after: float
    before: float | None
    recovered: bool = False


@dataclass(frozen=True, slots=True)
class CouponMeasures:
    """What the grades of one coupon come to.

    Attributes:
        coupon: key.
        gradings: how many grades count.
        first_place, last_place: on the clock, of its first and last grading.
        last_grade: at its last grading. last_inspection: key.
        mean_grade: mean over the clock from the start of exposure to the last grading, see `weighted_mean_grade`.
        failure: when it failed.
    """

    coupon: int
    gradings: int
    first_place: float
    last_place: float
    last_grade: int
    last_inspection: int
    mean_grade: float
    failure: Failure


def measures_of(record: BoardRecord, clock: ExposureClock, failing_grade: int) -> dict[int, CouponMeasures]:
    """Return the measures of every coupon that was graded, by key.

    Args:
        record: the board.
        clock: with a place for each inspection, in the order of `BoardRecord.inspections_in_order`.
        failing_grade: at this grade or below a coupon has failed.
    """
    inspections = record.inspections_in_order()
    found = {}
    for key in record.coupons:
        places = graded_places(record, key, inspections, clock)
        if places:
            found[key] = _measured(key, places, failing_grade)
    return found


def graded_places(
    record: BoardRecord, coupon: int, inspections: Sequence[Inspection], clock: ExposureClock
) -> list[Place]:
    """Return the grades of a coupon that count, by time, each at its place on the clock."""
    graded = record.current.get(coupon, {})
    return [
        (max(place, 0.0), graded[each.key])
        for each, place in zip(inspections, clock.places, strict=True)
        if each.key in graded
    ]


def _measured(coupon: int, places: Sequence[Place], failing_grade: int) -> CouponMeasures:
    last_place, last = places[-1]
    return CouponMeasures(
        coupon,
        len(places),
        places[0][0],
        last_place,
        last.grade,
        last.inspection,
        weighted_mean_grade(_from_the_start(places)),
        first_failure(places, failing_grade),
    )


def _from_the_start(places: Sequence[Place]) -> list[tuple[float, float]]:
    """Return places and grades; a coupon first graded later was without rust, grade 10, when exposure began."""
    known = [(place, float(grading.grade)) for place, grading in places]
    return [(0.0, BEST_GRADE), *known] if known[0][0] > 0 else known


def weighted_mean_grade(places: Sequence[tuple[float, float]]) -> float:
    """Return the mean grade of a coupon over the clock, from the first of the places to the last.

    Between two gradings the grade is taken to go evenly from one to the other: the area under the history divided by
    its length (trapezoidal rule; common practice, no source). Where the clock did not go on between them, it is the
    plain mean of the grades.

    Args:
        places: place on the clock and grade, by time; at least one.
    """
    length = places[-1][0] - places[0][0]
    if length <= 0:
        return sum(grade for _, grade in places) / len(places)
    area = sum((one + other) / 2 * (end - start) for (start, one), (end, other) in pairwise(places))
    return area / length


def first_failure(places: Sequence[Place], failing_grade: int) -> Failure:
    """Return between which gradings a coupon first failed; a later better grade does not take that back."""
    after = 0.0
    for number, (place, grading) in enumerate(places):
        if has_failed(grading, failing_grade):
            recovered = any(not has_failed(later, failing_grade) for _, later in places[number + 1 :])
            return Failure(min(after, place), place, recovered)
        after = place
    return Failure(after, None)


def has_failed(grading: Grading, failing_grade: int) -> bool:
    """Return whether a grading says failed: by its percent where one was stated, else by its grade."""
    grade = grading.grade if grading.percent is None else grade_from_percent(grading.percent)
    return grade <= failing_grade
