"""What came lately and looks like a leaf rather than rust: a lone patch, large, whole at once, and not growing.

Rust comes as many spots, beside rust that is there, and little by little. A leaf, a feather or a clod comes alone.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil
from typing import Final, NamedTuple

import cv2
import numpy as np
from numpy.typing import NDArray

from rustboard.photo.judging.series import CEILING, NEVER, Settled
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
_GROWTH_MM: Final = 1.0
_LEAST_GROWTH: Final = 0.05
_SQUARE: Final = np.ones((3, 3), np.uint8)


class Suspect(NamedTuple):
    """A patch that is more likely something that lies on the coupon than rust.

    Attributes:
        patch: its pixels, H x W.
        since: the look in which it came; beyond all looks when there is none.
    """

    patch: Mask
    since: int


def suspect_patch(settled: Settled, newest: int, days: Sequence[float], pixels_per_mm: float) -> Suspect:
    """Return the patch that came in one of the last two looks and is suspect, if there is one.

    Args:
        settled: what all looks say.
        newest: the last look that saw the coupon.
        days: of the looks.
        pixels_per_mm: of the grid.
    """
    for since in range(newest, max(0, newest - 2), -1):
        gap = max(0.0, days[since] - days[since - 1])
        least = (_LEAST_MM2 + _A_DAY_MM2 * gap) * pixels_per_mm**2
        patch = _lone_patch(settled, since, least) if gap <= _LONGEST_DAYS else None
        if patch is not None and (since == newest or not _has_grown(patch, settled, since, pixels_per_mm)):
            return Suspect(patch, since)
    return Suspect(np.zeros(settled.start.shape, np.bool_), len(days))


def _lone_patch(settled: Settled, since: int, least: float) -> Mask | None:
    # The greatest strength after so few looks is a person's word.
    new = (settled.start == since) & (settled.strength < CEILING)
    if np.count_nonzero(new) < least:
        return None
    _, labels, stats, _ = cv2.connectedComponentsWithStats(new.view(np.uint8), connectivity=8)
    place = 1 + int(np.argmax(stats[1:, cv2.CC_STAT_AREA]))
    size = int(stats[place, cv2.CC_STAT_AREA])
    rest = np.count_nonzero(settled.start != NEVER) - size
    if size < least or rest > _MOST_REST * size or size > _MOST_OF_THE_SURFACE * settled.counted:
        return None
    left, top, width, height = stats[place, : cv2.CC_STAT_AREA]
    box = (slice(top, top + height), slice(left, left + width))
    patch, older = labels[box] == place, settled.start[box] < since
    if np.count_nonzero(older) > _MOST_WITHIN * size or _touching(patch, older) > _MOST_TOUCHING:
        return None
    whole = np.zeros(new.shape, np.bool_)
    whole[box] = patch
    return whole


def _has_grown(patch: Mask, settled: Settled, since: int, pixels_per_mm: float) -> bool:
    """Return whether there is more rust around a patch since it came: rust that came that fast would go on."""
    side = 2 * ceil(_GROWTH_MM * pixels_per_mm) + 1
    around = np.asarray(cv2.dilate(patch.view(np.uint8), np.ones((side, side), np.uint8))) > 0
    later = around & (settled.start > since) & (settled.start != NEVER)
    return bool(np.count_nonzero(later) > _LEAST_GROWTH * np.count_nonzero(patch))


def _touching(patch: Mask, older: Mask) -> float:
    """Return the share of a patch's rim that lies beside older rust."""
    inner = cv2.erode(np.pad(patch, 1).view(np.uint8), _SQUARE)[1:-1, 1:-1]
    rim = patch & (np.asarray(inner) == 0)
    beside: NDArray[np.bool_] = np.asarray(cv2.dilate(older.view(np.uint8), _SQUARE)) > 0
    return float(np.count_nonzero(rim & beside)) / max(1, int(np.count_nonzero(rim)))
