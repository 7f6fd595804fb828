"""The board itself: its description, its rows and columns, and what they are called."""

from __future__ import annotations

from dataclasses import replace

from rustboard.board.layout import Lot
from rustboard.board.model import Axis, AxisLabel, Board, Coupon
from rustboard.board.plan_rules import RANGES
from rustboard.board.position import MOST_COLUMNS, MOST_ROWS, Position, row_letters
from rustboard.board.typed_dates import FIRST_YEAR, LAST_YEAR
from rustboard.operations.lookup import changed_names, the_board_row
from rustboard.store.plan_tables import LOTS
from rustboard.store.tables import AXIS_LABELS, BOARD, COUPONS
from rustboard.store.transaction import Transaction
from rustboard.support.problems import InputError
from rustboard.support.summary import Summary
from rustboard.support.text import many_lines, one_line

_LINES = ("name", "site", "shelter", "customer", "shop")
_NUMBERS = ("width_mm", "height_mm", "edge_margin_mm", "incline_deg", "facing_deg")


_RANGE_SENTENCES = {
    "width_mm": "The width of a board is from 0 (not given) to 100,000 mm.",
    "height_mm": "The height of a board is from 0 (not given) to 100,000 mm.",
    "edge_margin_mm": "The edge margin is from 0 to 1,000 mm.",
    "incline_deg": "The incline is from 0 (flat) to 90 (upright), up to 180 (facing down) degrees.",
    "facing_deg": "The bearing a board faces is from 0 to 360 degrees; 180 is south.",
}


def edit_board(tx: Transaction, board: Board) -> Summary:
    """Replace the board's description; rows and columns are changed by their own operations.

    Raises:
        InputError: no name, or a number that cannot be.
    """
    row = the_board_row(tx)
    clean = checked_board(replace(board, rows=row.board.rows, columns=row.board.columns))
    tx.put(BOARD, replace(row, board=clean))
    names = changed_names(row.board, clean, (*_LINES, *_NUMBERS, "started", "note"))
    return Summary("Edit the board: {0}", (names,))


def checked_board(board: Board) -> Board:
    """Return the board with safe texts.

    Raises:
        InputError: no name, or a number that cannot be.
    """
    name = one_line(board.name)
    if not name:
        raise InputError("A board needs a name.")
    check_grid(board.rows, board.columns)
    for key in _RANGE_SENTENCES:
        check_board_number(key, getattr(board, key))
    started = board.started
    if started is not None:
        started = started.replace(microsecond=0, tzinfo=None)
        if not FIRST_YEAR <= started.year <= LAST_YEAR:
            raise InputError(f"The year of the start is between {FIRST_YEAR} and {LAST_YEAR}; check the date.")
    return replace(
        board,
        started=started,
        name=name,
        site=one_line(board.site),
        shelter=one_line(board.shelter),
        customer=one_line(board.customer),
        shop=one_line(board.shop),
        note=many_lines(board.note),
    )


def check_grid(rows: int, columns: int) -> None:
    """Refuse numbers of rows and columns that no board has.

    Raises:
        InputError: too few or too many.
    """
    if not (1 <= rows <= MOST_ROWS and 1 <= columns <= MOST_COLUMNS):
        raise InputError(f"A board has 1 to {MOST_ROWS} rows and 1 to {MOST_COLUMNS} columns.")


def check_board_number(name: str, value: float | None) -> None:
    """Refuse a width, height, edge margin, incline or bearing (by its name in `Board`) that cannot be.

    Raises:
        InputError: out of its range.
    """
    low, high, _ = RANGES[name]
    if value is not None and not low <= value <= high:  # not in range either: NaN
        raise InputError(_RANGE_SENTENCES[name])


def label_axis(tx: Transaction, axis: Axis, number: int, label: str) -> Summary:
    """Name a row or a column; an empty name takes the label away.

    Raises:
        InputError: the board has no such row or column.
    """
    _refuse_missing_line(tx, axis, number)
    found = tx.find(AXIS_LABELS, axis=axis, number=number)
    text = one_line(label, 200)
    which = _axis_name(axis, number)
    if not text:
        for each in found:
            tx.drop(AXIS_LABELS, each.key)
        return Summary("Take the label off {0}", (which,))
    tx.put(AXIS_LABELS, AxisLabel(axis, number, text, found[0].key if found else 0))
    return Summary("Label {0}: {1}", (which, text))


