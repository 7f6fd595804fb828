"""Where coupons and markers go on a real board, in millimetres from its top left corner.

Coupons are spread evenly: the board is divided into equal cells, as many as it has positions, with a coupon in the
middle of each. Where a coupon would then lie on a marker, the columns are laid between the markers at the left and
those at the right instead, or the rows between the upper and the lower ones, or both; whichever of these fits first.
A marker needs one of its cells (a sixth of its side) in white around it to be found in a photo (common practice).
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from rustboard.board.layout import Layout
from rustboard.board.model import Board, Marker, Outline
from rustboard.board.outline import bounds
from rustboard.board.plan_rules import RANGES
from rustboard.board.position import Position
from rustboard.support.problems import InputError

CELLS_ACROSS_MARKER: Final = 6
"""Black and white squares along a marker's side, its black frame included: 4 x 4 and the frame."""

FROM_EDGE_MM: Final = 3.0
"""Between the board's edge and a marker's white margin, for saws and frames (our own choice)."""

SMALLEST_SIDE_MM: Final = 2.0
"""Of a coupon that can be set out; its outline must still enclose something when its corners are rounded."""

_DECIMALS: Final = 3
_NOTHING_MM: Final = 0.001
_CORNERS: Final = 4


@dataclass(frozen=True, slots=True)
class _Box:
    left: float
    top: float
    right: float
    bottom: float

    def overlaps(self, other: _Box) -> bool:
        """Return whether the two share more than an edge (a thousandth of a millimetre is none)."""
        across = min(self.right, other.right) - max(self.left, other.left)
        down = min(self.bottom, other.bottom) - max(self.top, other.top)
        return across > _NOTHING_MM and down > _NOTHING_MM

    def outline(self) -> Outline:
        """Return the corners, clockwise from top left."""
        return (
            (self.left, self.top), (self.right, self.top), (self.right, self.bottom), (self.left, self.bottom),
        )  # fmt: skip


def setting_out(board: Board, layout: Layout, markers: Sequence[Marker]) -> dict[Position, Outline]:
    """Return the outline of a coupon at every position of the grid, row by row.

    Raises:
        InputError: the size of board or coupons is not given, or they do not fit; the sentence says what does.
    """
    _refuse_unknown_sizes(board, layout)
    zones = [_zone(each) for each in markers]
    areas = [each for each in _areas(board, zones) if each.right > each.left and each.bottom > each.top]
    for area in areas:
        boxes = _boxes(area, board, layout)
        if boxes and not any(box.overlaps(zone) for box in boxes.values() for zone in zones):
            return {position: box.outline() for position, box in boxes.items()}
    raise _too_large(board, layout, areas, bool(markers))


def corner_markers(board: Board, size_mm: float) -> tuple[Marker, ...]:
    """Return markers 0 to 3, clockwise from top left, in the corners of the board.

    Raises:
        InputError: the board's size is not given, or such markers cannot be or do not fit.
    """
    _refuse_unknown_board(board)
    low, high, _ = RANGES["size_mm"]
    if not low <= size_mm <= high:  # not in range either: NaN
        raise InputError(f"The side of a marker is from {low:,.0f} to {high:,.0f} mm.")
    most = (min(board.width_mm, board.height_mm) / 2 - FROM_EDGE_MM) / (1 + 2 / CELLS_ACROSS_MARKER)
    if size_mm > most:
        largest = _floored(most)
        help_text = f"the largest have {largest:g} mm" if largest >= low else "the board is too small for markers"
        raise InputError(f"Four markers of {size_mm:g} mm do not fit into the board's corners; {help_text}.")
    inset = rim_mm(size_mm) + size_mm / 2
    left, top = round(inset, _DECIMALS), round(inset, _DECIMALS)
    right, bottom = round(board.width_mm - inset, _DECIMALS), round(board.height_mm - inset, _DECIMALS)
    centres = ((left, top), (right, top), (right, bottom), (left, bottom))
    return tuple(Marker(number, centre, size_mm) for number, centre in enumerate(centres))


def rim_mm(size_mm: float) -> float:
    """Return the white on every side of a marker placed in a corner: one of its cells, and the way to the edge.

    The printed piece that is cut out with a marker has the same rim, so it fits into the corner.
    """
    return size_mm / CELLS_ACROSS_MARKER + FROM_EDGE_MM


def on_a_marker(outline: Outline, markers: Iterable[Marker]) -> bool:
    """Return whether the bounding box of a coupon reaches over a marker or the white around it."""
    if not outline:
        return False
    box = _Box(*bounds(outline))
    return any(box.overlaps(_zone(each)) for each in markers)


