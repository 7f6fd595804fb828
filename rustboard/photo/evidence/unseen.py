"""What a photo cannot show: glare, and what is too dark."""

from __future__ import annotations

from typing import Final

import cv2
import numpy as np

from rustboard.photo.evidence.differences import Differences
from rustboard.photo.looks import Mask, Rgb

_CLIPPED: Final = 250
_DARKEST: Final = 12


def unseen_of(half: Rgb, found: Differences) -> Mask:
    """Return the pixels of a coupon's cut (half size) that cannot be judged."""
    clipped = (half.min(axis=2) >= _CLIPPED).astype(np.uint8)
    unseen = cv2.dilate(clipped, np.ones((3, 3), np.uint8)).astype(np.bool_) if clipped.any() else clipped > 0
    return unseen | (half[:, :, 0] < _DARKEST) & (half[:, :, 1] < _DARKEST)
