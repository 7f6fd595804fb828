"""Rust on one coupon in one photo: how far each pixel's colour departs from the coupon's own, and which way."""

from __future__ import annotations

from typing import Final

import numpy as np

from rustboard.photo.cutting import GridCut, inside
from rustboard.photo.evidence.base import Base, half_inside
from rustboard.photo.evidence.cover import cover_of
from rustboard.photo.evidence.differences import differences
from rustboard.photo.evidence.foreign import foreign_of
from rustboard.photo.evidence.light import LocalLight
from rustboard.photo.evidence.tables import Plane, doubled, halved
from rustboard.photo.evidence.unseen import unseen_of
from rustboard.photo.looks import CouponFrame, Evidence, Mask

_LEAST_DEPARTURE: Final = 0.15
"""Smaller departures (nats along `RUSTWARDS`) come from dust, oil, damp and uneven white balance."""
_CERTAINTY: Final = 3.0
"""Spreads of noise that a departure must exceed to speak for rust."""
_GAIN: Final = 4.0
"""Natural logarithms of likelihood gained when a departure is twice its threshold."""


def evidence_of(cut: GridCut, base: Base, light: LocalLight, frame: CouponFrame) -> Evidence:
    """Return what a photo says of a coupon.

    Args:
        cut: the coupon as the photo shows it.
        base: its unrusted look.
        light: of this photo at this coupon.
        frame: the coupon.
    """
    half = halved(cut.rgb)
    height, width = half.shape[:2]
    shown = cut.shown[: 2 * height : 2, : 2 * width : 2]
    surface = half_inside(frame) & shown & base.known
    found = differences(half, base, light, surface)
    limit = np.maximum(np.float32(_CERTAINTY) * found.noise, np.float32(_LEAST_DEPARTURE))
    likelihood = (found.departure / limit - np.float32(1)) * np.float32(10 * _GAIN)
    likelihood[~surface] = 0
    unseen = unseen_of(half) | ~(shown & base.known)
    rusty = (likelihood > 0) & surface
    foreign = foreign_of(found, rusty)
    rusty &= ~foreign
    cover, reached = cover_of(found, rusty)
    likelihood[reached & ~rusty] = np.maximum(likelihood[reached & ~rusty], 2)
    return _full_size(likelihood, cover, foreign, unseen, cut.rgb.shape[:2], frame)


def _full_size(
    likelihood: Plane, cover: Plane, foreign: Mask, unseen: Mask, shape: tuple[int, int], frame: CouponFrame
) -> Evidence:
    levels = doubled(np.clip(np.rint(likelihood) + 100, 0, 200).astype(np.uint8), shape)
    rust = levels.astype(np.int16) - 100
    rust[~inside(frame)] = 0
    return Evidence(
        rust.astype(np.int8),
        doubled(np.asarray(cover * np.float32(255), np.uint8), shape),
        _doubled_mask(foreign, shape),
        _doubled_mask(unseen, shape),
    )


def _doubled_mask(mask: Mask, shape: tuple[int, int]) -> Mask:
    if not mask.any():
        return np.zeros(shape, np.bool_)
    return doubled(mask.astype(np.uint8) * np.uint8(255), shape) > 127