def was_set_out(outline: Outline, layout: Layout) -> bool:
    """Return whether an outline looks like one set out here: an upright rectangle of the coupons' size."""
    if len(outline) != _CORNERS:
        return False
    box = _Box(*bounds(outline))
    beside_size = (box.right - box.left - layout.coupon_width_mm, box.bottom - box.top - layout.coupon_height_mm)
    corners = all(x in (box.left, box.right) and y in (box.top, box.bottom) for x, y in outline)
    return corners and len(set(outline)) == len(outline) and max(map(abs, beside_size)) < 2 * _NOTHING_MM


def _refuse_unknown_board(board: Board) -> None:
    if not (board.width_mm and board.height_mm):
        raise InputError("The size of the board is not given; enter its width and height in mm first.")


def _refuse_unknown_sizes(board: Board, layout: Layout) -> None:
    _refuse_unknown_board(board)
    if not (layout.coupon_width_mm and layout.coupon_height_mm):
        raise InputError("The size of the coupons is not given; enter their width and height in mm first.")
    if min(layout.coupon_width_mm, layout.coupon_height_mm) < SMALLEST_SIDE_MM:
        raise InputError(f"Coupons that are set out are at least {SMALLEST_SIDE_MM:g} mm wide and high.")


def _zone(marker: Marker) -> _Box:
    """Return a marker with the white around it."""
    reach = marker.size_mm * (0.5 + 1 / CELLS_ACROSS_MARKER)
    x, y = marker.centre_mm
    return _Box(x - reach, y - reach, x + reach, y + reach)


def _areas(board: Board, zones: Sequence[_Box]) -> list[_Box]:
    """Return what of the board coupons may be spread over, in the order in which it is tried."""
    width, height = board.width_mm, board.height_mm
    left = max((each.right for each in zones if each.left + each.right < width), default=0.0)
    right = min((each.left for each in zones if each.left + each.right >= width), default=width)
    top = max((each.bottom for each in zones if each.top + each.bottom < height), default=0.0)
    bottom = min((each.top for each in zones if each.top + each.bottom >= height), default=height)
    return [
        _Box(0, 0, width, height),
        _Box(left, 0, right, height),
        _Box(0, top, width, bottom),
        _Box(left, top, right, bottom),
    ]


def _cell(area: _Box, board: Board) -> tuple[float, float]:
    return (area.right - area.left) / board.columns, (area.bottom - area.top) / board.rows


def _boxes(area: _Box, board: Board, layout: Layout) -> dict[Position, _Box]:
    """Return the boxes of all coupons; none when they are larger than a cell of this area."""
    across, down = _cell(area, board)
    width, height = layout.coupon_width_mm, layout.coupon_height_mm
    slack = _NOTHING_MM / 2  # sizes such as a third of the board's width cannot be given exactly
    if width > across + slack or height > down + slack:
        return {}
    boxes = {}
    for row in range(board.rows):
        for column in range(board.columns):
            left = _started(area.left + (column + 0.5) * across, width, board.width_mm)
            top = _started(area.top + (row + 0.5) * down, height, board.height_mm)
            right = min(round(left + width, 6), board.width_mm)
            bottom = min(round(top + height, 6), board.height_mm)
            boxes[Position(row, column)] = _Box(left, top, right, bottom)
    return boxes


def _started(middle: float, length: float, most: float) -> float:
    return max(0.0, min(round(middle - length / 2, _DECIMALS), most - length))


def _too_large(board: Board, layout: Layout, areas: Sequence[_Box], marked: bool) -> InputError:
    width, height = layout.coupon_width_mm, layout.coupon_height_mm
    # With markers only areas beside all of them are sure to be free; of those the one that is least too small.
    sure = areas[1:] if marked else areas
    cells = [_cell(each, board) for each in sure]
    nearest = max(cells, key=lambda cell: min(cell[0] / width, cell[1] / height), default=(0.0, 0.0))
    what = f"{board.rows} x {board.columns} coupons of {width:g} x {height:g} mm do not fit on the board"
    beside = " beside its markers" if marked else ""
    across, down = map(_floored, nearest)
    if min(across, down) < SMALLEST_SIDE_MM:
        mend = "make the markers smaller" if marked else "check the size of the board"
        return InputError(f"{what}{beside}, and no smaller ones do; {mend}.")
    return InputError(f"{what}{beside}; the largest that do are {across:g} x {down:g} mm.")


def _floored(length: float) -> float:
    return math.floor(length * 10) / 10
