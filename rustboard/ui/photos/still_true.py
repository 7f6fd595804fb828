"""What of a run of measuring still holds when it comes back: meanwhile the board may have become another."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from rustboard.board.measured import JUDGED_BY
from rustboard.board.model import Photo
from rustboard.board.record import BoardRecord
from rustboard.session.measuring_plan import disturbances_of

if TYPE_CHECKING:
    from rustboard.session.measuring import MeasureResult


def still_true(before: BoardRecord, now: BoardRecord, result: MeasureResult) -> MeasureResult:
    """Return what was found without what is about photos and coupons that are gone or otherwise now.

    Args:
        before: the board as it was measured.
        now: the board as it is.
        result: what was found on the former.
    """
    same = {key for key, photo in now.photos.items() if key in before.photos and _is_same(photo, before.photos[key])}
    coupons = now.coupons.keys() - painted_meanwhile(before, now) - reshaped_meanwhile(before, now)
    return replace(
        result,
        placings=tuple(each for each in result.placings if each.photo in same),
        measurements=tuple(each for each in result.measurements if each.photo in same and each.coupon in coupons),
    )


def reshaped_meanwhile(before: BoardRecord, now: BoardRecord) -> frozenset[int]:
    """Return the coupons, by key, of which something else counts now, or of which the day log says something else."""
    return frozenset(
        key for key in now.coupons if key in before.coupons and _measured_by(before, key) != _measured_by(now, key)
    )


def _measured_by(record: BoardRecord, key: int) -> tuple[object, ...]:
    coupon = record.coupons[key]
    areas = [each.outline_mm for each in record.excluded_areas.values() if each.coupon == key]
    happened = [(each.at, each.kind) for each in disturbances_of(record, key) if each.kind in JUDGED_BY]
    return (coupon.outline_mm, coupon.position is None, areas, record.board.edge_margin_mm, happened)


def painted_meanwhile(before: BoardRecord, now: BoardRecord) -> frozenset[int]:
    """Return the coupons, by key, whose strokes of the brush are others now."""
    changed = before.strokes.items() ^ now.strokes.items()
    return frozenset(stroke.coupon for _, stroke in changed if stroke.coupon in now.coupons)


def _is_same(photo: Photo, before: Photo) -> bool:
    """Return whether a photo is the one that was measured, and the board is where it was in it."""
    return all(getattr(photo, each) == getattr(before, each) for each in ("sha256", "mm_to_px", "lens", "placed_by"))
