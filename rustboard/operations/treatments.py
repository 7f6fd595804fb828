"""Treatments: added, edited, removed."""

from __future__ import annotations

from dataclasses import replace

from rustboard.board.model import MOST_TREATMENTS, Treatment
from rustboard.operations.lookup import changed_names, the_treatment
from rustboard.store.tables import COUPONS, TREATMENTS
from rustboard.store.transaction import Transaction
from rustboard.support.problems import InputError
from rustboard.support.summary import Summary
from rustboard.support.text import many_lines, one_line

_LINES = ("name", "family", "preparation", "finish", "protectant", "batch")


def add_treatment(tx: Transaction, treatment: Treatment) -> Summary:
    """Add a treatment.

    Raises:
        InputError: no id, an id that is taken, or a number below zero.
    """
    if tx.count(TREATMENTS) >= MOST_TREATMENTS:
        raise InputError(f"A board holds at most {MOST_TREATMENTS} treatments; start a second board.")
    clean = _checked(tx, replace(treatment, key=0))
    tx.put(TREATMENTS, clean)
    return Summary("Add treatment {0}", (clean.title,))


def edit_treatment(tx: Transaction, treatment: Treatment) -> Summary:
    """Replace what is known of a treatment.

    Raises:
        InputError: as `add_treatment`.
    """
    before = the_treatment(tx, treatment.key)
    clean = _checked(tx, treatment)
    tx.put(TREATMENTS, clean)
    names = changed_names(before, clean, ("id", *_LINES, "coats", "cost_per_m2", "minutes_per_m2", "note"))
    return Summary("Edit treatment {0}: {1}", (before.title, names))


def remove_treatment(tx: Transaction, key: int) -> Summary:
    """Remove a treatment that no coupon has.

    Raises:
        InputError: coupons have it.
    """
    treatment = the_treatment(tx, key)
    users = tx.find(COUPONS, treatment=key)
    if users:
        names = ", ".join(each.id for each in users[:5])
        raise InputError(
            f"{treatment.title} is on {len(users)} coupons ({names}); give them another treatment first."
        )
    tx.drop(TREATMENTS, key)
    return Summary("Remove treatment {0}", (treatment.title,))


def _checked(tx: Transaction, treatment: Treatment) -> Treatment:
    name = one_line(treatment.id)
    if not name:
        raise InputError("A treatment needs a short id such as T1.")
    if any(each.key != treatment.key for each in tx.find(TREATMENTS, id=name)):
        raise InputError(f"Another treatment has the id {name}; choose a different one.")
    for label, value in (
        ("Coats", treatment.coats),
        ("Cost", treatment.cost_per_m2),
        ("Time", treatment.minutes_per_m2),
    ):
        if value is not None and not 0 <= value <= 1e9:
            raise InputError(f"{label} cannot be below zero; enter a number from 0 up, or leave it empty.")
    return replace(
        treatment,
        id=name,
        name=one_line(treatment.name),
        family=one_line(treatment.family),
        preparation=one_line(treatment.preparation),
        finish=one_line(treatment.finish),
        protectant=one_line(treatment.protectant),
        batch=one_line(treatment.batch),
        note=many_lines(treatment.note),
    )
