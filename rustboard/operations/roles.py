"""Which coupons are controls."""

from __future__ import annotations

from dataclasses import replace

from rustboard.board.model import Role
from rustboard.operations.coupons import check_role
from rustboard.operations.lookup import shown, the_treatment
from rustboard.store.tables import COUPONS
from rustboard.store.transaction import Transaction
from rustboard.support.problems import InputError
from rustboard.support.summary import Summary
from rustboard.support.text import counted


def set_treatment_role(tx: Transaction, treatment_key: int | None, role: Role) -> Summary:
    """Make all coupons of a treatment controls, or test pieces.

    Args:
        tx: the transaction.
        treatment_key: None = coupons without a treatment.
        role: for every one of them.

    Raises:
        InputError: no such treatment or role, or it has no coupons.
    """
    title = "coupons without a treatment" if treatment_key is None else shown(the_treatment(tx, treatment_key).title)
    check_role(role)
    coupons = tx.find(COUPONS, treatment=treatment_key)
    if not coupons:
        raise InputError(f"There is no coupon yet for this: {title}. Give it some first.")
    changed = [each for each in coupons if each.role != role]
    for each in changed:
        tx.put(COUPONS, replace(each, role=role))
    pattern = "Make {0} controls: {1}" if role == "control" else "Make {0} test pieces: {1}"
    return Summary(pattern, (counted(len(changed), "coupon"), title))
