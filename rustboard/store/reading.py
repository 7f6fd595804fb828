"""Reading a whole board into a record, with every value of a stranger's file looked at."""

from __future__ import annotations

import sqlite3
from typing import Any, TypeVar

from rustboard.board.model import Grading
from rustboard.board.record import BoardRecord
from rustboard.store.tables import (
    AXIS_LABELS,
    BOARD,
    COUPONS,
    GRADINGS,
    INSPECTIONS,
    PHOTOS,
    TREATMENTS,
    Table,
)
from rustboard.support.problems import InputError

T = TypeVar("T")


def read_record(connection: sqlite3.Connection) -> BoardRecord:
    """Return the board with the grades that count.

    Raises:
        InputError: a row holds what no version of this program writes.
        sqlite3.Error: the file could not be read.
    """
    board = _all(connection, BOARD)
    if 1 not in board:
        raise InputError("The file holds no board; restore a copy from the backups folder.")
    record = BoardRecord(
        board=board[1].board,
        markers=board[1].markers,
        treatments=_all(connection, TREATMENTS),
        coupons=_all(connection, COUPONS),
        inspections=_all(connection, INSPECTIONS),
        photos=_all(connection, PHOTOS),
        axis_labels=_all(connection, AXIS_LABELS),
    )
    record.current = _current_gradings(connection)
    _check_keys(record)
    return record


def _all(connection: sqlite3.Connection, table: Table[T]) -> dict[int, T]:
    found: dict[int, T] = {}
    for row in connection.execute(table.select).fetchall():
        try:
            found[row[0]] = table.from_row(row)
        except (ValueError, TypeError, RecursionError) as error:
            raise InputError(
                f"Row {row[0]} of the table {table.name} is damaged; restore a copy from the backups folder."
            ) from error
    return found


def _current_gradings(connection: sqlite3.Connection) -> dict[int, dict[int, Grading]]:
    current: dict[int, dict[int, Grading]] = {}
    make: Any = Grading._make
    for row in connection.execute(f"{GRADINGS.select} WHERE state = 'current'").fetchall():
        grading = make(row)
        by_inspection = current.get(grading[1])
        if by_inspection is None:
            by_inspection = current[grading[1]] = {}
        by_inspection[grading[2]] = grading
    return current


def _check_keys(record: BoardRecord) -> None:
    inspections = record.inspections.keys()
    sound = all(
        coupon in record.coupons and graded.keys() <= inspections for coupon, graded in record.current.items()
    ) and all(each.treatment is None or each.treatment in record.treatments for each in record.coupons.values())
    if not sound:
        raise InputError(
            "Some rows point at coupons or inspections that are not there; restore a copy from the backups."
        )
