"""The outline of a coupon where a width and a height are all that is known of it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from typing import Final

from rustboard.board.model import Board, Coupon, Outline
from rustboard.board.outline import bounds
from rustboard.board.position import Position

_ROOM_AROUND: Final = 1.25  # where a board has no size, positions lie this many coupon sizes apart


def is_rectangle(outline: Outline) -> bool:
    """Return whether an outline is an upright rectangle."""
    if len(outline) != 4:
        return False
    left, top, right, bottom = bounds(outline)
    return set(outline) == {(left, top), (right, top), (right, bottom), (left, bottom)}


def size_mm(outline: Outline) -> tuple[float, float]:
    """Return width and height of an outline in mm."""
    left, top, right, bottom = bounds(outline)
    return right - left, bottom - top


def usual_size_mm(coupons: Iterable[Coupon]) -> tuple[float, float] | None:
    """Return the commonest size of the rectangles on a board, or None where there is none."""
    sizes = Counter(size_mm(each.outline_mm) for each in coupons if is_rectangle(each.outline_mm))
    return sizes.most_common(1)[0][0] if sizes else None


def rectangle(board: Board, position: Position | None, width: float, height: float, before: Outline = ()) -> Outline:
    """Return an upright rectangle in board millimetres, clockwise from its top left corner.

    Its middle stays where that of the outline before was; without one it lies in the middle of its position, all
    positions being of one size. A coupon off the board is put into the board's corner.
    """
    if before:
        left, top, right, bottom = bounds(before)
        x, y = (left + right) / 2, (top + bottom) / 2
    elif position is None:
        x, y = width / 2, height / 2
    else:
        x = (position.column + 0.5) * (board.width_mm / board.columns or width * _ROOM_AROUND)
        y = (position.row + 0.5) * (board.height_mm / board.rows or height * _ROOM_AROUND)
    left, top = max(0.0, round(x - width / 2, 3)), max(0.0, round(y - height / 2, 3))
    right, bottom = left + width, top + height
    return ((left, top), (right, top), (right, bottom), (left, bottom))
