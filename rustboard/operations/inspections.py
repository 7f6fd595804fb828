"""Inspections: added, edited, removed while empty."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime

from rustboard.board.model import Inspection
from rustboard.board.typed_dates import FIRST_YEAR, LAST_YEAR
from rustboard.operations.lookup import changed_names, inspection_was_used, the_inspection
from rustboard.store.tables import INSPECTIONS, PHOTOS
from rustboard.store.transaction import Transaction
from rustboard.support.problems import InputError
from rustboard.support.summary import Summary
from rustboard.support.text import many_lines, one_line


def add_inspection(tx: Transaction, inspection: Inspection) -> Summary:
    """Add a visit to the board.

    Raises:
        InputError: there is one at the same time already.
    """
    clean = put_inspection(tx, replace(inspection, key=0))
    return Summary("Add inspection of {0}", (clean.at.isoformat(" ", "minutes"),))


def edit_inspection(tx: Transaction, inspection: Inspection) -> Summary:
    """Replace what is known of a visit.

    Raises:
        InputError: as `add_inspection`.
    """
    before = the_inspection(tx, inspection.key)
    clean = put_inspection(tx, inspection)
    names = changed_names(before, clean, ("at", "grader", "light", "surface", "note"))
    return Summary("Edit inspection of {0}: {1}", (before.at.isoformat(" ", "minutes"), names))


def remove_inspection(tx: Transaction, key: int) -> Summary:
    """Remove an inspection in which nothing was ever graded or photographed.

    Raises:
        InputError: it has gradings or photos.
    """
    inspection = the_inspection(tx, key)
    if inspection_was_used(tx, key) or tx.find(PHOTOS, inspection=key):
        raise InputError("This inspection has grades or photos, which are never erased; edit its date instead.")
    tx.drop(INSPECTIONS, key)
    return Summary("Remove inspection of {0}", (inspection.at.isoformat(" ", "minutes"),))


def put_inspection(tx: Transaction, inspection: Inspection) -> Inspection:
    """Record a visit, a new one (key 0) or a changed one; return it as it was recorded, with its key.

    Raises:
        InputError: as `checked_inspection`.
    """
    at = to_the_second(inspection.at).isoformat()
    clean = checked_inspection(inspection, tx.find(INSPECTIONS, at=at))
    return replace(clean, key=tx.put(INSPECTIONS, clean))


def to_the_second(at: datetime) -> datetime:
    """Return a time as inspections have it: of the clock on the wall, to the second."""
    return at.replace(microsecond=0, tzinfo=None)


def checked_inspection(inspection: Inspection, others: Iterable[Inspection]) -> Inspection:
    """Return the visit with safe texts and a time to the second.

    Args:
        inspection: with its key, or 0 for a new one.
        others: visits to the board; itself may be among them.

    Raises:
        InputError: another visit has this time, or its year cannot be.
    """
    at = to_the_second(inspection.at)
    if not FIRST_YEAR <= at.year <= LAST_YEAR:
        raise InputError(f"The year of an inspection is between {FIRST_YEAR} and {LAST_YEAR}; check the date.")
    if any(each.at == at and each.key != inspection.key for each in others):
        raise InputError("There is an inspection at this date and time already; use that one or change the time.")
    return replace(
        inspection,
        at=at,
        grader=one_line(inspection.grader),
        light=one_line(inspection.light),
        surface=one_line(inspection.surface),
        note=many_lines(inspection.note),
    )
