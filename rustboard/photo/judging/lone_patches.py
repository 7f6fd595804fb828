"""What came in the newest photo and looks like a leaf rather than rust: a lone patch, large, whole at once.

Rust comes as many spots, beside rust that is there, and little by little. A leaf, a feather or a clod comes alone.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from rustboard.photo.judging.series import NEVER, Settled
from rustboard.photo.looks import Mask

# Set on drawn scenes by what the patches of one photo turned out to be; no other source.
_LEAST_MM2: Final = 12.0
_A_DAY_MM2: Final = 0.5
"""A patch must be larger by this for each day since the photo before, for rust has had time."""
_LONGEST_DAYS: Final = 60.0
_MOST_REST: Final = 0.5
"""All other rust on the coupon, older and new, as a share of the patch: more, and the patch is one among others."""
_MOST_TOUCHING: Final = 0.4
"""Share of its rim beside older rust: more, and it has grown from that."""
_MOST_WITHIN: Final = 0.3
"""Older rust within its box, as a share of the patch."""
_MOST_OF_THE_SURFACE: Final = 0.12
"""What covers more of the surface at once than this is no leaf."""
_SQUARE: Final = np.ones((3, 3), np.uint8)


def suspect_patches(settled: Settled, newest: int, days: Sequence[float], pixels_per_mm: float) -> Mask:
    """Return the pixels (H x W) of patches that are more likely something that lies on the coupon than rust.

    Args:
        settled: what all looks say.
        newest: the last look that saw the coupon; what showed first in it has no later look.
        days: of the looks.
        pixels_per_mm: of the grid.
    """
    none = np.zeros(settled.start.shape, np.bool_)
    if newest < 1:
        return none
    gap = days[newest] - days[newest - 1]
    least = (_LEAST_MM2 + _A_DAY_MM2 * max(0.0, gap)) * pixels_per_mm**2
    new = settled.start == newest
    if gap > _LONGEST_DAYS or np.count_nonzero(new) < least:
        return none
    _, labels, stats, _ = cv2.connectedComponentsWithStats(new.view(np.uint8), connectivity=8)
    place = 1 + int(np.argmax(stats[1:, cv2.CC_STAT_AREA]))
    size = int(stats[place, cv2.CC_STAT_AREA])
    rest = np.count_nonzero(settled.start != NEVER) - size
    if size < least or rest > _MOST_REST * size or size > _MOST_OF_THE_SURFACE * settled.counted:
        return none
    left, top, width, height = stats[place, : cv2.CC_STAT_AREA]
    box = (slice(top, top + height), slice(left, left + width))
    patch, older = labels[box] == place, settled.start[box] < newest
    if np.count_nonzero(older) > _MOST_WITHIN * size or _touching(patch, older) > _MOST_TOUCHING:
        return none
    none[box] = patch
    return none


def _touching(patch: Mask, older: Mask) -> float:
    """Return the share of a patch's rim that lies beside older rust."""
    inner = cv2.erode(np.pad(patch, 1).view(np.uint8), _SQUARE)[1:-1, 1:-1]
    rim = patch & (np.asarray(inner) == 0)
    beside: NDArray[np.bool_] = np.asarray(cv2.dilate(older.view(np.uint8), _SQUARE)) > 0
    return float(np.count_nonzero(rim & beside)) / max(1, int(np.count_nonzero(rim)))
