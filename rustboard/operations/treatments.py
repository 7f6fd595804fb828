"""Treatments: added, edited, removed."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from rustboard.board.cells import identity
from rustboard.board.model import MOST_TREATMENTS, Treatment
from rustboard.board.plan_rules import RANGES
from rustboard.operations.lookup import changed_names, ids_in_use, shown, the_treatment
from rustboard.operations.questions import rename_in_questions
from rustboard.store.plan_tables import RECIPES
from rustboard.store.tables import COUPONS, TREATMENTS
from rustboard.store.transaction import Transaction
from rustboard.support.problems import InputError
from rustboard.support.summary import Summary
from rustboard.support.text import counted, many_lines, one_line, some_of

_AMOUNTS = {
    "coats": "The number of coats is",
    "cost_per_m2": "The cost per m² is",
    "minutes_per_m2": "The minutes per m² are",
}
_MOST_NAMED = 5
_LINES = ("name", "family", "preparation", "finish", "protectant", "batch")


def add_treatment(tx: Transaction, treatment: Treatment) -> Summary:
    """Add a treatment.

    Raises:
        InputError: no id, an id that is taken, a number that cannot be, or no room.
    """
    (clean,) = add_treatments(tx, [treatment])
    return Summary("Add treatment {0}", (clean.title,))


def add_treatments(tx: Transaction, treatments: Iterable[Treatment]) -> list[Treatment]:
    """Do `add_treatment` for many; return them as they were added, with their keys."""
    count = tx.count(TREATMENTS)
    ids = ids_in_use(tx, TREATMENTS)
    added: list[Treatment] = []
    for each in treatments:
        refuse_more_treatments(count + len(added))
        clean = checked_treatment(replace(each, key=0), ids)
        key = ids[identity(clean.id)] = tx.put(TREATMENTS, clean)
        added.append(replace(clean, key=key))
    return added


def edit_treatment(tx: Transaction, treatment: Treatment) -> Summary:
    """Replace what is known of a treatment.

    Raises:
        InputError: as `add_treatment`.
    """
    before = the_treatment(tx, treatment.key)
    clean = checked_treatment(treatment, ids_in_use(tx, TREATMENTS))
    tx.put(TREATMENTS, clean)
    if clean.id != before.id:
        rename_in_questions(tx, before.id, clean.id)
    names = changed_names(before, clean, ("id", *_LINES, "coats", "cost_per_m2", "minutes_per_m2", "note"))
    return Summary("Edit treatment {0}: {1}", (before.title, names))


def remove_treatment(tx: Transaction, key: int) -> Summary:
    """Remove a treatment that no coupon has, with its recipe.

    Raises:
        InputError: coupons have it.
    """
    treatment = the_treatment(tx, key)
    users = tx.find(COUPONS, treatment=key)
    if users:
        names = some_of([shown(each.id) for each in users], _MOST_NAMED)
        coupons = counted(len(users), "coupon")
        raise InputError(
            f"{shown(treatment.title)} is the treatment of {coupons} ({names}); choose another one there first."
        )
    for each in tx.find(RECIPES, treatment=key):
        tx.drop(RECIPES, each.key)
    tx.drop(TREATMENTS, key)
    return Summary("Remove treatment {0}", (treatment.title,))


def refuse_more_treatments(count: int) -> None:
    """Refuse one more treatment on a board that has ``count``.

    Raises:
        InputError: the board is full.
    """
    if count >= MOST_TREATMENTS:
        raise InputError(f"A board holds at most {MOST_TREATMENTS} treatments; start a second board.")


def check_treatment_number(name: str, value: float | None) -> None:
    """Refuse coats, cost or minutes (by their name in `Treatment`) that cannot be.

    Raises:
        InputError: out of its range.
    """
    low, high, _ = RANGES[name]
    if value is not None and not low <= value <= high:  # not in range either: NaN
        raise InputError(f"{_AMOUNTS[name]} from {low:,.0f} to {high:,.0f}; mend the number or leave it empty.")


def checked_treatment(treatment: Treatment, ids: Mapping[str, int]) -> Treatment:
    """Return the treatment with safe texts.

    Args:
        treatment: with its key, or 0 for a new one.
        ids: key by the form in which ids are compared (`identity`), of all treatments on the board.

    Raises:
        InputError: no id, an id that another one has, or a number that cannot be.
    """
    name = one_line(treatment.id)
    if not name:
        raise InputError("A treatment needs a short id such as T1.")
    if ids.get(identity(name), treatment.key) != treatment.key:
        raise InputError(f"Another treatment has the id {shown(name)}; choose a different one.")
    for key in _AMOUNTS:
        check_treatment_number(key, getattr(treatment, key))
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
