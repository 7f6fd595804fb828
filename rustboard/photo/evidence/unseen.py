"""What a photo cannot show of a coupon: under glare and drops, in the soft edge of a shadow, and what is too dark."""

from __future__ import annotations

from typing import Final

import cv2
import numpy as np

from rustboard.photo.evidence.differences import Differences
from rustboard.photo.evidence.light import LocalLight
from rustboard.photo.evidence.planes import averaged, narrowed, widened
from rustboard.photo.evidence.tables import Plane
from rustboard.photo.looks import Mask, Rgb

_CLIPPED: Final = 250
_DARKEST: Final = 12
_DIM: Final = 40
_TOO_NOISY: Final = 0.2
"""Spread of noise from which rust itself (a departure of 0.3 to 1.8 nats) is lost in it."""
_GLARE: Final = 0.7
"""So much lighter (nats), a surface shows as much glare as it shows of itself: 1 - exp(-0.7) is 0.5."""
_NEARLY_WHITE: Final = 228
"""From this level on phones press light together, so that colours pale; common practice, no source."""
_STEP: Final = 0.6
"""Change of luminance (nats) within 2 mm or so that only the edge of a shadow makes on steel without rust."""
_PITCH_MM: Final = 0.7
_LONG_MM: Final = 6.0
"""Edges of shadows run on; what is shorter is a scratch, a letter or a rim."""
_SPECK: Final = 0.12
_DROP_MM: Final = 1.2
_FEWEST: Final = 12  # pixels


def unseen_of(rgb: Rgb, found: Differences, known: Mask, light: LocalLight, pixels_per_mm: float) -> Mask:
    """Return the pixels of a coupon's cut that cannot be judged.

    Args:
        rgb: the cut.
        found: the coupon against its base.
        known: h x w, what is rust or foreign and seen to be so.
        light: of the photo at the coupon.
        pixels_per_mm: of the cut.
    """
    red, green, blue = cv2.split(rgb)
    clipped = np.asarray(cv2.min(cv2.min(red, green), blue), np.uint8) >= _CLIPPED
    unseen = np.asarray(cv2.max(red, green), np.uint8) < _DARKEST
    if clipped.any():
        unseen |= widened(clipped, 3)
    dim = np.asarray(green, np.uint8) < _DIM
    if dim.any():
        unseen |= dim & (found.noise > np.float32(_TOO_NOISY)) & ~known & found.surface
    pale = np.asarray(green, np.uint8) >= _NEARLY_WHITE
    if np.count_nonzero(pale) > _FEWEST:
        pale &= (found.lightness > np.float32(_GLARE)) & found.surface & ~known
        unseen |= widened(narrowed(pale, 3), 3)
    if light.darker + light.brighter > _STEP:
        unseen |= _edges_of_shadows(found, known, pixels_per_mm)
    if light.drops:
        unseen |= _drops(found, known, pixels_per_mm)
    return unseen


def _edges_of_shadows(found: Differences, known: Mask, pixels_per_mm: float) -> Mask:
    """Return where luminance takes a long steep step that neither rust nor anything lying there makes."""
    factor = max(1, round(_PITCH_MM * pixels_per_mm))
    edges = np.zeros_like(known)
    coarse = np.ascontiguousarray(found.lightness[::factor, ::factor])
    square = np.ones((3, 3), np.uint8)
    steep = np.asarray(cv2.subtract(cv2.dilate(coarse, square), cv2.erode(coarse, square)), np.float32) > _STEP
    if not steep.any():
        return edges
    steep &= ~widened(known[::factor, ::factor] | ~found.surface[::factor, ::factor], 3)
    _, labels, stats, _ = cv2.connectedComponentsWithStats(steep.view(np.uint8), connectivity=8)
    across, down = stats[:, cv2.CC_STAT_WIDTH], stats[:, cv2.CC_STAT_HEIGHT]
    long = np.hypot(across, down) * factor >= _LONG_MM * pixels_per_mm
    long[0] = False
    if long.any():
        finer = long[labels].repeat(factor, axis=0).repeat(factor, axis=1)
        edges |= finer[: edges.shape[0], : edges.shape[1]]
    return edges & ~known


def _drops(found: Differences, known: Mask, pixels_per_mm: float) -> Mask:
    """Return where a bright point and a dark rim lie within a drop's size of each other."""
    across = 2 * max(1, round(_DROP_MM * pixels_per_mm / 2)) + 1
    apart: Plane = found.lightness - averaged(found.lightness, 2 * across - 1)
    steady = found.surface & ~known
    sample = np.abs(apart[steady][::17])
    limit = np.float32(max(_SPECK, 3.0 * float(np.median(sample)) if sample.size else _SPECK))
    dark, bright = (apart < -limit) & steady & ~widened(known, 3), (apart > limit) & steady
    rims = (dark | bright) & widened(dark, across) & widened(bright, across)
    if not rims.any():
        return rims
    square = np.ones((across, across), np.uint8)
    drops = np.asarray(cv2.morphologyEx(rims.view(np.uint8), cv2.MORPH_CLOSE, square), np.bool_)
    return drops & steady
