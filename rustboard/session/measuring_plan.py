"""What measuring has to do: which photos and coupons still need it, and by what each is measured."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING, Final

from rustboard.board.measured import SETTINGS_DIGITS, STARTS_ANEW, Disturbance, Measurement, Stroke
from rustboard.board.model import Photo
from rustboard.board.record import BoardRecord
from rustboard.session.measuring_cache import hash_of

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from rustboard.photo.looks import CouponFrame

NEVER: Final = datetime.min


def disturbances_of(record: BoardRecord, coupon: int) -> list[Disturbance]:
    """Return the day log's entries about a coupon or the whole board, by time."""
    found = [each for each in record.disturbances.values() if each.coupon in (None, coupon)]
    return sorted(found, key=lambda each: (each.at, each.key))


def strokes_by_place(record: BoardRecord) -> dict[tuple[int, int], tuple[Stroke, ...]]:
    """Return the strokes of the brush by photo and coupon, in the order in which they were drawn."""
    found: dict[tuple[int, int], list[Stroke]] = {}
    for key in sorted(record.strokes):
        stroke = record.strokes[key]
        found.setdefault((stroke.photo, stroke.coupon), []).append(stroke)
    return {place: tuple(strokes) for place, strokes in found.items()}


def coupon_settings(algorithm: int, frame: CouponFrame, disturbances: Sequence[Disturbance]) -> str:
    """Return a hash of what says how a coupon is measured in all its photos."""
    happened = [(each.at, each.kind) for each in disturbances]
    return hash_of((algorithm, frame, happened))


def settings_of(coupon: str, strokes: Sequence[Stroke]) -> str:
    """Return a hash (`SETTINGS_DIGITS` digits) of what says how a coupon is measured in one photo, its pixels apart.

    Args:
        coupon: from `coupon_settings`.
        strokes: of the brush on it in this photo.
    """
    if not strokes:
        return coupon[:SETTINGS_DIGITS]
    drawn = [(each.adds, each.radius_mm, each.points_mm) for each in strokes]
    return hash_of((coupon, drawn))[:SETTINGS_DIGITS]


def stretch_starts(disturbances: Sequence[Disturbance], times: Sequence[datetime]) -> list[int]:
    """Return, for every photo, the place of the photo with which its stretch begins.

    A coupon that was cleaned or replaced begins anew with the next photo.

    Args:
        disturbances: of the coupon.
        times: of the photos, rising.
    """
    anew = sorted(each.at for each in disturbances if each.kind in STARTS_ANEW)
    starts: list[int] = []
    for place, when in enumerate(times):
        before = times[place - 1] if place else NEVER
        begins = place == 0 or any(before < at <= when for at in anew)
        starts.append(place if begins else starts[-1])
    return starts


def is_settled(measured: Mapping[int, Mapping[int, Measurement]], photo: Photo, coupon: int, settings: str) -> bool:
    """Return whether a coupon was measured in a photo by these very settings."""
    found = measured.get(photo.key, {}).get(coupon)
    return found is not None and found.inputs.startswith(settings)
