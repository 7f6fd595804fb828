"""Fetching what an operation names, with a sentence when it is not there (any more)."""

from __future__ import annotations

from typing import Any, TypeVar

from rustboard.board.cells import identity
from rustboard.board.layout import Layout
from rustboard.board.model import Board, Coupon, Inspection, Photo, Treatment
from rustboard.board.position import Position
from rustboard.store.blind_tables import BLIND_GRADES, BLIND_INSPECTIONS, BLIND_ROUNDS, DAMAGES, PAIR_CHOICES
from rustboard.store.plan_tables import LAYOUTS
from rustboard.store.table import Table
from rustboard.store.tables import BOARD, COUPONS, GRADINGS, INSPECTIONS, PHOTOS, TREATMENTS, BoardRow
from rustboard.store.transaction import Transaction
from rustboard.store.weather_tables import WEIGHINGS
from rustboard.support.problems import InputError

T = TypeVar("T")


def _present(tx: Transaction, table: Table[T], key: int, kind: str) -> T:
    value = tx.get(table, key)
    if value is None:
        raise InputError(f"This {kind} is no longer on the board; it may have been taken away by undo.")
    return value


def the_board_row(tx: Transaction) -> BoardRow:
    """Return the board with its markers."""
    return _present(tx, BOARD, 1, "board")


def the_board(tx: Transaction) -> Board:
    """Return the board."""
    return the_board_row(tx).board


def the_layout(tx: Transaction) -> Layout:
    """Return how the board is laid out; the usual rules where nobody has chosen any."""
    return tx.get(LAYOUTS, 1) or Layout()


def exposure_has_begun(tx: Transaction) -> bool:
    """Return whether exposure has begun; the rule is that of `BoardRecord.has_begun`."""
    if tx.count(INSPECTIONS) or tx.count(PHOTOS):
        return True
    started = the_board(tx).started
    return started is not None and started <= tx.now.replace(tzinfo=None)


def the_coupon(tx: Transaction, key: int) -> Coupon:
    """Return a coupon or refuse."""
    return _present(tx, COUPONS, key, "coupon")


def the_treatment(tx: Transaction, key: int) -> Treatment:
    """Return a treatment or refuse."""
    return _present(tx, TREATMENTS, key, "treatment")


def the_inspection(tx: Transaction, key: int) -> Inspection:
    """Return an inspection or refuse."""
    return _present(tx, INSPECTIONS, key, "inspection")


def inspection_was_used(tx: Transaction, key: int) -> bool:
    """Return whether anything was ever graded, compared or noted at an inspection; photos are not asked for."""
    tables: tuple[Table[Any], ...] = (GRADINGS, BLIND_INSPECTIONS, PAIR_CHOICES, DAMAGES)
    return any(tx.find(table, inspection=key) for table in tables)


def coupon_was_graded(tx: Transaction, key: int) -> bool:
    """Return whether a coupon was ever graded, shown in a blind round, compared, weighed, or had damage noted."""
    tables: tuple[Table[Any], ...] = (GRADINGS, BLIND_GRADES, DAMAGES, WEIGHINGS)
    if any(tx.find(table, coupon=key) for table in tables):
        return True
    if tx.find(PAIR_CHOICES, left_coupon=key) or tx.find(PAIR_CHOICES, right_coupon=key):
        return True
    return any(shown.coupon == key for each in tx.find(BLIND_ROUNDS) for shown in each.showings)


def refuse_while_hidden(tx: Transaction, inspection: int) -> None:
    """Refuse to grade openly at an inspection that is being graded blind.

    Raises:
        InputError: it is, and has not been revealed.
    """
    if tx.find(BLIND_INSPECTIONS, inspection=inspection, revealed=None):
        raise InputError(
            "This inspection is being graded blind; finish and reveal it first, or choose another inspection."
        )


def the_photo(tx: Transaction, key: int) -> Photo:
    """Return a photo or refuse."""
    return _present(tx, PHOTOS, key, "photo")


def ids_in_use(tx: Transaction, table: Table[Any]) -> dict[str, int]:
    """Return the key of each coupon or treatment by the form in which ids are compared (`identity`)."""
    return {identity(name): key for name, key in tx.ids(table)}


def shown(name: str) -> str:
    """Return an id or title as a sentence shows it: cut when it is very long."""
    return name if len(name) <= 60 else f"{name[:60]}…"


def coupon_at(tx: Transaction, position: Position) -> Coupon | None:
    """Return the coupon at a position, or None."""
    found = tx.find(COUPONS, row_number=position.row, column_number=position.column)
    return found[0] if found else None


def changed_names(before: object, after: object, names: tuple[str, ...]) -> str:
    """Return which of the named fields differ, for a summary: ``name, coats``."""
    return ", ".join(each.replace("_", " ") for each in names if getattr(before, each) != getattr(after, each))
