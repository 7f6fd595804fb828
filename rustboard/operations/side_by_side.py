"""Which of two coupons is more rusted: choices recorded, put right, taken back."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from rustboard.board.pair_choice import MOST_PAIR_CHOICES, RUSTIER, PairChoice, Rustier
from rustboard.operations.lookup import refuse_while_hidden, the_coupon, the_inspection
from rustboard.store.blind_tables import PAIR_CHOICES
from rustboard.store.transaction import Transaction
from rustboard.support.problems import InputError
from rustboard.support.summary import Summary
from rustboard.support.text import one_line

CHOSEN: Final = "Side by side: choose {0}"


@dataclass(frozen=True, slots=True)
class GivenChoice:
    """A choice as it is made.

    Attributes:
        inspection, left, right: keys. rustier: the side that is more rusted, or ``neither``.
    """

    inspection: int
    grader: str
    left: int
    right: int
    rustier: Rustier


def choose(tx: Transaction, given: GivenChoice) -> Summary:
    """Record which of two coupons is more rusted at an inspection.

    Raises:
        InputError: a coupon or the inspection is not there, both coupons are the same, or the board is full.
    """
    the_inspection(tx, given.inspection)
    refuse_while_hidden(tx, given.inspection)
    for each in (given.left, given.right):
        the_coupon(tx, each)
    if given.left == given.right or given.rustier not in RUSTIER:
        raise InputError("Choose the left or the right one of two coupons, or say that you cannot tell.")
    if tx.count(PAIR_CHOICES) >= MOST_PAIR_CHOICES:
        raise InputError(f"A board holds at most {MOST_PAIR_CHOICES} choices side by side.")
    tx.put(
        PAIR_CHOICES,
        PairChoice(
            0, given.inspection, one_line(given.grader), given.left, given.right, given.rustier, tx.now.isoformat()
        ),
    )
    return Summary(CHOSEN, (given.rustier,))


def withdraw_choice(tx: Transaction, key: int) -> Summary:
    """Take a choice back; it is kept, and counts no more.

    Raises:
        InputError: it is not there, or was taken back already.
    """
    found = tx.get(PAIR_CHOICES, key)
    if found is None or found.state != "current":
        raise InputError("This choice is no longer there, so it cannot be taken back.")
    tx.put(PAIR_CHOICES, found._replace(state="withdrawn"))
    return Summary("Withdraw a choice side by side")
