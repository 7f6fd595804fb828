"""What measuring has to do: which photos and coupons still need it, and by what each is measured."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from functools import lru_cache
from typing import TYPE_CHECKING, Final

from rustboard.board.measured import (
    FIRST_IS_AWAY,
    JUDGED_BY,
    PART_DIGITS,
    STARTS_ANEW,
    Disturbance,
    Measurement,
    PhotoPlacing,
    Stroke,
)
from rustboard.board.model import Photo
from rustboard.board.record import BoardRecord
from rustboard.session.measuring_cache import hash_of
from rustboard.session.photo_days import photos_in_order, time_of

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


def coupon_settings(
    algorithm: int, frame: CouponFrame, disturbances: Sequence[Disturbance], times: Sequence[datetime]
) -> str:
    """Return a hash of what says how a coupon is measured in all its photos: of its shape and of the day log.

    Args:
        algorithm: version of the method.
        frame: the coupon and its grid.
        disturbances: the day log's entries about it.
        times: of the photos that show the board, rising; what happened before the first or after the last of them
            has no say.
    """
    shape = (frame.coupon, frame.outline_mm, frame.excluded_mm, frame.margin_mm)
    happened = [
        (each.at, each.kind)
        for each in disturbances
        if each.kind in JUDGED_BY and times and times[0] < each.at <= times[-1]
    ]
    return _part((algorithm, *shape)) + _part(happened)


def settings_of(coupon: str, scale: float, neighbours: Neighbours | None, strokes: Sequence[Stroke]) -> str:
    """Return a hash (`SETTINGS_DIGITS` digits) of what says how a coupon is measured in one photo, its pixels apart.

    Args:
        coupon: from `coupon_settings`.
        scale: pixels a millimetre of its grid, which the first photo decides.
        neighbours: photos whose order has changed, or that a person has placed otherwise, are judged anew.
        strokes: of the brush on it in this photo.
    """
    return coupon + _order_part(scale, neighbours) + _strokes_part(tuple(strokes))


def _part(values: object) -> str:
    return hash_of((values,))[:PART_DIGITS]


@lru_cache(maxsize=4_000)
def _order_part(scale: float, neighbours: Neighbours | None) -> str:
    return _part((scale, "" if neighbours is None else (neighbours.before, neighbours.tapped)))


@lru_cache(maxsize=100)
def _strokes_part(strokes: tuple[Stroke, ...]) -> str:
    return _part([(each.adds, each.radius_mm, each.points_mm) for each in strokes])


@dataclass(frozen=True, slots=True)
class Neighbours:
    """What stands beside a photo in its stretch.

    Attributes:
        before: SHA-256 of the photo before it, empty for the first.
        last: whether none follows.
        tapped: where a person has placed the board in it; empty where the program found it.
    """

    before: str
    last: bool
    tapped: tuple[float, ...] = ()


def photos_showing(record: BoardRecord, placings: Mapping[int, PhotoPlacing]) -> tuple[list[Photo], list[datetime]]:
    """Return the photos that show the board, and their times, rising.

    Those whose file is missing belong to them, so that nothing is judged anew for a file that is away for a while.

    Args:
        record: the board.
        placings: by photo, what has been found since.
    """
    photos, times = [], []
    for photo in photos_in_order(record):
        when, placing = time_of(record, photo), placings.get(photo.key)
        if when is not None and (placing or photo).mm_to_px is not None:
            photos.append(photo)
            times.append(when)
    return photos, times


def neighbours_of(
    disturbances: Sequence[Disturbance], photos: Sequence[Photo], times: Sequence[datetime]
) -> dict[int, Neighbours]:
    """Return what stands beside each photo, by its key.

    Args:
        disturbances: of the coupon.
        photos: that show the board, by time.
        times: theirs.
    """
    starts = stretch_starts(disturbances, times)
    found: dict[int, Neighbours] = {}
    for place, photo in enumerate(photos):
        before = "" if starts[place] == place else photos[place - 1].sha256
        last = place + 1 == len(photos) or starts[place + 1] == place + 1
        by_hand = photo.placed_by in ("corners", "given") and photo.mm_to_px is not None
        tapped = (*photo.mm_to_px, photo.lens) if by_hand and photo.mm_to_px is not None else ()
        found[photo.key] = Neighbours(before, last, tapped)
    return found


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


def firsts_of(
    disturbances: Sequence[Disturbance], photos: Sequence[Photo], times: Sequence[datetime]
) -> dict[int, Photo]:
    """Return the photo with which each photo's stretch begins, by key; the arguments are those of `neighbours_of`."""
    starts = stretch_starts(disturbances, times)
    return {photo.key: photos[start] for photo, start in zip(photos, starts, strict=True)}


def is_settled(found: Measurement | None, settings: str, neighbours: Neighbours | None, *, alone: bool) -> bool:
    """Return whether a coupon was measured in a photo by these very settings, among these very photos.

    Args:
        found: what was measured.
        settings: from `settings_of`.
        neighbours: among all photos.
        alone: whether no later photo of its stretch can be read now, though there may be one.
    """
    if found is None or neighbours is None:
        return False
    # What could not be measured says nothing that a later photo might confirm.
    follows = found.percent is None or found.newest == neighbours.last or (found.newest and alone)
    return follows and found.inputs.startswith(settings)


def is_told_of_first(found: Measurement | None) -> bool:
    """Return whether a figure says that the coupon's first photo was away when it was measured."""
    return found is not None and any(each.startswith(FIRST_IS_AWAY) for each in found.warnings)
