"""Rust on one coupon in one photo: how far each pixel's colour departs from the coupon's own, and which way."""

from __future__ import annotations

from typing import Final

import numpy as np

from rustboard.photo.cutting import GridCut
from rustboard.photo.evidence.base import Base
from rustboard.photo.evidence.cover import cover_of
from rustboard.photo.evidence.differences import Box, differences
from rustboard.photo.evidence.foreign import foreign_of
from rustboard.photo.evidence.light import LocalLight
from rustboard.photo.evidence.specks import speckiness
from rustboard.photo.evidence.unseen import unseen_of
from rustboard.photo.looks import PAD_MM, CouponFrame, Evidence

_LEAST_DEPARTURE: Final = 0.15
"""Smaller departures (nats along `RUSTWARDS`) come from dust, oil, damp and uneven white balance."""
_CERTAINTY: Final = 3.0
"""Spreads of noise that a departure must exceed to speak for rust."""
_FAINT: Final = 2
"""What the rim of a spot says, of which rust covers a little: just enough to belong to the spot."""
_SPECK: Final = 12
"""What a speck says that only stands out from its surroundings: two photos have to show it, or one twice as well."""
_SPECK_MOST: Final = 24
_NEARLY: Final = 0.5
"""What is half a speck does not speak against one."""
_AROUND_MM: Final = 4.5
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
    box = _box_around(frame)
    rgb = np.ascontiguousarray(cut.rgb[box])
    judged = cut.shown[box] & base.known[box]
    surface = base.inside[box] & judged
    found = differences(rgb, base, light, surface, box)
    likelihood = np.multiply(found.noise, np.float32(_CERTAINTY))
    np.maximum(likelihood, np.float32(_LEAST_DEPARTURE), out=likelihood)
    np.divide(found.departure, likelihood, out=likelihood)
    likelihood -= np.float32(1)
    likelihood *= np.float32(10 * _GAIN)
    rusty = (likelihood > 0) & surface
    foreign = foreign_of(found, rusty, light)
    rusty &= ~foreign
    unseen = unseen_of(rgb, found, rusty | foreign, light, frame.pixels_per_mm) | ~judged
    specks = speckiness(found, unseen | foreign, frame.pixels_per_mm)
    speck = specks > 1
    likelihood[speck] = np.maximum(likelihood[speck], np.minimum(np.float32(_SPECK) * specks[speck], _SPECK_MOST))
    rusty |= speck
    cover, reached = cover_of(found, rusty)
    faint = np.flatnonzero(reached & ~rusty)
    likelihood.ravel()[faint] = np.maximum(likelihood.ravel()[faint], np.float32(_FAINT))
    doubtful = np.flatnonzero((specks > np.float32(_NEARLY)) & ~rusty)
    likelihood.ravel()[doubtful] = np.maximum(likelihood.ravel()[doubtful], np.float32(-_FAINT))
    likelihood *= surface
    whole = Evidence(
        np.zeros(frame.shape, np.int8),
        np.zeros(frame.shape, np.uint8),
        np.zeros(frame.shape, np.bool_),
        ~cut.shown,
    )
    likelihood += np.float32(100.5)
    levels = np.clip(likelihood, 0, 200, out=likelihood).astype(np.uint8)
    np.subtract(levels.view(np.int8), np.int8(100), out=whole.rust[box])
    np.multiply(cover, np.float32(255), out=whole.cover[box], casting="unsafe")
    whole.foreign[box] = foreign
    whole.unseen[box] |= unseen
    return whole


def _box_around(frame: CouponFrame) -> Box:
    """Return the part of a grid that the coupon and a little of the board around it take."""
    height, width = frame.shape
    left_out = int(max(PAD_MM - _AROUND_MM, 0) * frame.pixels_per_mm)
    return slice(left_out, height - left_out), slice(left_out, width - left_out)
