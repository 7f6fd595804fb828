"""Grades typed elsewhere, matched to the board's coupons and inspections and recorded in one step."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, time

from rustboard.board.cells import identity
from rustboard.board.grade import UNBIASED
from rustboard.board.grades_csv import TypedGrade
from rustboard.board.model import Grading, Inspection
from rustboard.board.record import BoardRecord
from rustboard.operations.grading import GivenGrade, checked_grading, grade_coupon, says_the_same
from rustboard.operations.inspections import put_inspection
from rustboard.scales.rust_grade import grade_from_percent, percent_text
from rustboard.store.tables import GRADINGS, INSPECTIONS
from rustboard.store.transaction import Transaction
from rustboard.support.problems import Problem
from rustboard.support.summary import Summary

NOON = time(12)
"""The hour given to an inspection that is known by its date alone."""


@dataclass(frozen=True, slots=True)
class MatchedGrade:
    """A typed grade with the coupon it belongs to and the time of its inspection."""

    coupon: int
    at: datetime
    typed: TypedGrade


def match_typed_grades(
    record: BoardRecord, typed: Sequence[TypedGrade], file: str
) -> tuple[list[MatchedGrade], list[Problem]]:
    """Find the coupon and inspection of each typed grade; what fits nothing is listed as a problem.

    So is a row whose percent rusted belongs to another grade than the one it states: one of the two is a slip.

    A date without an hour means the inspection of that day; when there is none, one at noon is meant. An hour
    without seconds means the one inspection within that minute, as screens show no seconds.
    """
    coupons = {identity(each.id): each.key for each in record.coupons.values()}
    times: dict[object, list[datetime]] = {}
    for inspection in record.inspections_in_order():
        times.setdefault(inspection.at.date(), []).append(inspection.at)
    matched: list[MatchedGrade] = []
    problems: list[Problem] = []
    for each in typed:
        key = coupons.get(identity(each.coupon))
        same_day = times.get(each.when.date(), [])
        if key is None:
            what = f"The board has no coupon “{each.coupon[:60]}”; check the id, or add the coupon first."
            problems.append(Problem(what, file, each.row, "coupon"))
        elif not each.has_hour and len(same_day) > 1:
            what = f"There are {len(same_day)} inspections on {each.when.date()}; add the hour to say which."
            problems.append(Problem(what, file, each.row, "date"))
        elif each.percent is not None and grade_from_percent(each.percent) != each.grade:
            problems.append(Problem(_contradiction(each.grade, each.percent), file, each.row, "percent"))
        else:
            matched.append(MatchedGrade(key, _time_of(each, same_day), each))
    return matched, problems


def _contradiction(grade: int, percent: float) -> str:
    return (
        f"{percent:g} % rusted is not grade {grade}, which is {percent_text(grade)}, but grade "
        f"{grade_from_percent(percent)}; mend one of them."
    )


def _time_of(typed: TypedGrade, same_day: list[datetime]) -> datetime:
    if typed.has_hour:
        return _near(typed.when.replace(microsecond=0), same_day)
    return same_day[0] if same_day else datetime.combine(typed.when.date(), NOON)


def _near(when: datetime, same_day: list[datetime]) -> datetime:
    if when in same_day or when.second:
        return when
    within = [each for each in same_day if each.replace(second=0, microsecond=0) == when]
    return within[0] if len(within) == 1 else when


def add_typed_grades(tx: Transaction, matched: Sequence[MatchedGrade]) -> Summary:
    """Record matched grades; inspections that are not there yet are made.

    A grade that differs from the one the board has supersedes it, as any correction does. A grade that counts
    already, or did until it was corrected, is not recorded again, be it by eye, blind or agreed on, so that a file
    taken in twice changes nothing the second time, also where two graders in it contradict each other. One that was
    withdrawn is.

    Raises:
        InputError: a coupon is no longer there, or a time or a grade cannot be; nothing is recorded.
    """
    keys = {each.at: each.key for each in tx.find(INSPECTIONS)}
    known: dict[tuple[int, int], list[Grading]] = {}
    recorded = 0
    for each in matched:
        if each.at not in keys:
            keys[each.at] = put_inspection(tx, Inspection(each.at, grader=each.typed.grader)).key
        given = _given(each, keys[each.at])
        place = (given.coupon, given.inspection)
        if place not in known:
            found = tx.find(GRADINGS, coupon=given.coupon, inspection=given.inspection)
            known[place] = [one for one in found if one.state != "withdrawn"]
        new = checked_grading(tx, given)
        if not any(_is_there(old, new) for old in known[place]):
            grade_coupon(tx, given)
            recorded += 1
    return Summary("Add {0} grades from a file", (str(recorded),))


def _is_there(old: Grading, typed: Grading) -> bool:
    # A file does not say that a grade was given blind or agreed on: the board's own table taken in again must not
    # make grades by eye of such grades.
    source = old.source if old.source in UNBIASED else typed.source
    return says_the_same(old, typed._replace(source=source))


def _given(matched: MatchedGrade, inspection: int) -> GivenGrade:
    typed = matched.typed
    return GivenGrade(
        coupon=matched.coupon,
        inspection=inspection,
        grade=typed.grade,
        distribution=typed.distribution,
        percent=typed.percent,
        grader=typed.grader,
        note=typed.note,
    )
