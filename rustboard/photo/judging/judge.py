"""One coupon over all its photos: findings and masks, every photo judged in the light of the later ones."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import Enum
from typing import Final

import numpy as np

from rustboard.photo.judging.masks import Masks, pack, unpack
from rustboard.photo.judging.ranges import MOST_UNSEEN, Areas, is_confident, is_unproved, never_falling, range_of
from rustboard.photo.judging.read_back import Seen, read_back
from rustboard.photo.judging.series import Stretch
from rustboard.photo.judging.spots import letter_of, resolvable_percent
from rustboard.photo.judging.strokes import Painted, Stroke, painted
from rustboard.photo.looks import CouponFinding, CouponFrame, Evidence, Mask

_PARTLY_HIDDEN: Final = 0.03
_DRAWN_WEIGHT: Final = 100.0
_DOUBTED_WEIGHT: Final = 0.1


class Disturbance(Enum):
    """What was done, as far as it matters for rust.

    After a touch, what has gone may have been rubbed off and is no proof of dirt. After debris was cleared it is.
    """

    CLEANED = "cleaned"
    REPLACED = "replaced"
    TOUCHED = "touched"
    CLEARED = "debris cleared"
    MOVED = "board moved"


_STARTS_ANEW: Final = frozenset({Disturbance.CLEANED, Disturbance.REPLACED})


@dataclass(frozen=True, slots=True)
class Reset:
    """What the day log says was done to a coupon or the board, and when, in days on the same clock as the looks."""

    days: float
    what: Disturbance


@dataclass(frozen=True, slots=True, eq=False)
class Look:
    """One coupon in one photo.

    Attributes:
        days: when it was taken, in days since any fixed moment.
        evidence: None if the coupon is not in the photo.
        pixels_per_mm: of the photo, where the coupon is.
        blur_px: standard deviation of the photo's blur in its pixels; 0 not known.
        strokes: what a person drew on this photo.
    """

    days: float
    evidence: Evidence | None
    pixels_per_mm: float
    blur_px: float = 0.0
    strokes: tuple[Stroke, ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class Judged:
    """What is on one coupon in one photo, in numbers and as masks (packed, as caches keep them)."""

    finding: CouponFinding
    packed: bytes

    @property
    def masks(self) -> Masks:
        """The masks, H x W on the coupon's grid."""
        return unpack(self.packed)


@dataclass(frozen=True, slots=True, eq=False)
class _Part:
    """The smallest box of the grid that holds the significant surface, and the surface within it."""

    rows: slice
    columns: slice
    surface: Mask
    grid: tuple[int, int]

    def cut(self, plane: Mask) -> Mask:
        return plane[self.rows, self.columns]

    def whole(self, plane: Mask) -> Mask:
        grid = np.zeros(self.grid, np.bool_)
        grid[self.rows, self.columns] = plane
        return grid


@dataclass(slots=True, eq=False)
class _About:
    """What is remembered of a look besides its evidence, which is not kept."""

    days: float
    pixels_per_mm: float
    blur_px: float
    missing: bool
    drawn: Painted | None


def judge_coupon(
    looks: Iterable[Look], surface: Mask, frame: CouponFrame, resets: Sequence[Reset] = ()
) -> list[Judged]:
    """Return what is on a coupon in each of its photos, all photos judged together.

    The looks are gone through once, so that they may be read one by one as they are asked for.

    Args:
        looks: in the order of time.
        surface: H x W on the coupon's grid, the significant surface.
        frame: the coupon and its grid.
        resets: what the day log says was done to this coupon or the whole board, in any order.
    """
    if not surface.any():
        return [_nothing(frame.shape) for _ in looks]
    part = _part(surface)
    judged: list[Judged] = []
    stretch, abouts = Stretch(part.surface), list[_About]()
    for look in looks:
        done = [reset.what for reset in resets if abouts and abouts[-1].days < reset.days <= look.days]
        if _STARTS_ANEW.intersection(done):
            judged += _finished(stretch, abouts, part, frame)
            stretch, abouts = Stretch(part.surface), []
        drawn = _drawn(look.strokes, frame, part)
        if look.evidence is None:
            stretch.skip()
        else:
            cut = _cut(look.evidence, part)
            stretch.add(cut, touched=Disturbance.TOUCHED in done, drawn=drawn)
        abouts.append(_About(look.days, look.pixels_per_mm, look.blur_px, look.evidence is None, drawn))
    return judged + _finished(stretch, abouts, part, frame)


