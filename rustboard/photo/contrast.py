"""How far the colour of what is called rust lies from the coupon's own: where that is little, an eye must look."""

from __future__ import annotations

from typing import Final

import numpy as np

from rustboard.photo.colour import difference, lab_from_srgb
from rustboard.photo.looks import Evidence, Mask, Rgb

LITTLE: Final = 7.0
"""CIEDE2000 difference below which rust and finish look much alike (from about 1 on an eye sees a difference side by
side; speckled steel varies by several). Common practice, no source."""

_SURELY: Final = 10
_LEAST_PIXELS: Final = 30


def colour_contrast(rgb: Rgb, evidence: Evidence, surface: Mask) -> float | None:
    """Return the CIEDE2000 difference between the middle colours of rust and of the rest of a coupon.

    Args:
        rgb: H x W x 3, the coupon cut from the photo.
        evidence: what the photo says, on the same grid.
        surface: H x W, what counts.

    Returns:
        The difference, or None where there is too little of either.
    """
    judged = surface & ~(evidence.unseen | evidence.foreign)
    rust, clean = judged & (evidence.rust >= _SURELY), judged & (evidence.rust < 0)
    if np.count_nonzero(rust) < _LEAST_PIXELS or np.count_nonzero(clean) < _LEAST_PIXELS:
        return None
    colours = np.stack([np.median(rgb[each], axis=0) for each in (rust, clean)])
    first, second = lab_from_srgb(colours)
    return float(difference(first, second))
