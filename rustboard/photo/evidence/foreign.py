"""What lies on a coupon and is neither rust nor steel."""

from __future__ import annotations

from typing import Final

import cv2
import numpy as np

from rustboard.photo.evidence.differences import Differences
from rustboard.photo.looks import Mask

_LEAST_YELLOW: Final = 0.45


def foreign_of(found: Differences) -> Mask:
    """Return the pixels that are far from the coupon's own colour, and not on the side of rust."""
    red, yellow = found.parts[:, :, 1], found.parts[:, :, 2]
    green = yellow - np.float32(2.2) * np.maximum(red, 0) - np.float32(0.3)
    limit = np.maximum(np.float32(4) * found.noise, np.float32(_LEAST_YELLOW))
    strange = ((green > limit) | (-red > limit)) & found.surface
    opened = cv2.morphologyEx(strange.astype(np.uint8), cv2.MORPH_OPEN, np.ones((2, 2), np.uint8))
    return opened.astype(np.bool_)
