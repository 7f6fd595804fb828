"""What is painted over a photo once it is known where it shows the board: outlines of coupons, grid, edge."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from rustboard.board.measured import PLACED_BY, PhotoPlacing, PlacedBy
from rustboard.board.model import Outline, Photo
from rustboard.board.record import BoardRecord
from rustboard.session.pictures import outline_on_board
from rustboard.support.problems import InputError

if TYPE_CHECKING:
    from rustboard.photo.placement import Placement

_PARTS: Final = 6  # of a straight line, which a lens bends


@dataclass(frozen=True, slots=True)
class Overlay:
    """Lines over a photo, in its pixels.

    Attributes:
        coupons: closed outlines. grid: open lines between the positions. edge: the board's closed edge.
    """

    coupons: tuple[Outline, ...] = ()
    grid: tuple[Outline, ...] = ()
    edge: Outline = ()


def placing_of(photo: Photo) -> PhotoPlacing:
    """Return how a photo is placed now."""
    by: PlacedBy = next((each for each in PLACED_BY if each == photo.placed_by), "given")
    return PhotoPlacing(photo.key, photo.mm_to_px, photo.lens, by, photo.placing_error_px, photo.unplaced_because)


def placement_in(photo: Photo, placing: PhotoPlacing) -> Placement | None:
    """Return a placing as the way from millimetres to pixels, or None when the board was not found."""
    if placing.mm_to_px is None:
        return None
    from rustboard.photo.placement import Placement

    return Placement(placing.mm_to_px, (photo.width_px, photo.height_px), placing.lens)


def corners_in(photo: Photo, record: BoardRecord, placing: PhotoPlacing) -> Outline:
    """Return where a placing has the board's corners, clockwise from top left; nothing when it cannot tell."""
    placement, board = placement_in(photo, placing), record.board
    if placement is None or not (board.width_mm and board.height_mm):
        return ()
    return _shown(placement, _box(board.width_mm, board.height_mm))


def overlay_of(record: BoardRecord, photo: Photo, placing: PhotoPlacing) -> Overlay:
    """Return the lines of a placing; none where the board was not found or has no size."""
    placement, board = placement_in(photo, placing), record.board
    if placement is None or not (board.width_mm and board.height_mm):
        return Overlay()
    wide, high = board.width_mm, board.height_mm
    outlines = [outline_on_board(record, each) for each in record.coupons.values()]
    across = [wide * number / board.columns for number in range(1, board.columns)]
    down = [high * number / board.rows for number in range(1, board.rows)]
    lines = [_line((x, 0.0), (x, high)) for x in across] + [_line((0.0, y), (wide, y)) for y in down]
    corners = _box(wide, high)
    edge = tuple(
        point for start, end in zip(corners, corners[1:] + corners[:1], strict=True) for point in _line(start, end)
    )
    return Overlay(
        tuple(shown for each in outlines if len(each) >= 3 and (shown := _shown(placement, each))),
        tuple(shown for each in lines if (shown := _shown(placement, each))),
        _shown(placement, edge),
    )


def _box(wide: float, high: float) -> Outline:
    return ((0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high))


def _line(start: tuple[float, float], end: tuple[float, float]) -> Outline:
    shares = [number / _PARTS for number in range(_PARTS + 1)]
    return tuple((start[0] + (end[0] - start[0]) * s, start[1] + (end[1] - start[1]) * s) for s in shares)


def _shown(placement: Placement, points: Outline) -> Outline:
    try:
        return tuple((float(x), float(y)) for x, y in placement.to_px(points))
    except InputError:  # beyond the horizon, while corners are still being moved
        return ()
