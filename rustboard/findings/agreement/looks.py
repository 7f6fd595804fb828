"""Looks: what one grader made of one coupon at one inspection, and what is compared with what."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple


class Look(NamedTuple):
    """One grade that one grader gave.

    Attributes:
        grader: who graded.
        coupon: key of the coupon.
        grade: 0 to 10.
        again: whether it is the second, unrecognised look of this grader at this coupon at this inspection.
        inspection: key of the inspection.
    """

    grader: str
    coupon: int
    grade: int
    again: bool = False
    inspection: int = 0


class Subject(NamedTuple):
    """What is graded: a coupon as it was at one inspection. It equals the plain pair ``(coupon, inspection)``."""

    coupon: int
    inspection: int = 0


GradesOfGrader = dict[Subject, int]


def grades_by_grader(looks: Iterable[Look], *, again: bool) -> dict[str, GradesOfGrader]:
    """Return the grades of the first looks, or of the second ones, by grader in order of their names.

    Of several first looks of one grader at one subject the last counts, as a grade that was corrected; so with second
    looks.
    """
    found: dict[str, GradesOfGrader] = {}
    for look in looks:
        if look.again == again:
            found.setdefault(look.grader, {})[Subject(look.coupon, look.inspection)] = look.grade
    return dict(sorted(found.items()))


def paired(a: GradesOfGrader, b: GradesOfGrader) -> dict[Subject, tuple[int, int]]:
    """Return the grades of the subjects that are in both, in order of inspection and coupon."""
    both = sorted(a.keys() & b.keys(), key=by_inspection)
    return {subject: (a[subject], b[subject]) for subject in both}


def by_inspection(subject: Subject) -> tuple[int, int]:
    """Return what puts subjects in the order of their inspections, then of their coupons."""
    return subject.inspection, subject.coupon
