"""A plan carried out: its treatments and coupons put on an empty board; and a board turned back into a plan."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from rustboard.board.cells import identity
from rustboard.board.model import Coupon, Plan, PlannedCoupon
from rustboard.board.record import BoardRecord
from rustboard.operations.boards import checked_board
from rustboard.operations.coupons import add_coupons
from rustboard.operations.lookup import shown, the_board_row
from rustboard.operations.treatments import add_treatments
from rustboard.store.tables import BOARD, COUPONS, TREATMENTS
from rustboard.store.transaction import Transaction
from rustboard.support.problems import InputError
from rustboard.support.summary import Summary


def carry_out_plan(tx: Transaction, plan: Plan) -> Summary:
    """Put everything a checked plan names on an empty board.

    Raises:
        InputError: the board holds coupons or treatments already, or the plan names what cannot be.
    """
    if tx.count(COUPONS) or tx.count(TREATMENTS):
        raise InputError("This board holds coupons already; carry the plan out on a new board.")
    tx.put(BOARD, replace(the_board_row(tx), board=checked_board(plan.board), markers=plan.markers))
    keys = {identity(each.id): each.key for each in add_treatments(tx, plan.treatments)}
    add_coupons(tx, [_coupon(each, keys) for each in plan.coupons])
    return Summary("Carry out the plan: {0} coupons", (str(len(plan.coupons)),))


def _coupon(planned: PlannedCoupon, treatments: Mapping[str, int]) -> Coupon:
    treatment = treatments.get(identity(planned.treatment)) if planned.treatment else None
    if planned.treatment and treatment is None:
        raise InputError(
            f"Coupon {shown(planned.id)} has the treatment {shown(planned.treatment)}, which the plan does not "
            "describe."
        )
    return Coupon(
        id=planned.id,
        position=planned.position,
        treatment=treatment,
        role=planned.role,
        substrate=planned.substrate,
        outline_mm=planned.outline_mm,
        note=planned.note,
    )


def plan_of(record: BoardRecord, name: str) -> Plan:
    """Return the plan of a new board like this one: the same layout and treatments, no dates, no grades."""
    ids = {key: each.id for key, each in record.treatments.items()}
    coupons = tuple(
        PlannedCoupon(
            id=each.id,
            position=each.position,
            treatment="" if each.treatment is None else ids[each.treatment],
            role=each.role,
            substrate=each.substrate,
            outline_mm=each.outline_mm,
            note=each.note,
        )
        for each in record.coupons_in_order()
        if each.position is not None
    )
    treatments = tuple(replace(record.treatments[key], key=0) for key in sorted(record.treatments))
    return Plan(replace(record.board, name=name, started=None), treatments, coupons, record.markers)
