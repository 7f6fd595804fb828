"""Damage beside the grade: recorded, put right, taken back. The grade stays as it is."""

from __future__ import annotations

from dataclasses import dataclass
from math import isfinite

from rustboard.board.damage import (
    DAMAGE_KINDS,
    LARGEST_WIDTH_MM,
    MOST_DAMAGES,
    MOST_WIDTHS,
    SEVERITIES,
    Damage,
    DamageKind,
    Severity,
)
from rustboard.operations.lookup import refuse_while_hidden, the_coupon, the_inspection
from rustboard.store.blind_tables import DAMAGES
from rustboard.store.transaction import Transaction
from rustboard.support.problems import InputError
from rustboard.support.summary import Summary
from rustboard.support.text import many_lines, one_line


@dataclass(frozen=True, slots=True)
class GivenDamage:
    """Damage as it is noted; see `rustboard.board.damage.Damage` for what the fields mean."""

    coupon: int
    inspection: int
    kind: DamageKind
    percent: float | None = None
    severity: Severity = ""
    scribe_mm: float | None = None
    widths_mm: tuple[float, ...] = ()
    grader: str = ""
    note: str = ""


def note_damage(tx: Transaction, given: GivenDamage) -> Summary:
    """Record one kind of damage of a coupon at an inspection; what was noted of it before is kept, superseded.

    Raises:
        InputError: coupon or inspection are not there, or a value cannot be.
    """
    coupon = the_coupon(tx, given.coupon)
    the_inspection(tx, given.inspection)
    refuse_while_hidden(tx, given.inspection)
    check_damage(given)
    old = current_damage(tx, given.coupon, given.inspection, given.kind)
    new = _row(given, tx.now.isoformat())
    summary = Summary("Damage of {0}: {1}", (coupon.id, given.kind))
    if old is None:
        if tx.count(DAMAGES) >= MOST_DAMAGES:
            raise InputError(f"A board holds at most {MOST_DAMAGES} notes of damage.")
        tx.put(DAMAGES, new)
        return summary
    if old[3:10] != new[3:10]:
        tx.put(DAMAGES, old._replace(state="superseded"))
        tx.put(DAMAGES, new._replace(replaces=old.key))
    return summary


def withdraw_damage(tx: Transaction, coupon_key: int, inspection_key: int, kind: DamageKind) -> Summary:
    """Take back what was noted of one kind of damage.

    Raises:
        InputError: nothing was noted, or the inspection is being graded blind.
    """
    coupon = the_coupon(tx, coupon_key)
    refuse_while_hidden(tx, inspection_key)
    old = current_damage(tx, coupon_key, inspection_key, kind)
    if old is None:
        raise InputError("Nothing of this kind was noted of this coupon, so there is nothing to take back.")
    tx.put(DAMAGES, old._replace(state="withdrawn"))
    return Summary("Withdraw damage of {0}: {1}", (coupon.id, kind))


def current_damage(tx: Transaction, coupon: int, inspection: int, kind: str) -> Damage | None:
    """Return what counts of one kind of damage, or None."""
    found = tx.find(DAMAGES, coupon=coupon, inspection=inspection, kind=kind, state="current")
    return found[0] if found else None


def _row(given: GivenDamage, recorded: str) -> Damage:
    return Damage(
        key=0,
        coupon=given.coupon,
        inspection=given.inspection,
        kind=given.kind,
        percent=None if given.percent is None else float(given.percent),
        severity=given.severity,
        scribe_mm=None if given.scribe_mm is None else float(given.scribe_mm),
        widths_mm=tuple(float(each) for each in given.widths_mm),
        grader=one_line(given.grader),
        note=many_lines(given.note),
        recorded=recorded,
    )


def check_damage(given: GivenDamage) -> None:
    """Look over what is to be noted.

    Raises:
        InputError: a value cannot be, or there is too little to note.
    """
    if given.kind not in DAMAGE_KINDS or given.severity not in SEVERITIES:
        raise InputError("There is no such kind of damage, or no such severity; choose one from the list.")
    if given.percent is not None and not 0 <= given.percent <= 100:
        raise InputError("The share that is damaged is from 0 to 100 %.", column="percent")
    creep = given.kind == "creep"
    if creep and (given.scribe_mm is None or not given.widths_mm):
        raise InputError("Creep needs the width of the scribe and at least one width of the corroded zone, in mm.")
    if not creep and (given.scribe_mm is not None or given.widths_mm):
        raise InputError("Widths in mm are measured of creep from a scribe alone.")
    if not creep and given.percent is None and not given.severity and not given.note.strip():
        raise InputError("Say how much is damaged, how severely, or write a note.")
    if len(given.widths_mm) > MOST_WIDTHS:
        raise InputError(f"At most {MOST_WIDTHS} widths are kept; measure fewer, evenly spaced.")
    for each in (given.scribe_mm, *given.widths_mm):
        if each is not None and not (isfinite(each) and 0 <= each <= LARGEST_WIDTH_MM):
            raise InputError(f"A width is from 0 to {LARGEST_WIDTH_MM:g} mm.")
    if creep and any(each < (given.scribe_mm or 0) for each in given.widths_mm):
        raise InputError("The corroded zone is never narrower than the scribe; measure its full width.")
