"""How much coupons treated alike differ in grade: seen on boards that were graded, or assumed."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass, replace
from math import sqrt
from statistics import fmean, variance
from typing import Final

from rustboard.board.grade import GRADES
from rustboard.board.lot_changes import drawn_positions
from rustboard.board.lots import drawn_coupons, hangs_in_columns
from rustboard.board.record import BoardRecord

ASSUMED_SD: Final = 1.0
"""Grades. Nobody has published how much grades of coupons treated alike differ: a round assumption of our own."""

ROUNDING_SD: Final = sqrt(1 / 12)
"""Standard deviation that rounding to whole grades alone makes: of a uniform distribution over one grade."""

LEAST_DEGREES: Final = 5
"""With fewer, what was measured is not used: with 4 it is less than half the true spread 9 times in 100 (chi-square
distribution; where to stop is a choice of our own)."""


@dataclass(frozen=True, slots=True)
class Spread:
    """The spread within treatments.

    Attributes:
        sd: standard deviation in grades.
        degrees_of_freedom: what it rests on; 0 = it is assumed.
        treatments: how many treatments it was seen in.
        boards: names of the boards it was seen on.
        of_columns: how many of the degrees of freedom are of whole columns that lots moved, not of single coupons.
        too_few: degrees of freedom on earlier boards that were too few, so that it is assumed.
    """

    sd: float
    degrees_of_freedom: int
    treatments: int = 0
    boards: tuple[str, ...] = ()
    of_columns: int = 0
    too_few: int = 0


def usable_spread(earlier: Spread | None) -> Spread:
    """Return the spread to lean on where the user assumes none: that of earlier boards, or the program's own.

    What was measured is never taken for smaller than `ROUNDING_SD`: coupons with the same grade differ by less than
    a grade, not by nothing. With fewer than `LEAST_DEGREES` degrees of freedom it is not used at all.
    """
    if earlier is None:
        return Spread(ASSUMED_SD, 0)
    if earlier.degrees_of_freedom < LEAST_DEGREES:
        return Spread(ASSUMED_SD, 0, too_few=earlier.degrees_of_freedom)
    return replace(earlier, sd=max(earlier.sd, ROUNDING_SD))


def board_spread(record: BoardRecord) -> Spread | None:
    """Return the spread on a board, pooled over its treatments; None where it shows none.

    Of each treatment counts the last inspection at which two or more of its coupons were graded. A treatment whose
    coupons then all had grade 10, or all 0, is left out: at the ends of the scale nothing can differ. Where lots
    moved whole columns, the mean of a treatment's coupons in a column takes the place of a coupon.
    """
    in_columns = _moved_columns(record)
    squares, freedom, treatments = 0.0, 0, 0
    for grades in _last_grades(record, _replicates(record, in_columns=in_columns)):
        if set(grades) in ({GRADES[0]}, {GRADES[-1]}):
            continue
        squares += variance(grades) * (len(grades) - 1)
        freedom += len(grades) - 1
        treatments += 1
    if not freedom:
        return None
    of_columns = freedom if in_columns else 0
    return Spread(sqrt(squares / freedom), freedom, treatments, (record.board.name,), of_columns)


def _moved_columns(record: BoardRecord) -> bool:
    layout, drawn = record.layout, drawn_coupons(record)
    return bool(drawn) and layout.seed is not None and layout.method != "hand" and hangs_in_columns(drawn, layout)


def _replicates(record: BoardRecord, *, in_columns: bool) -> Iterable[Collection[list[int]]]:
    """Yield for each treatment what was treated alike apart from one another: lists of coupons."""
    drawn = drawn_positions(record)
    found: dict[int, dict[int, list[int]]] = {}
    for coupon in record.coupons.values():
        place = drawn.get(coupon.key, coupon.position)
        if coupon.treatment is None or (in_columns and place is None):
            continue
        unit = place.column if in_columns and place is not None else coupon.key
        found.setdefault(coupon.treatment, {}).setdefault(unit, []).append(coupon.key)
    return [each.values() for each in found.values()]


def _last_grades(record: BoardRecord, treatments: Iterable[Collection[list[int]]]) -> Iterable[list[float]]:
    """Yield for each treatment the mean grades of its units at the last inspection that has two or more of them."""
    inspections = record.inspections_in_order()
    for units in treatments:
        for inspection in reversed(inspections):
            found = []
            for coupons in units:
                gradings = [record.grading(key, inspection.key) for key in coupons]
                grades = [each.grade for each in gradings if each is not None]
                if grades:
                    found.append(fmean(grades))
            if len(found) >= 2:
                yield found
                break


def pooled_spread(spreads: Iterable[Spread]) -> Spread | None:
    """Return the spread of several boards together, each by its degrees of freedom; None where there is none."""
    measured = [each for each in spreads if each.degrees_of_freedom]
    freedom = sum(each.degrees_of_freedom for each in measured)
    if not freedom:
        return None
    squares = sum(each.sd**2 * each.degrees_of_freedom for each in measured)
    names = tuple(name for each in measured for name in each.boards)
    of_columns = sum(each.of_columns for each in measured)
    return Spread(sqrt(squares / freedom), freedom, sum(each.treatments for each in measured), names, of_columns)
