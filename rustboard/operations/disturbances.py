"""The day log's disturbances: what happened to the board or a coupon between the inspections."""

from __future__ import annotations

from dataclasses import replace

from rustboard.board.measured import DISTURBANCE_KINDS, MOST_DISTURBANCES, Disturbance
from rustboard.board.typed_dates import FIRST_YEAR, LAST_YEAR
from rustboard.operations.lookup import the_coupon
from rustboard.store.measuring_tables import DISTURBANCES
from rustboard.store.transaction import Transaction
from rustboard.support.problems import InputError
from rustboard.support.summary import Summary
from rustboard.support.text import many_lines


def note_disturbance(tx: Transaction, disturbance: Disturbance) -> Summary:
    """Write a disturbance into the day log, or put right one that is there (by its key).

    Raises:
        InputError: no such kind, its coupon or its entry is not there, or the year cannot be.
    """
    if disturbance.kind not in DISTURBANCE_KINDS:
        raise InputError(f"A disturbance is one of: {', '.join(DISTURBANCE_KINDS)}.")
    at = disturbance.at.replace(microsecond=0, tzinfo=None)
    if not FIRST_YEAR <= at.year <= LAST_YEAR:
        raise InputError(f"The year of a disturbance is between {FIRST_YEAR} and {LAST_YEAR}; check the date.")
    if disturbance.key and tx.get(DISTURBANCES, disturbance.key) is None:
        raise InputError("This entry is no longer in the day log; it may have been taken away by undo.")
    if not disturbance.key and tx.count(DISTURBANCES) >= MOST_DISTURBANCES:
        raise InputError("The day log holds as many entries as it can; take some away first.")
    about = "the board" if disturbance.coupon is None else the_coupon(tx, disturbance.coupon).id
    tx.put(DISTURBANCES, replace(disturbance, at=at, note=many_lines(disturbance.note)))
    return Summary("Note in the day log: {0}, {1}", (about, disturbance.kind))


def remove_disturbance(tx: Transaction, key: int) -> Summary:
    """Take an entry out of the day log.

    Raises:
        InputError: it is not there.
    """
    found = tx.get(DISTURBANCES, key)
    if found is None:
        raise InputError("This entry is no longer in the day log; it may have been taken away by undo.")
    tx.drop(DISTURBANCES, key)
    return Summary("Take out of the day log: {0}", (found.kind,))
