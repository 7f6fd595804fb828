"""Where an outline goes when its coupon changes places: the photo shows what hangs where, so it goes along.

Each keeps its shape (to a millionth of a millimetre) and stays on the board.
"""

from __future__ import annotations

from collections.abc import Mapping

from rustboard.board.layout import Layout
from rustboard.board.model import Board, Outline
from rustboard.board.outline import bounds
from rustboard.board.plan_rules import RANGES
from rustboard.board.position import Position
from rustboard.board.setting_out import setting_out
from rustboard.store.tables import BoardRow
from rustboard.support.problems import InputError

_DECIMALS = 6  # so that to and fro leaves no -1e-17, which lies beyond the board


def exchanged(one: Outline, other: Outline, board: Board) -> tuple[Outline, Outline]:
    """Return two outlines that are not empty with the top left corners of their bounding boxes exchanged."""
    return _at(one, _corner(other), board), _at(other, _corner(one), board)


def outlines_if_they_fit(row: BoardRow, layout: Layout) -> Mapping[Position, Outline]:
    """Return the outline set out for every position; none when sizes are not given or coupons do not fit."""
    try:
        return setting_out(row.board, layout, row.markers)
    except InputError:
        return {}


def brought_to(outline: Outline, other: Outline, board: Board) -> Outline:
    """Return an outline with the top left corner of its bounding box where another's is; neither is empty."""
    return _at(outline, _corner(other), board)


def shifted(outline: Outline, start: Position, end: Position, board: Board) -> Outline:
    """Return an outline moved by the pitch of the grid from one position to another; as it is on a board of no size.

    All positions are of one size: the board's width by its columns, and its height by its rows.
    """
    if not outline or not (board.width_mm and board.height_mm):
        return outline
    left, top = _corner(outline)
    across = (end.column - start.column) * board.width_mm / board.columns
    down = (end.row - start.row) * board.height_mm / board.rows
    return _at(outline, (left + across, top + down), board)


def _corner(outline: Outline) -> tuple[float, float]:
    return bounds(outline)[:2]


def _at(outline: Outline, corner: tuple[float, float], board: Board) -> Outline:
    left, top, right, bottom = bounds(outline)
    _, most, _ = RANGES["width_mm"]
    across = _within(corner[0], right - left, board.width_mm or most) - left
    down = _within(corner[1], bottom - top, board.height_mm or most) - top
    return tuple((round(x + across, _DECIMALS), round(y + down, _DECIMALS)) for x, y in outline)


def _within(start: float, length: float, room: float) -> float:
    return max(0.0, min(start, room - length))
