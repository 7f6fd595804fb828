"""The figures that the summary's formulas work out: for another failing grade, or without a coupon.

Worked out here as well, for the values that the file holds until a program works the formulas out.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from statistics import fmean, stdev
from typing import Final

from rustboard.board.grade import GRADES
from rustboard.board.model import Coupon, Grading
from rustboard.board.record import BoardRecord
from rustboard.report.content import ReportContent
from rustboard.report.groups import treatment_title
from rustboard.scales.rust_grade import grade_from_percent

USUAL_FAILING_GRADE: Final = 7
"""Where no findings say otherwise."""
_GroupId = tuple[str, bool]
"""Id of a group and whether these are the controls, as the findings have it."""
_CONTROL: Final[_GroupId] = ("control", True)
_NONE: Final[_GroupId] = ("none", False)


@dataclass(frozen=True, slots=True)
class LiveCoupon:
    """One graded coupon.

    Attributes:
        group: number of its `LiveGroup`, from 1.
        last_grade: at its last grading, on day ``last_day`` of exposure.
        first_days: day on which it first stood at grade 0, at 1 or below, ... at 10 or below; None = not so far.
        counts: whether nobody left it out.
    """

    coupon: Coupon
    group: int
    last_grade: int
    last_day: float
    first_days: tuple[float | None, ...]
    counts: bool


@dataclass(frozen=True, slots=True)
class LiveGroup:
    """Coupons treated alike; controls are a group of their own."""

    name: str
    family: str


@dataclass(frozen=True, slots=True)
class LiveFigures:
    """What a group comes to; None where too few of its coupons count.

    Attributes:
        coupons: that count. mean, sd, lowest: of their last grades. failed: how many have. rank: by the mean, 1 best.
    """

    coupons: int
    mean: float | None
    sd: float | None
    lowest: int | None
    failed: int
    rank: int | None


@dataclass(frozen=True, slots=True)
class LiveBoard:
    """All that the formulas start from."""

    failing_grade: int
    groups: tuple[LiveGroup, ...]
    coupons: tuple[LiveCoupon, ...]


def live_board(content: ReportContent) -> LiveBoard:
    """Return the graded coupons of a board in reading order, with their groups as the findings rank them."""
    record, findings = content.record, content.findings
    graded = [each for each in record.coupons_in_order() if record.current.get(each.key)]
    ids = {each.key: _group_id(record, each) for each in graded}
    names = {} if findings is None else {(each.id, each.control): each.treatment for each in findings.ranked}
    there = set(ids.values())
    order = [each for each in names if each in there]
    order += sorted(there - names.keys(), key=lambda each: _place(record, each))
    left_out = {each.coupon for each in record.left_out.values()}
    numbers = {each: number for number, each in enumerate(order, start=1)}
    return LiveBoard(
        USUAL_FAILING_GRADE if findings is None else findings.failing_grade,
        tuple(_group(record, each, names.get(each, "")) for each in order),
        tuple(_coupon(record, each, numbers[ids[each.key]], counts=each.key not in left_out) for each in graded),
    )


def _group_id(record: BoardRecord, coupon: Coupon) -> _GroupId:
    if coupon.role == "control":
        return _CONTROL
    treatment = record.treatment_of(coupon)
    return _NONE if treatment is None else (treatment.id, False)


def _place(record: BoardRecord, group: _GroupId) -> tuple[int, int]:
    """Return where a group stands that no findings rank: treatments as they were made, controls last."""
    if group == _CONTROL:
        return 2, 0
    return next(((0, key) for key, each in sorted(record.treatments.items()) if each.id == group[0]), (1, 0))


def _group(record: BoardRecord, group: _GroupId, name: str) -> LiveGroup:
    treatment = next((each for each in record.treatments.values() if each.id == group[0]), None)
    if group == _CONTROL or treatment is None:
        return LiveGroup(name or ("controls" if group == _CONTROL else "no treatment"), "")
    return LiveGroup(name or treatment_title(treatment), treatment.family)


def _coupon(record: BoardRecord, coupon: Coupon, group: int, *, counts: bool) -> LiveCoupon:
    graded = record.current[coupon.key]
    seen = [(each, graded[each.key]) for each in record.inspections_in_order() if each.key in graded]
    days = [max(0.0, round(record.day_of(each.at), 4)) for each, _ in seen]
    first_days = tuple(
        next((day for day, (_, grading) in zip(days, seen, strict=True) if _as_recorded(grading) <= grade), None)
        for grade in GRADES
    )
    return LiveCoupon(coupon, group, seen[-1][1].grade, days[-1], first_days, counts)


def _as_recorded(grading: Grading) -> int:
    """Return the grade by which a coupon fails: that of its percent where one was stated."""
    return grading.grade if grading.percent is None else grade_from_percent(grading.percent)


def figures_of(board: LiveBoard, failing_grade: int, counting: Collection[int]) -> list[LiveFigures]:
    """Return what every group comes to.

    Args:
        board: the coupons.
        failing_grade: at it or below a coupon has failed.
        counting: keys of the coupons that count.
    """
    members = [
        [each for each in board.coupons if each.group == number and each.coupon.key in counting]
        for number in range(1, len(board.groups) + 1)
    ]
    means = [fmean(each.last_grade for each in mine) if mine else None for mine in members]
    return [
        LiveFigures(
            len(mine),
            mean,
            stdev(each.last_grade for each in mine) if len(mine) > 1 else None,
            min((each.last_grade for each in mine), default=None),
            sum(each.first_days[failing_grade] is not None for each in mine),
            None if mean is None else 1 + _better(means, mean),
        )
        for mine, mean in zip(members, means, strict=True)
    ]


def _better(means: Sequence[float | None], than: float) -> int:
    return sum(each is not None and each > than for each in means)
