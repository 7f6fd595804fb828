"""Boards and grades from old tables, taken over in one step."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from rustboard.board.cells import identity, quoted
from rustboard.board.grade import written
from rustboard.board.model import Grading, Inspection, Photo
from rustboard.board.old_grades.past_board import PastBoard, with_provenance
from rustboard.board.old_grades.reading import OldGrade, OldReading, inspected
from rustboard.board.record import BoardRecord
from rustboard.operations.boards import checked_board
from rustboard.operations.coupons import add_coupons
from rustboard.operations.grading import GivenGrade, checked_grading, grade_coupon
from rustboard.operations.inspections import put_inspection
from rustboard.operations.lookup import the_board_row
from rustboard.operations.photos import add_photos
from rustboard.operations.treatments import add_treatments
from rustboard.store.tables import BOARD, COUPONS, GRADINGS, INSPECTIONS, TREATMENTS
from rustboard.store.transaction import Transaction
from rustboard.support.problems import InputError, Problem
from rustboard.support.summary import Summary


@dataclass(frozen=True, slots=True)
class MatchedOldGrade:
    """An old grade with the coupon and the time it belongs to.

    Attributes:
        before: the other grade that the board has there, or None.
    """

    coupon: int
    at: datetime
    grade: OldGrade
    before: Grading | None = None


@dataclass(frozen=True, slots=True)
class OldGradesMatched:
    """How the grades of a table fit an open board.

    Attributes:
        fresh: those that the board does not have. differing: those in whose place the board has another.
        there: how many it has just so. problems: those that fit nothing.
    """

    fresh: tuple[MatchedOldGrade, ...]
    differing: tuple[MatchedOldGrade, ...]
    there: int
    problems: tuple[Problem, ...]


def match_old_grades(record: BoardRecord, reading: OldReading) -> OldGradesMatched:
    """Find coupon and inspection of each grade of a table.

    A date without an hour means the one inspection of that day; when there is none, one at noon is meant. Of two
    grades that come to one coupon and inspection the first counts; a second that says otherwise is a problem.
    """
    coupons = {identity(each.id): each.key for each in record.coupons.values()}
    days: dict[object, list[Inspection]] = {}
    for inspection in record.inspections_in_order():
        days.setdefault(inspection.at.date(), []).append(inspection)
    fresh: list[MatchedOldGrade] = []
    differing: list[MatchedOldGrade] = []
    problems: list[Problem] = []
    firsts: dict[tuple[int, datetime], OldGrade] = {}
    there = 0
    for each in with_provenance(reading):
        place = (reading.grid.where, each.row, reading.grid.place(each.column))
        coupon = coupons.get(identity(each.coupon))
        same_day = days.get(each.when.date(), [])
        if coupon is None:
            what = f"The board has no coupon {quoted(each.coupon)}; check the id, or add the coupon first."
            problems.append(Problem(what, *place))
            continue
        if not each.has_hour and len(same_day) > 1:
            what = f"There are {len(same_day)} inspections on {each.when.date()}; add the hour to say which."
            problems.append(Problem(what, *place))
            continue
        found = _inspection_of(each, same_day)
        before = None if found is None else record.grading(coupon, found.key)
        at = inspected(each) if found is None else found.at
        first = firsts.setdefault((coupon, at), each)
        if first is not each:
            problems.extend(_contradicts(each, first, place))
            continue
        if before is None:
            fresh.append(MatchedOldGrade(coupon, at, each))
        elif (before.grade, before.distribution, before.percent) == (each.grade, each.distribution, each.percent):
            there += 1
        else:
            differing.append(MatchedOldGrade(coupon, at, each, before))
    return OldGradesMatched(tuple(fresh), tuple(differing), there, tuple(problems))


def _contradicts(second: OldGrade, first: OldGrade, place: tuple[str, int, str]) -> list[Problem]:
    if (first.grade, first.distribution, first.percent) == (second.grade, second.distribution, second.percent):
        return []
    what = (
        f"Coupon {quoted(first.coupon)} has grade {written(first.grade, first.distribution)} for this inspection in "
        f"row {first.row}; that one was kept, delete one of the two."
    )
    return [Problem(what, *place)]


def _inspection_of(grade: OldGrade, same_day: Sequence[Inspection]) -> Inspection | None:
    if not grade.has_hour:
        return same_day[0] if same_day else None
    exact = [each for each in same_day if each.at == grade.when]
    near = [each for each in same_day if each.at.replace(second=0) == grade.when]
    return exact[0] if exact else near[0] if len(near) == 1 else None


@dataclass(frozen=True, slots=True)
class TiedPhoto:
    """A kept photo and the time of the inspection it belongs to; None, or a time without one = one of its own."""

    photo: Photo
    at: datetime | None = None


def import_past_board(tx: Transaction, past: PastBoard, photos: Sequence[TiedPhoto] = ()) -> Summary:
    """Put everything an old table makes on an empty board, and photos to its inspections.

    Raises:
        InputError: the board holds coupons or treatments already, or the table names what cannot be.
    """
    if tx.count(COUPONS) or tx.count(TREATMENTS):
        raise InputError("This board holds coupons already; take old grades over into a new board.")
    tx.put(BOARD, replace(the_board_row(tx), board=checked_board(past.board)))
    treatments = {identity(each.id): each.key for each in add_treatments(tx, past.treatments)}
    coupons = add_coupons(
        tx, [replace(each.coupon, treatment=treatments.get(identity(each.treatment))) for each in past.coupons]
    )
    keys = {identity(each.id): each.key for each in coupons}
    inspections = _Inspections(tx, past.told)
    for each in past.grades:
        given = _given(each, keys[identity(each.coupon)], inspections.key(inspected(each), each.grader))
        tx.put(GRADINGS, checked_grading(tx, given))
    inspections.add_photos(photos)
    parts = (str(len(coupons)), str(len(past.grades)), past.told)
    return Summary("Import {0} coupons and {1} grades from {2}", parts)


def import_old_grades(
    tx: Transaction, matched: Sequence[MatchedOldGrade], told: str, photos: Sequence[TiedPhoto] = ()
) -> Summary:
    """Record old grades on coupons that are there, and photos; a grade in whose place another is supersedes it.

    Raises:
        InputError: a coupon is no longer there, or an inspection is hidden; nothing is recorded.
    """
    inspections = _Inspections(tx, told)
    for each in matched:
        grade_coupon(tx, _given(each.grade, each.coupon, inspections.key(each.at, each.grade.grader)))
    inspections.add_photos(photos)
    return Summary("Import {0} grades from {1}", (str(len(matched)), told))


class _Inspections:
    """The inspections of a board by their time; those that are wanting are made."""

    def __init__(self, tx: Transaction, told: str) -> None:
        self._tx, self._told = tx, told
        self._keys = {each.at: each.key for each in tx.find(INSPECTIONS)}

    def key(self, at: datetime, grader: str) -> int:
        if at not in self._keys:
            fresh = Inspection(at, grader=grader, note=f"Imported from {self._told}.")
            self._keys[at] = put_inspection(self._tx, fresh).key
        return self._keys[at]

    def add_photos(self, photos: Sequence[TiedPhoto]) -> None:
        tied = [replace(each.photo, inspection=self._keys.get(each.at) if each.at else None) for each in photos]
        if tied:
            add_photos(self._tx, tied)


def _given(old: OldGrade, coupon: int, inspection: int) -> GivenGrade:
    return GivenGrade(coupon, inspection, old.grade, old.distribution, old.percent, old.grader, old.source, old.note)
