"""Inspections: added, edited, removed while empty."""

from __future__ import annotations

from dataclasses import replace

from rustboard.board.model import Inspection
from rustboard.board.typed_dates import FIRST_YEAR, LAST_YEAR
from rustboard.operations.lookup import changed_names, the_inspection
from rustboard.store.tables import GRADINGS, INSPECTIONS, PHOTOS
from rustboard.store.transaction import Transaction
from rustboard.support.problems import InputError
from rustboard.support.summary import Summary
from rustboard.support.text import many_lines, one_line


def add_inspection(tx: Transaction, inspection: Inspection) -> Summary:
    """Add a visit to the board.

    Raises:
        InputError: there is one at the same time already.
    """
    clean = checked_inspection(tx, replace(inspection, key=0))
    tx.put(INSPECTIONS, clean)
    return Summary("Add inspection of {0}", (clean.at.isoformat(" ", "minutes"),))


def edit_inspection(tx: Transaction, inspection: Inspection) -> Summary:
    """Replace what is known of a visit.

    Raises:
        InputError: as `add_inspection`.
    """
    before = the_inspection(tx, inspection.key)
    clean = checked_inspection(tx, inspection)
    tx.put(INSPECTIONS, clean)
    names = changed_names(before, clean, ("at", "grader", "light", "surface", "note"))
    return Summary("Edit inspection of {0}: {1}", (before.at.isoformat(" ", "minutes"), names))


def remove_inspection(tx: Transaction, key: int) -> Summary:
    """Remove an inspection in which nothing was ever graded or photographed.

    Raises:
        InputError: it has gradings or photos.
    """
    inspection = the_inspection(tx, key)
    used = len(tx.find(GRADINGS, inspection=key)) + len(tx.find(PHOTOS, inspection=key))
    if used:
        raise InputError("This inspection has grades or photos, which are never erased; edit its date instead.")
    tx.drop(INSPECTIONS, key)
    return Summary("Remove inspection of {0}", (inspection.at.isoformat(" ", "minutes"),))


def checked_inspection(tx: Transaction, inspection: Inspection) -> Inspection:
    """Return the visit with safe texts and a time to the second.

    Raises:
        InputError: another visit has this time, or its year cannot be.
    """
    at = inspection.at.replace(microsecond=0, tzinfo=None)
    if not FIRST_YEAR <= at.year <= LAST_YEAR:
        raise InputError(f"The year of an inspection is between {FIRST_YEAR} and {LAST_YEAR}; check the date.")
    if any(each.key != inspection.key for each in tx.find(INSPECTIONS, at=at.isoformat())):
        raise InputError("There is an inspection at this date and time already; use that one or change the time.")
    return replace(
        inspection,
        at=at,
        grader=one_line(inspection.grader),
        light=one_line(inspection.light),
        surface=one_line(inspection.surface),
        note=many_lines(inspection.note),
    )
