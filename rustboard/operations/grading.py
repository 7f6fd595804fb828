"""Grades: given, corrected and withdrawn. Nothing is ever overwritten."""

from __future__ import annotations

from dataclasses import dataclass

from rustboard.board.grade import SOURCES, Source, check_grade, written
from rustboard.board.model import Grading
from rustboard.operations.lookup import refuse_while_hidden, the_coupon, the_inspection
from rustboard.store.tables import GRADINGS
from rustboard.store.transaction import Transaction
from rustboard.support.problems import InputError
from rustboard.support.summary import Summary
from rustboard.support.text import many_lines, one_line


@dataclass(frozen=True, slots=True)
class GivenGrade:
    """A grade as a person or a photo gives it.

    Attributes:
        coupon, inspection: keys.
        percent: % of the significant surface rusted when stated, else None.
    """

    coupon: int
    inspection: int
    grade: int
    distribution: str = ""
    percent: float | None = None
    grader: str = ""
    source: Source = "eye"
    note: str = ""


def grade_coupon(tx: Transaction, given: GivenGrade) -> Summary:
    """Record a grade; a grade given before at the same inspection is superseded and kept.

    Raises:
        InputError: the scale has no such grade, or coupon or inspection are not there.
    """
    grading = checked_grading(tx, given)
    coupon = the_coupon(tx, given.coupon)
    the_inspection(tx, given.inspection)
    refuse_while_hidden(tx, given.inspection)
    old = current_grading(tx, given.coupon, given.inspection)
    new = written(given.grade, given.distribution)
    if old is None:
        tx.put(GRADINGS, grading)
        return Summary("Grade {0}: {1}", (coupon.id, new))
    if says_the_same(old, grading):
        return Summary("Grade {0}: {1}", (coupon.id, new))
    tx.put(GRADINGS, old._replace(state="superseded"))
    tx.put(GRADINGS, grading._replace(replaces=old.key))
    if written(old.grade, old.distribution) == new:
        return Summary("Add to the grade of {0}: note, percent or grader", (coupon.id,))
    return Summary("Correct {0}: {1} to {2}", (coupon.id, written(old.grade, old.distribution), new))


def checked_grading(tx: Transaction, given: GivenGrade) -> Grading:
    """Return a given grade as it would be recorded now: with safe texts, replacing nothing.

    Raises:
        InputError: the scale has no such grade, or there is no such source.
    """
    check_grade(given.grade, given.distribution, given.percent)
    if given.source not in SOURCES:
        raise InputError(f"“{given.source}” is not a source of grades; use {', '.join(SOURCES)}.")
    return Grading(
        key=0,
        coupon=given.coupon,
        inspection=given.inspection,
        grade=int(given.grade),
        distribution=given.distribution,
        percent=None if given.percent is None else float(given.percent),
        grader=one_line(given.grader),
        source=given.source,
        note=many_lines(given.note),
        recorded=tx.now.isoformat(),
    )


def withdraw_grade(tx: Transaction, coupon_key: int, inspection_key: int) -> Summary:
    """Take back the grade that counts; the coupon is then ungraded at this inspection.

    Raises:
        InputError: there is no grade to withdraw.
    """
    coupon = the_coupon(tx, coupon_key)
    refuse_while_hidden(tx, inspection_key)
    old = current_grading(tx, coupon_key, inspection_key)
    if old is None:
        raise InputError("This coupon has no grade at this inspection, so there is nothing to withdraw.")
    tx.put(GRADINGS, old._replace(state="withdrawn"))
    return Summary("Withdraw the grade of {0}: {1}", (coupon.id, written(old.grade, old.distribution)))


def current_grading(tx: Transaction, coupon_key: int, inspection_key: int) -> Grading | None:
    """Return the grade that counts, or None."""
    found = tx.find(GRADINGS, coupon=coupon_key, inspection=inspection_key, state="current")
    return found[0] if found else None


def says_the_same(old: Grading, new: Grading) -> bool:
    """Return whether two gradings say the same; when they were written down is not part of it."""
    names = ("grade", "distribution", "percent", "grader", "source", "note")
    return all(getattr(old, each) == getattr(new, each) for each in names)
