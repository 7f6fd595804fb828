"""Coupons: added, edited, moved, swapped, taken off, removed."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Any

from rustboard.board.cells import identity
from rustboard.board.model import MOST_COUPONS, ROLES, Board, Coupon, Outline, Treatment
from rustboard.board.outline import outline_fault, without_repeats
from rustboard.board.plan_rules import RANGES
from rustboard.board.position import Position
from rustboard.operations.lookup import (
    changed_names,
    coupon_at,
    coupon_was_graded,
    ids_in_use,
    shown,
    the_board,
    the_board_row,
    the_coupon,
    the_layout,
    the_treatment,
)
from rustboard.operations.outlines import exchanged, outlines_if_they_fit, shifted
from rustboard.operations.treatments import add_treatments
from rustboard.store.findings_tables import LEFT_OUT
from rustboard.store.measuring_tables import DISTURBANCES, EXCLUDED_AREAS, MEASUREMENTS, STROKES
from rustboard.store.plan_tables import LOTS
from rustboard.store.table import Table
from rustboard.store.tables import COUPONS, PHOTOS
from rustboard.store.transaction import Transaction
from rustboard.support.problems import InputError
from rustboard.support.summary import Summary
from rustboard.support.text import counted, many_lines, one_line


def add_coupon(tx: Transaction, coupon: Coupon) -> Summary:
    """Put a new coupon on the board, or beside it when it has no position.

    Raises:
        InputError: no id, an id or a position that is taken, a position that the board does not have, an outline
            that is none, or no room.
    """
    (clean,) = add_coupons(tx, [coupon])
    if clean.position is None:
        return Summary("Add coupon {0}", (clean.id,))
    return Summary("Add coupon {0} at {1}", (clean.id, clean.position.label))


def add_coupons(tx: Transaction, coupons: Iterable[Coupon]) -> list[Coupon]:
    """Do `add_coupon` for many; return them as they were added, with their keys."""
    count = tx.count(COUPONS)
    ids = ids_in_use(tx, COUPONS)
    added: list[Coupon] = []
    for each in coupons:
        refuse_more_coupons(count + len(added))
        clean = _checked(tx, replace(each, key=0), ids)
        if clean.position is not None:
            _refuse_taken(tx, clean.position)
        clean = replace(clean, outline_mm=checked_outline(clean.outline_mm, the_board(tx)))
        key = ids[identity(clean.id)] = tx.put(COUPONS, clean)
        added.append(replace(clean, key=key))
    return added


def add_coupon_with_treatment(tx: Transaction, coupon: Coupon, treatment: Treatment) -> Summary:
    """Do `add_treatment`, then `add_coupon` with that treatment, in one step.

    Raises:
        InputError: as either; then neither is added.
    """
    (added,) = add_treatments(tx, [treatment])
    add_coupon(tx, replace(coupon, treatment=added.key))
    return Summary("Add coupon {0} with the new treatment {1}", (one_line(coupon.id), added.title))


def edit_coupon_with_treatment(tx: Transaction, coupon: Coupon, treatment: Treatment) -> Summary:
    """Do `add_treatment`, then `edit_coupon` with that treatment, in one step.

    Raises:
        InputError: as either; then nothing is changed.
    """
    before = the_coupon(tx, coupon.key)
    (added,) = add_treatments(tx, [treatment])
    has_lot = bool(tx.find(LOTS, coupon=coupon.key))
    edit_coupon(tx, replace(coupon, treatment=added.key))
    if has_lot:
        return Summary("Edit coupon {0}: new treatment {1}; its lot no longer counts", (before.id, added.title))
    return Summary("Edit coupon {0}: new treatment {1}", (before.id, added.title))


def edit_coupon(tx: Transaction, coupon: Coupon) -> Summary:
    """Replace what is known of a coupon; where it hangs is changed by `move_coupon` alone.

    A coupon given another treatment has no lot any more: the lots decided where its former treatment hangs.

    Raises:
        InputError: as `add_coupon`.
    """
    before = the_coupon(tx, coupon.key)
    clean = _checked(tx, replace(coupon, position=before.position), ids_in_use(tx, COUPONS))
    if clean.outline_mm != before.outline_mm:
        clean = replace(clean, outline_mm=checked_outline(clean.outline_mm, the_board(tx)))
    tx.put(COUPONS, clean)
    lots = tx.find(LOTS, coupon=coupon.key) if clean.treatment != before.treatment else []
    for lot in lots:
        tx.drop(LOTS, lot.key)
    names = changed_names(before, clean, ("id", "treatment", "role", "substrate", "outline_mm", "note"))
    if lots:
        return Summary("Edit coupon {0}: {1}; its lot no longer counts", (before.id, names))
    return Summary("Edit coupon {0}: {1}", (before.id, names))


def move_coupon(tx: Transaction, key: int, position: Position) -> Summary:
    """Hang a coupon at a position; a coupon that is there swaps places with it.

    When the first came from beside the board, the other one is then beside the board.

    While the board has no photos, outlines go along: two that swap exchange the top left corners of their bounding
    boxes; one alone goes from where it was set out to where the new position is, or is shifted by the pitch of the
    grid where the board's size is known; else, and from beside the board, it stays. Once there are photos, outlines
    stay as they are, because they say where in those photos the coupon is.

    Raises:
        InputError: the board does not have this position.
    """
    coupon = the_coupon(tx, key)
    _refuse_outside(tx, position)
    other = coupon_at(tx, position)
    photographed = tx.count(PHOTOS) > 0
    if other is None or other.key == key:
        there = replace(coupon, position=position)
        tx.put(COUPONS, there if photographed else _hung(tx, coupon, position))
        return Summary("Move {0} to {1}", (coupon.id, position.label))
    tx.put(COUPONS, replace(other, position=None))  # two coupons are never at one position
    if photographed:
        one, two = replace(coupon, position=other.position), replace(other, position=coupon.position)
    else:
        one, two = _swapped(tx, coupon, other)
    tx.put(COUPONS, one)
    tx.put(COUPONS, two)
    return Summary("Swap {0} and {1}", (coupon.id, other.id))


def _hung(tx: Transaction, coupon: Coupon, position: Position | None) -> Coupon:
    outline = coupon.outline_mm
    if outline and coupon.position is not None and position is not None and position != coupon.position:
        row = the_board_row(tx)
        set_out = outlines_if_they_fit(row, the_layout(tx))
        if outline == set_out.get(coupon.position):
            outline = set_out[position]
        else:
            outline = shifted(outline, coupon.position, position, row.board)
    return replace(coupon, position=position, outline_mm=outline)


def _swapped(tx: Transaction, one: Coupon, other: Coupon) -> tuple[Coupon, Coupon]:
    if not (one.outline_mm and other.outline_mm):
        return _hung(tx, one, other.position), _hung(tx, other, one.position)
    mine, its = exchanged(one.outline_mm, other.outline_mm, the_board(tx))
    return (
        replace(one, position=other.position, outline_mm=mine),
        replace(other, position=one.position, outline_mm=its),
    )


def take_off(tx: Transaction, key: int) -> Summary:
    """Take a coupon off the board; it and its grades are kept."""
    coupon = the_coupon(tx, key)
    tx.put(COUPONS, replace(coupon, position=None))
    return Summary("Take {0} off the board", (coupon.id,))


def remove_coupon(tx: Transaction, key: int) -> Summary:
    """Remove a coupon that was never graded or measured, its lot, and that it was left out of the findings.

    Raises:
        InputError: it has gradings or measurements, which are never erased.
    """
    coupon = the_coupon(tx, key)
    if coupon_was_graded(tx, key):
        raise InputError(
            f"Coupon {shown(coupon.id)} has grades, which are never erased; take it off the board instead."
        )
    lasting: tuple[Table[Any], ...] = (MEASUREMENTS, DISTURBANCES)
    if any(tx.find(table, coupon=key) for table in lasting):
        raise InputError(
            f"Coupon {shown(coupon.id)} was measured or is in the day log, which is never erased; take it off the "
            "board instead."
        )
    tables: tuple[Table[Any], ...] = (LOTS, EXCLUDED_AREAS, STROKES, LEFT_OUT)
    for table in tables:
        for each in tx.find(table, coupon=key):
            tx.drop(table, each.key)
    tx.drop(COUPONS, key)
    return Summary("Remove coupon {0}", (coupon.id,))


def refuse_more_coupons(count: int) -> None:
    """Refuse one more coupon on a board that has ``count``.

    Raises:
        InputError: the board is full.
    """
    if count >= MOST_COUPONS:
        raise InputError(f"A board holds at most {MOST_COUPONS} coupons; start a second board.")


def _checked(tx: Transaction, coupon: Coupon, ids: Mapping[str, int]) -> Coupon:
    clean = checked_coupon(coupon, ids)
    if clean.treatment is not None:
        the_treatment(tx, clean.treatment)
    return clean


def checked_coupon(coupon: Coupon, ids: Mapping[str, int]) -> Coupon:
    """Return the coupon with safe texts; its position, treatment and outline are not looked at.

    Args:
        coupon: with its key, or 0 for a new one.
        ids: key by the form in which ids are compared (`identity`), of all coupons of the board.

    Raises:
        InputError: no id, an id that another one has, or no such role.
    """
    name = one_line(coupon.id)
    if not name:
        raise InputError("A coupon needs an id: what is written on it.")
    check_role(coupon.role)
    if ids.get(identity(name), coupon.key) != coupon.key:
        raise InputError(f"Another coupon is called {shown(name)}; choose a different id.")
    return replace(coupon, id=name, substrate=one_line(coupon.substrate), note=many_lines(coupon.note))


def check_role(role: str) -> None:
    """Refuse a role that coupons do not have.

    Raises:
        InputError: no such role.
    """
    if role not in ROLES:
        raise InputError(f"A coupon's role is {' or '.join(ROLES)}.")


def checked_outline(outline: Outline, board: Board) -> Outline:
    """Return an outline without repeated points; an empty one means that none is given.

    Raises:
        InputError: it is no outline, or lies beyond the board.
    """
    kept = without_repeats(outline)
    fault = outline_fault(kept, board)
    if fault:
        raise InputError(fault)
    _, most, _ = RANGES["width_mm"]
    if any(max(point) > most for point in kept):  # on a board whose size is not given
        raise InputError(f"The outline has a point more than {most:,.0f} mm from the corner; give its corners in mm.")
    return kept


def _refuse_taken(tx: Transaction, position: Position) -> None:
    _refuse_outside(tx, position)
    other = coupon_at(tx, position)
    if other is not None:
        raise InputError(f"{shown(other.id)} is at {position.label} already; choose a free position.")


def _refuse_outside(tx: Transaction, position: Position) -> None:
    board = the_board(tx)
    if not board.has(position):
        size = f"{counted(board.rows, 'row')} and {counted(board.columns, 'column')}"
        raise InputError(f"The board has no position {position.label}; it has {size}.")
