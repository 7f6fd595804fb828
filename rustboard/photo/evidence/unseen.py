"""What a photo cannot show: glare, and what is too dark."""

from __future__ import annotations

from typing import Final

import cv2
import numpy as np

from rustboard.photo.evidence.planes import widened
from rustboard.photo.looks import Mask, Rgb

_CLIPPED: Final = 250
_DARKEST: Final = 12


def unseen_of(half: Rgb) -> Mask:
    """Return the pixels of a coupon's cut (half size) that cannot be judged."""
    red, green, blue = cv2.split(half)
    clipped = np.asarray(cv2.min(cv2.min(red, green), blue), np.uint8) >= _CLIPPED
    unseen = np.asarray(cv2.max(red, green), np.uint8) < _DARKEST
    return unseen | widened(clipped, 3) if clipped.any() else unseen
