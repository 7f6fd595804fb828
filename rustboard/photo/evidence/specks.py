"""Specks of rust too small for their colour to be told by itself: redder and darker than the steel right around them.

A photo keeps colour more coarsely than luminance, so that a speck of half a millimetre keeps little of its own
colour: less than uneven light and damp change that of a whole coupon. Against its surroundings it still stands out.
"""

from __future__ import annotations

from typing import Final, Protocol

import cv2
import numpy as np

from rustboard.photo.evidence.planes import narrowed, softened, widened
from rustboard.photo.evidence.tables import Plane
from rustboard.photo.looks import Mask
from rustboard.photo.pieces import pieces_of

# Set on drawn scenes by what specks and clean steel turned out to be; no other source.
_LARGEST_MM: Final = 2.0
"""What is longer is no speck: a scratch, a seam, the rim of a letter or of a shadow."""
_AROUND_MM: Final = 0.8
"""Narrower than twice this, a speck stands out from what is on both of its sides."""
_REDDER: Final = 0.05
"""Least departure (nats) from the surroundings."""
_CERTAINTY: Final = 5.0
"""The same as a multiple of what half of the coupon has."""
_OF_NOISE: Final = 2.0
_DARKER: Final = 0.12
"""By how much less light (nats) it gives, as rust does that is not fresh."""
_FIRST_AROUND_MM: Final = 1.0
_FIRST_LARGEST_MM: Final = 2.5
_FIRST_REDDER: Final = 0.15
_FIRST_CERTAINTY: Final = 5.0
"""The same for a first look, as a multiple of what all but a fiftieth of the coupon keep below."""
_FIRST_DARKER: Final = 0.1
_EVERY: Final = 7
_BESIDE: Final = 9  # pixels, side of a square
_SAMPLE: Final = 2500


def first_specks(redness: Plane, luminance: Plane, surface: Mask, pixels_per_mm: float) -> Mask:
    """Return the specks of rust (h x w) that a coupon has in its first look, told by that look alone.

    The finish's own grain is no rust, so that only what stands out far beyond nearly all of the coupon counts.

    Args:
        redness: departure towards rust from the coupon's own colour, nats.
        luminance: of the look, nats.
        surface: inside the outline.
        pixels_per_mm: of the grid.
    """
    inner = narrowed(surface, 13)
    if not inner.any():
        return inner
    redder, darker = _standing_out(redness, luminance, _FIRST_AROUND_MM * pixels_per_mm)
    limit = max(_FIRST_REDDER, _FIRST_CERTAINTY * float(np.quantile(redder[inner][::_EVERY], 0.98)))
    specks = inner & (redder > np.float32(limit)) & (darker > np.float32(_FIRST_DARKER))
    return specks & ~_longer_than(specks, _FIRST_LARGEST_MM * pixels_per_mm)


def _standing_out(redness: Plane, luminance: Plane, around_px: float) -> tuple[Plane, Plane]:
    """Return by how much each pixel is redder, and darker, than what is on both of its sides."""
    side = 2 * round(around_px) + 1
    square = np.ones((side, side), np.uint8)
    redder = cv2.morphologyEx(softened(redness, 1.0, 5), cv2.MORPH_TOPHAT, square)
    darker = cv2.morphologyEx(softened(luminance, 0.7, 3), cv2.MORPH_BLACKHAT, square)
    return np.asarray(redder, np.float32), np.asarray(darker, np.float32)


class Unlike(Protocol):
    """A coupon against its base, as `Differences` has it."""

    @property
    def departure(self) -> Plane:
        """How far towards rust, nats."""
        ...

    @property
    def lightness(self) -> Plane:
        """Difference in luminance, nats."""
        ...

    @property
    def noise(self) -> Plane:
        """Spread of the departure expected of an unrusted pixel."""
        ...

    @property
    def surface(self) -> Mask:
        """Inside the outline and shown."""
        ...


def speckiness(found: Unlike, unseen: Mask, pixels_per_mm: float) -> Plane:
    """Return how much each pixel (h x w) stands out from its surroundings as a speck of rust does.

    1 is just as much as counts, 0 is not at all.

    Args:
        found: the coupon against its base.
        unseen: the edges of shadows, glare and drops, beside which anything may stand out.
        pixels_per_mm: of the grid.
    """
    score = np.zeros(found.departure.shape, np.float32)
    inner = narrowed(found.surface, 5) & ~widened(unseen, _BESIDE)
    places = np.flatnonzero(inner)
    if not places.size:
        return score
    redder, darker = _standing_out(found.departure, found.lightness, _AROUND_MM * pixels_per_mm)
    usual = float(np.median(redder.ravel()[places[:: max(1, places.size // _SAMPLE)]]))
    limit = np.maximum(np.float32(_OF_NOISE) * found.noise, np.float32(max(_CERTAINTY * usual, _REDDER)))
    np.divide(redder, limit, out=score, where=inner & (darker > np.float32(_DARKER)))
    score[_longer_than(score > 1, _LARGEST_MM * pixels_per_mm)] = 0
    return score


def _longer_than(mask: Mask, most: float) -> Mask:
    """Return the pieces of a mask that are longer than ``most`` pixels."""
    labels, _, boxes = pieces_of(mask)
    long = boxes[:, cv2.CC_STAT_WIDTH : cv2.CC_STAT_HEIGHT + 1].max(axis=1) > most
    long[0] = False
    return np.asarray(long[labels], np.bool_)
