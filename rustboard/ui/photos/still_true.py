"""What of a run of measuring still holds when it comes back: meanwhile the board may have become another."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from rustboard.board.model import Photo
from rustboard.board.record import BoardRecord

if TYPE_CHECKING:
    from rustboard.session.measuring import MeasureResult


def still_true(before: BoardRecord, now: BoardRecord, result: MeasureResult) -> MeasureResult:
    """Return what was found without what is about photos and coupons that are gone, placed or painted otherwise.

    Args:
        before: the board as it was measured.
        now: the board as it is.
        result: what was found on the former.
    """
    same = {key for key, photo in now.photos.items() if key in before.photos and _is_same(photo, before.photos[key])}
    coupons = now.coupons.keys() - painted_meanwhile(before, now)
    return replace(
        result,
        placings=tuple(each for each in result.placings if each.photo in same),
        measurements=tuple(each for each in result.measurements if each.photo in same and each.coupon in coupons),
    )


def painted_meanwhile(before: BoardRecord, now: BoardRecord) -> frozenset[int]:
    """Return the coupons, by key, whose strokes of the brush are others now."""
    changed = before.strokes.items() ^ now.strokes.items()
    return frozenset(stroke.coupon for _, stroke in changed if stroke.coupon in now.coupons)


def _is_same(photo: Photo, before: Photo) -> bool:
    """Return whether a photo is the one that was measured, and the board is where it was in it."""
    return all(getattr(photo, each) == getattr(before, each) for each in ("sha256", "mm_to_px", "lens", "placed_by"))