def _finished(stretch: Stretch, abouts: list[_About], part: _Part, frame: CouponFrame) -> list[Judged]:
    """Return the answers for one stretch."""
    if not abouts:
        return []
    drawn = [about.drawn for about in abouts]
    seen = read_back(stretch, [about.days for about in abouts], drawn, frame.pixels_per_mm, part.whole)
    areas = [_areas(each, about, part, frame) for each, about in zip(seen, abouts, strict=True)]
    weights = [
        _DRAWN_WEIGHT if about.drawn else max(_DOUBTED_WEIGHT, (1 - area.unknown_share) * (1 - each.missed) ** 2)
        for each, about, area in zip(seen, abouts, areas, strict=True)
    ]
    percents = never_falling([area.percent for area in areas], weights)
    last = len(seen) - 1
    return [
        _judged(seen[place], abouts[place], areas[place], percents[place], part, frame, newest=place == last)
        for place in range(len(seen))
    ]


def _areas(seen: Seen, about: _About, part: _Part, frame: CouponFrame) -> Areas:
    counted = float(np.count_nonzero(part.surface))
    scale = frame.pixels_per_mm
    least = resolvable_percent(counted / scale**2, about.pixels_per_mm, about.blur_px)
    return Areas(
        surface=counted,
        rust=seen.rust_px,
        weak=seen.weak_px,
        fresh=seen.fresh_px,
        suspect=seen.suspect_px,
        loose=seen.loose_px,
        unknown=counted if about.missing else seen.unknown_px,
        never=seen.never_px,
        grown=seen.grown,
        rim=seen.spots.rim_mm * scale,
        photo_pixel=scale / about.pixels_per_mm if about.pixels_per_mm > 0 else 1.0,
        resolvable=least / 100 * counted,
    )


def _judged(
    seen: Seen, about: _About, areas: Areas, percent: float, part: _Part, frame: CouponFrame, *, newest: bool
) -> Judged:
    low, high = range_of(areas, percent)
    unseen = 100.0 if about.missing else 100 * seen.unseen_px / areas.surface
    finding = CouponFinding(
        percent=percent,
        low=low,
        high=high,
        spots=seen.spots.count,
        largest_mm2=seen.spots.largest_mm2,
        distribution=letter_of(seen.spots, percent),
        debris_percent=100 * seen.debris_px / areas.surface,
        unseen_percent=unseen,
        resolvable_percent=100 * areas.resolvable / areas.surface,
        confident=not about.missing and not seen.contradicts and is_confident(areas, low, high),
        newest=newest,
        warnings=_warnings(seen, about, areas, newest=newest),
    )
    return Judged(finding, seen.packed)


def _warnings(seen: Seen, about: _About, areas: Areas, *, newest: bool) -> tuple[str, ...]:
    if about.missing:
        return ("the coupon is not in this photo",)
    told = []
    if areas.unknown_share > MOST_UNSEEN:
        told.append("a large part of this coupon could not be seen")
    elif areas.unknown_share > _PARTLY_HIDDEN:
        told.append("part of this coupon could not be seen")
    if areas.suspect > areas.resolvable:
        told.append(
            "a large patch came at once and alone and was not counted, because it looks like something that lies on "
            "the coupon; later photos will tell whether it stays"
        )
    if newest and is_unproved(areas):
        told.append("new since the last photo; a later photo will tell whether it stays")
    if seen.contradicts:
        told.append(
            "most of the earlier rust does not show in this photo; if the coupon was cleaned or replaced, say so in "
            "the day log"
        )
    return tuple(told)


def _nothing(shape: tuple[int, int]) -> Judged:
    none = np.zeros(shape, np.bool_)
    warning = "nothing of this coupon counts; make its outline larger or its edge margin smaller"
    finding = CouponFinding(0.0, 0.0, 100.0, 0, 0.0, "", 0.0, 0.0, 100.0, False, False, (warning,))
    return Judged(finding, pack(Masks(none, none, none)))


def _part(surface: Mask) -> _Part:
    rows, columns = np.flatnonzero(surface.any(axis=1)), np.flatnonzero(surface.any(axis=0))
    down, right = slice(int(rows[0]), int(rows[-1]) + 1), slice(int(columns[0]), int(columns[-1]) + 1)
    return _Part(down, right, np.ascontiguousarray(surface[down, right]), (surface.shape[0], surface.shape[1]))


def _cut(evidence: Evidence, part: _Part) -> Evidence:
    rows, columns = part.rows, part.columns
    return Evidence(
        evidence.rust[rows, columns],
        evidence.cover[rows, columns],
        evidence.foreign[rows, columns] & part.surface,
        evidence.unseen[rows, columns] & part.surface,
    )


def _drawn(strokes: Sequence[Stroke], frame: CouponFrame, part: _Part) -> Painted | None:
    if not strokes:
        return None
    drawn = painted(strokes, frame)
    return Painted(part.cut(drawn.added) & part.surface, part.cut(drawn.removed) & part.surface)
