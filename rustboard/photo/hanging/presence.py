"""Is the coupon there at all, and is it the one the record has there?

A missing coupon is noticed by what is inside its outline going on as the board around it does, without an edge. A
swapped one is noticed by its lasting marks (lettering, hole, scratches, stains of its finish): they do not agree with
its own first picture but clearly with another coupon's. Whatever is doubtful stays `unsure`: a false alarm would cost
more trust than a miss.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import Final, Literal

import cv2
import numpy as np
from numpy.typing import NDArray

from rustboard.photo.cutting import inside
from rustboard.photo.hanging.profiles import LOG_LIGHT, Singles, log_colours
from rustboard.photo.looks import CouponFrame, Mask, Rgb

State = Literal["there", "missing", "other", "unsure"]

COARSE: Final = 1.5
"""Pixels a millimetre by which marks are compared."""
_BLOCK_MM: Final = 4.0
_INNER_MM: Final = 2.0
_OUTER_MM: Final = 3.0
_BROAD_MM: Final = 8.0  # light and rust change over more than this, lettering over less
_MOST_SHARE: Final = 0.3  # more edge than this is hardly the board's own grain
_EVER_SHARE: Final = 0.45
_STOOD_OUT: Final = 3.0
_GOES_ON: Final = 1.2
_CLEARLY_GOES_ON: Final = 0.65
_LEAST_SPREAD: Final = 0.04
_LEAST_BLOCKS: Final = 4

_MATCHES: Final = 0.4
_NO_MATCH: Final = 0.12
_LEAD: Final = 0.3
_LEAST_PIXELS: Final = 300
_SAMPLE: Final = 3  # every third pixel tells well enough how far marks usually stand out
_ALIKE_SIZE: Final = 0.06


@dataclass(frozen=True, slots=True)
class Presence:
    """What a photo says of a coupon being there.

    Attributes:
        why: one sentence for people; empty when it is there.
        whose: key of the coupon that seems to hang there, for ``other``.
    """

    state: State
    why: str = ""
    whose: int | None = None


@dataclass(frozen=True, eq=False)
class FirstLook:
    """A coupon's grid and its picture on it from when it was known to hang there (day zero)."""

    frame: CouponFrame
    rgb: Rgb

    @cached_property
    def marks(self) -> Singles:
        """The coupon's marks as a photo is compared with that shows all of it."""
        size = _coarse_size(self.frame)
        return _marks(self.rgb, size, _comparable(self.frame, size), _comparable_weight(self.frame, size))


def presence(
    rgb: Rgb,
    shown: Mask,
    frame: CouponFrame,
    base: FirstLook,
    share_found: float,
    others: Mapping[int, FirstLook] | None = None,
) -> Presence:
    """Return whether the coupon hangs where the record has it.

    Args:
        rgb: the cut on the coupon's grid, or on a finer one.
        shown: the pixels of the grid that the photo shows.
        frame: the coupon.
        base: its own first look.
        share_found: of the samples along its outline, how many show an edge, see `fit.Hang`.
        others: the first looks of the board's other coupons.
    """
    if shown.mean() < 0.6:
        return Presence("unsure", "The photo shows too little of this coupon to tell whether it is there.")
    if share_found < _EVER_SHARE:
        stood_out, stands_out = _stands_out(base.rgb, np.ones_like(shown), frame), _stands_out(rgb, shown, frame)
        if stood_out is None or stands_out is None:
            return Presence(
                "unsure", "Too little of the board around this coupon is seen to tell whether it is there."
            )
        limit = _GOES_ON if share_found < _MOST_SHARE else _CLEARLY_GOES_ON
        if stood_out > _STOOD_OUT and stands_out < limit:
            return Presence("missing", "Where this coupon belongs the photo shows the board alone.")
    found = whose(rgb, shown, frame, base, others or {})
    if found is not None:
        return Presence("other", "The marks on this coupon are those of another one on the board.", found)
    if share_found < _MOST_SHARE:
        return Presence("unsure", "The edge of this coupon is hardly seen in the photo.")
    return Presence("there")


def whose(rgb: Rgb, shown: Mask, frame: CouponFrame, base: FirstLook, others: Mapping[int, FirstLook]) -> int | None:
    """Return the key of another coupon whose lasting marks are clearly these; None when they may be its own.

    Args:
        rgb: the cut on the coupon's grid, or on a finer one.
        shown: the pixels of the grid that the photo shows.
        frame: the coupon.
        base: its own first look.
        others: the other coupons' first looks; only those of nearly the same size are compared.
    """
    if not others:
        return None
    size = _coarse_size(frame)
    whole = bool(shown.all())
    valid = _comparable(frame, size) if whole else _deep_in(shown & inside(frame), size)
    if np.count_nonzero(valid) < _LEAST_PIXELS:
        return None
    weight = _comparable_weight(frame, size) if whole else _broad(valid.astype(np.float32))
    seen = _marks(rgb, size, valid, weight)
    as_it_was = base.marks if whole and base.frame == frame else _marks(base.rgb, size, valid, weight)
    own = _agreement(seen, as_it_was, valid, _NO_MATCH)
    if own > _NO_MATCH:
        return None
    alike = {key: each for key, each in others.items() if _same_size(frame, each.frame)}
    if not alike:
        return None
    scores = {key: _agreement(seen, _marks(each.rgb, size, valid, weight), valid) for key, each in alike.items()}
    key = max(scores, key=lambda each: scores[each])
    rest = max((score for each, score in scores.items() if each != key), default=0.0)
    if scores[key] >= _MATCHES and scores[key] - max(own, rest) >= _LEAD:
        return key
    return None