def add_line(tx: Transaction, axis: Axis, number: int) -> Summary:
    """Add an empty row or column before the one called ``number`` now (its count = at the end).

    Only the grid changes, so outlines stay: the board itself is as it was. Lots keep to the places they were drawn
    for, whatever these are called now.

    Raises:
        InputError: the board is as large as it may be, or has nothing at this place.
    """
    count = _count(tx, axis)
    if not 0 <= number <= count:
        raise InputError(f"The board has {count} {axis}s; a new one goes before one of them or after the last.")
    _resize(tx, axis, 1)
    for coupon in reversed(_coupons_along(tx, axis)):
        if _place(coupon, axis) >= number:
            _shift(tx, coupon, axis, 1)
    _shift_lots(tx, axis, number, 1)
    for each in reversed(_labels_along(tx, axis)):
        if each.number >= number:
            tx.put(AXIS_LABELS, replace(each, number=each.number + 1))
    return Summary("Add {0}", (_axis_name(axis, number),))


def remove_line(tx: Transaction, axis: Axis, number: int) -> Summary:
    """Remove a row or column; coupons that hang there are taken off the board and kept, lots drawn for it are gone.

    Only the grid changes, so outlines stay: the board itself is as it was.

    Raises:
        InputError: it is the last one, or is not there.
    """
    _refuse_missing_line(tx, axis, number)
    _resize(tx, axis, -1)
    taken_off = 0
    for coupon in _coupons_along(tx, axis):
        if _place(coupon, axis) == number:
            tx.put(COUPONS, replace(coupon, position=None))
            taken_off += 1
        elif _place(coupon, axis) > number:
            _shift(tx, coupon, axis, -1)
    for lot in tx.find(LOTS):
        if _place(lot, axis) == number:
            tx.drop(LOTS, lot.key)
    _shift_lots(tx, axis, number, -1)
    for each in _labels_along(tx, axis):
        if each.number == number:
            tx.drop(AXIS_LABELS, each.key)
        elif each.number > number:
            tx.put(AXIS_LABELS, replace(each, number=each.number - 1))
    if taken_off:
        return Summary("Remove {0}; its coupons ({1}) are off the board", (_axis_name(axis, number), str(taken_off)))
    return Summary("Remove {0}", (_axis_name(axis, number),))


def _axis_name(axis: Axis, number: int) -> str:
    return f"row {row_letters(number)}" if axis == "row" else f"column {number + 1}"


def _count(tx: Transaction, axis: Axis) -> int:
    board = the_board_row(tx).board
    return board.rows if axis == "row" else board.columns


def _refuse_missing_line(tx: Transaction, axis: Axis, number: int) -> None:
    count = _count(tx, axis)
    if not 0 <= number < count:
        raise InputError(f"This {axis} is no longer on the board, which has {count}.")


def _resize(tx: Transaction, axis: Axis, by: int) -> None:
    row = the_board_row(tx)
    count = _count(tx, axis)
    most = MOST_ROWS if axis == "row" else MOST_COLUMNS
    if not 1 <= count + by <= most:
        raise InputError(f"A board has 1 to {most} {axis}s.")
    board = replace(row.board, rows=count + by) if axis == "row" else replace(row.board, columns=count + by)
    tx.put(BOARD, replace(row, board=board))


def _place(thing: Coupon | Lot, axis: Axis) -> int:
    if thing.position is None:
        return -1
    return thing.position.row if axis == "row" else thing.position.column


def _coupons_along(tx: Transaction, axis: Axis) -> list[Coupon]:
    hanging = [each for each in tx.find(COUPONS) if each.position is not None]
    return sorted(hanging, key=lambda each: _place(each, axis))


def _labels_along(tx: Transaction, axis: Axis) -> list[AxisLabel]:
    return sorted(tx.find(AXIS_LABELS, axis=axis), key=lambda each: each.number)


def _shift(tx: Transaction, coupon: Coupon, axis: Axis, by: int) -> None:
    if coupon.position is None:
        return
    tx.put(COUPONS, replace(coupon, position=_shifted(coupon.position, axis, by)))


def _shift_lots(tx: Transaction, axis: Axis, start: int, by: int) -> None:
    for lot in tx.find(LOTS):
        if _place(lot, axis) >= start:
            tx.put(LOTS, replace(lot, position=_shifted(lot.position, axis, by)))


def _shifted(position: Position, axis: Axis, by: int) -> Position:
    row, column = position
    return Position(row + by, column) if axis == "row" else Position(row, column + by)
