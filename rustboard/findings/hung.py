"""The coupons of a board as they hang and as the lots put them, with how the layout stands."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from rustboard.board.drain import drain_breaks, hung_coupons
from rustboard.board.lot_changes import drawn_positions, has_grid_of_lots
from rustboard.board.lots import draw_lots
from rustboard.board.record import BoardRecord
from rustboard.findings.proof_table import LayoutState
from rustboard.findings.units import HungBoard

_TRIAL_SEED: Final = 1


def hung_board(record: BoardRecord) -> tuple[HungBoard, LayoutState]:
    """Return the coupons that hang, and how their layout stands.

    Lots that are not drawn yet are drawn for a trial, unless the board was inspected: then it is too late for lots.
    """
    layout, size = record.layout, (record.board.rows, record.board.columns)
    hung = tuple(hung_coupons(record))
    lots = drawn_positions(record)
    is_drawn = layout.method != "hand" and layout.seed is not None and any(each.coupon in lots for each in hung)
    if not is_drawn and record.inspections:
        layout = replace(layout, method="hand")  # too late for lots
    by_lot = layout.method != "hand"
    incline = record.board.incline_deg
    drawn = hung
    if is_drawn:
        drawn = tuple(each._replace(position=lots.get(each.coupon, each.position)) for each in hung)
    elif by_lot and hung:
        trial = draw_lots(*size, [(each.coupon, each.treatment) for each in hung], layout, _TRIAL_SEED, incline)
        hung = drawn = tuple(each._replace(position=trial.positions[each.coupon]) for each in hung)
        layout = replace(layout, drawn_rows=size[0], drawn_columns=size[1], drawn_in_columns=trial.in_columns)
    roles = {each.coupon: record.coupons[each.coupon].role for each in hung}
    without_lot = frozenset(each.coupon for each in hung if each.coupon not in lots) if is_drawn else frozenset()
    board = HungBoard(hung, drawn, roles, *size, layout, without_lot)
    state = LayoutState(
        layout.method,
        is_drawn,
        sum(now.position != then.position for now, then in zip(hung, drawn, strict=True)),
        len(without_lot),
        len(drain_breaks(hung, layout, incline)) if is_drawn or not by_lot else 0,
        board.columns_are_units,
        sum(each.treatment is None and roles[each.coupon] == "test" for each in hung),
        is_drawn and not has_grid_of_lots(record),
        len(record.coupons) - len(hung),
    )
    return board, state