@lru_cache(maxsize=512)
def _comparable(frame: CouponFrame, size: tuple[int, int]) -> Mask:
    mask = _deep_in(inside(frame), size)
    mask.flags.writeable = False
    return mask


@lru_cache(maxsize=512)
def _comparable_weight(frame: CouponFrame, size: tuple[int, int]) -> Singles:
    weight = _broad(_comparable(frame, size).astype(np.float32))
    weight.flags.writeable = False
    return weight


def _deep_in(mask: Mask, size: tuple[int, int]) -> Mask:
    """Return the pixels of a small picture that lie in a mask with all their neighbours."""
    whole = _shrunk(mask.astype(np.float32), size) > 0.99
    return np.asarray(cv2.erode(whole.astype(np.uint8), np.ones((3, 3), np.uint8)), np.bool_)


def _broad(plane: Singles) -> Singles:
    """Return a plane without what changes over less than `_BROAD_MM`: its mean over a square, twice."""
    side = 2 * round((6 * (_BROAD_MM * COARSE / 2) ** 2 + 1) ** 0.5 / 2) + 1
    return np.asarray(cv2.blur(cv2.blur(plane, (side, side)), (side, side)), np.float32)


def _same_size(one: CouponFrame, other: CouponFrame) -> bool:
    sizes = [(each.box_mm[2] - each.box_mm[0], each.box_mm[3] - each.box_mm[1]) for each in (one, other)]
    (width, height), (other_width, other_height) = sizes
    return abs(other_width / width - 1) < _ALIKE_SIZE and abs(other_height / height - 1) < _ALIKE_SIZE


def _coarse_size(frame: CouponFrame) -> tuple[int, int]:
    height, width = frame.shape
    scale = min(1.0, COARSE / frame.pixels_per_mm)
    return max(8, round(width * scale)), max(8, round(height * scale))


def _shrunk(picture: NDArray[np.float32] | Rgb, size: tuple[int, int]) -> Singles:
    return np.asarray(cv2.resize(picture, size, interpolation=cv2.INTER_AREA), np.float32)


def _marks(rgb: Rgb, size: tuple[int, int], valid: Mask, weight: Singles) -> Singles:
    """Return lightness without what changes over more than `_BROAD_MM`, its outliers cut off, evenly spread.

    ``weight`` is the broad mean of ``valid``.
    """
    grey = cv2.resize(cv2.cvtColor(rgb, cv2.COLOR_RGB2GRAY), size, interpolation=cv2.INTER_AREA)
    light = np.asarray(cv2.LUT(grey, LOG_LIGHT), np.float32)
    broad = _broad(light * valid) / np.maximum(weight, np.float32(1e-3))
    fine = cv2.GaussianBlur(light, (0, 0), 0.7) - broad
    away = np.abs(fine[valid][::_SAMPLE])
    usual = max(float(np.median(away)) * 1.48, 1e-3)
    return np.asarray(np.clip(fine / usual, -4, 4), np.float32)


def _agreement(one: Singles, other: Singles, valid: Mask, enough: float = 1.0) -> float:
    """Return the correlation of two pictures' marks; the best of exact and half a millimetre aside.

    It is looked no further once one is above ``enough``.
    """
    first = one[valid] - one[valid].mean()
    best = -1.0
    for dx, dy in ((0, 0), (1, 0), (-1, 0), (0, 1), (0, -1)):
        second = (np.roll(other, (dy, dx), axis=(0, 1)) if dx or dy else other)[valid]
        second = second - second.mean()
        norm = float(np.linalg.norm(first) * np.linalg.norm(second))
        best = max(best, float(first @ second) / norm if norm > 0 else 0.0)
        if best > enough:
            break
    return best


def _stands_out(rgb: Rgb, shown: Mask, frame: CouponFrame) -> float | None:
    """Return how far the coupon's colours are from those of the board around it, in spreads of blocks; None: unseen.

    The spread is that of the board's blocks; the strongest of the three colours' directions counts.
    """
    within = inside(frame).astype(np.uint8)
    scale = frame.pixels_per_mm
    height, width = frame.shape
    if rgb.shape[:2] != (height, width):
        rgb = np.asarray(cv2.resize(rgb, (width, height), interpolation=cv2.INTER_AREA), np.uint8)
    deep = cv2.distanceTransform(np.pad(within, 1), cv2.DIST_L2, 3)[1:-1, 1:-1] > _INNER_MM * scale
    outer = cv2.distanceTransform(1 - within, cv2.DIST_L2, 3) > _OUTER_MM * scale
    size = (max(1, round(width / scale / _BLOCK_MM)), max(1, round(height / scale / _BLOCK_MM)))
    colours = log_colours(rgb)
    kinds = []
    for chosen in (deep & shown, outer & shown):
        weight = _shrunk(chosen.astype(np.float32), size)
        means = _shrunk(colours * chosen[..., None].astype(np.float32), size) / np.maximum(weight, 1e-6)[..., None]
        kinds.append(means[weight > 0.25])
    coupon, board = kinds
    if min(len(coupon), len(board)) < _LEAST_BLOCKS:
        return None
    middle = np.median(board, axis=0)
    spread = np.maximum(1.48 * np.median(np.abs(board - middle), axis=0), _LEAST_SPREAD)
    apart = np.abs(np.median(coupon, axis=0) - middle) / spread
    variety = 1.48 * np.median(np.abs(coupon - np.median(coupon, axis=0)), axis=0) / spread
    return float(max(apart.max(), (variety - 1).max()))
