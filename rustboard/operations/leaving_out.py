"""Coupons left out of the findings, with the reason, and taken back into them; their grades stay as they are."""

from __future__ import annotations

from rustboard.board.left_out import MOST_REASON, LeftOut
from rustboard.operations.lookup import the_coupon
from rustboard.store.findings_tables import LEFT_OUT
from rustboard.store.transaction import Transaction
from rustboard.support.problems import InputError
from rustboard.support.summary import Summary
from rustboard.support.text import one_line


def leave_out(tx: Transaction, coupon_key: int, reason: str) -> Summary:
    """Leave a coupon out of all findings; for one that is left out already, change the reason.

    Who and when are those of the reason, so a changed one bears the name of whoever changed it.

    Raises:
        InputError: the coupon is not there, or no reason or too long a one is given.
    """
    coupon = the_coupon(tx, coupon_key)
    why = _checked(reason)
    old = left_out(tx, coupon_key)
    if old is None:
        tx.put(LEFT_OUT, LeftOut(0, coupon_key, why, tx.who, tx.now.isoformat()))
        return Summary("Leave {0} out of the findings: {1}", (coupon.id, why))
    if old.reason != why:
        tx.put(LEFT_OUT, old._replace(reason=why, who=tx.who, recorded=tx.now.isoformat()))
    return Summary("Change why {0} is left out of the findings: {1}", (coupon.id, why))


def take_back_in(tx: Transaction, coupon_key: int) -> Summary:
    """Let a coupon count in the findings again.

    Raises:
        InputError: the coupon is not there, or is not left out.
    """
    coupon = the_coupon(tx, coupon_key)
    old = left_out(tx, coupon_key)
    if old is None:
        raise InputError("This coupon is not left out of the findings, so there is nothing to take back.")
    tx.drop(LEFT_OUT, old.key)
    return Summary("Take {0} back into the findings", (coupon.id,))


def left_out(tx: Transaction, coupon_key: int) -> LeftOut | None:
    """Return why a coupon is left out of the findings, or None where it counts."""
    found = tx.find(LEFT_OUT, coupon=coupon_key)
    return found[0] if found else None


def _checked(reason: str) -> str:
    why = one_line(reason)
    if not why:
        raise InputError("Give a reason why this coupon is left out; the report prints it.")
    if len(why) > MOST_REASON:
        raise InputError(f"A reason has at most {MOST_REASON} characters; make it shorter.")
    return why
