"""Which coupons are measured, and on which grids: from the record, the same at every run."""

from __future__ import annotations

from dataclasses import replace
from math import ceil, sqrt
from typing import TYPE_CHECKING, Final

from rustboard.board.model import Board, Coupon, Outline, Photo
from rustboard.board.outline import bounds, outline_fault
from rustboard.board.record import BoardRecord
from rustboard.session.photo_days import photos_in_order
from rustboard.session.photo_files import placement_of
from rustboard.support.problems import InputError

if TYPE_CHECKING:
    from rustboard.photo.looks import CouponFrame

_SHOWN_PER_MM: Final = 5.0
_MOST_SHOWN_PIXELS: Final = 24_000_000
_ANY_BOARD: Final = Board("", 1, 1)


def first_placed(record: BoardRecord) -> Photo | None:
    """Return the earliest photo in which the board was found: it decides how fine the grids are."""
    return next((each for each in photos_in_order(record) if each.mm_to_px is not None), None)


def frames_of(record: BoardRecord, first: Photo) -> dict[int, CouponFrame]:
    """Return the grid of every coupon that hangs on the board and has an outline, by its key.

    Args:
        record: the board.
        first: the photo that decides how fine the grids are (`first_placed`).
    """
    from rustboard.photo.cutting import grid_scale
    from rustboard.photo.looks import CouponFrame

    placement = placement_of(first)
    frames: dict[int, CouponFrame] = {}
    for coupon in record.coupons_in_order():
        if coupon.position is None or not coupon.outline_mm or placement is None:
            continue
        if outline_fault(coupon.outline_mm, _ANY_BOARD):  # no way of drawing one gives it: the file was altered
            continue
        try:
            scale = grid_scale(placement, coupon.outline_mm)
        except InputError:  # it hangs where that photo shows no board
            continue
        frames[coupon.key] = CouponFrame(
            coupon.key,
            coupon.id,
            coupon.outline_mm,
            scale,
            excluded_on_board(record, coupon),
            record.board.edge_margin_mm,
        )
    return frames


def shown_frame(frame: CouponFrame) -> CouponFrame:
    """Return the grid a coupon is shown on: as fine as the photo and an eye, where measuring makes do with less.

    A whole number of its pixels goes into one of the grid that is measured.
    """
    height, width = frame.shape
    affordable = int(sqrt(_MOST_SHOWN_PIXELS / (height * width)))
    finer = max(1, min(affordable, max(2, ceil(_SHOWN_PER_MM / frame.pixels_per_mm - 1e-6))))
    return replace(frame, pixels_per_mm=frame.pixels_per_mm * finer)


def excluded_on_board(record: BoardRecord, coupon: Coupon) -> tuple[Outline, ...]:
    """Return the areas of a coupon that do not count, in board millimetres."""
    if not coupon.outline_mm:
        return ()
    left, top, _, _ = bounds(coupon.outline_mm)
    return tuple(
        tuple((x + left, y + top) for x, y in each.outline_mm)
        for each in record.excluded_areas.values()
        if each.coupon == coupon.key
    )
