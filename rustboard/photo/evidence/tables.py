"""Levels of a photo as logarithms of light, in which a brighter or warmer light is one added number a channel.

A pixel's colour is kept as three logarithms (nats): luminance, redness (red over green) and yellowness (green over
blue). Redness and yellowness do not change with brightness; a change of white balance adds one number to each.
"""

from __future__ import annotations

from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from rustboard.photo.looks import Rgb

Logs = NDArray[np.int16]
Plane = NDArray[np.float32]

STEPS: Final = 256.0
"""Steps of the stored logarithms to a nat."""
_FLOOR: Final = 0.001
"""Added to linear light, so that the noise of the darkest levels does not become large differences."""
_LEVEL_NOISE: Final = 1.3
"""Spread of a level of a phone's JPEG, beside photon noise: quantisation of its colour planes."""

TO_LUMINANCE: Final = np.array([0.25, 0.6, 0.15], np.float32)
"""Share of each channel's logarithm in that of luminance; near those of sRGB, with more blue, which is noisier."""
TO_PARTS: Final = np.array([TO_LUMINANCE, [1, -1, 0], [0, 1, -1]], np.float32)
"""From logarithms of red, green, blue to luminance, redness, yellowness."""
FROM_PARTS: Final = np.linalg.inv(TO_PARTS.astype(np.float64)).astype(np.float32)


def linear_light() -> NDArray[np.float64]:
    """Return the linear light (0-1) of the 256 levels of sRGB (IEC 61966-2-1)."""
    level = np.arange(256) / 255
    return np.where(level <= 0.04045, level / 12.92, ((level + 0.055) / 1.055) ** 2.4)


LINEAR: Final = linear_light().astype(np.float32)
LOGARITHM: Final = np.rint(STEPS * np.log(linear_light() + _FLOOR)).astype(np.int16)
SLOPE: Final = np.gradient(np.log(linear_light() + _FLOOR)).astype(np.float32)
"""Nats that one level is worth, by level."""
COLOUR_NOISE: Final = (SLOPE * np.float32(_LEVEL_NOISE * 2**0.5)).astype(np.float32)
"""Spread of redness by level, from the noise of two channels."""


def logs_of(rgb: Rgb) -> Logs:
    """Return the logarithms (H x W x 3, in `STEPS`) of a picture's channels."""
    return np.asarray(cv2.LUT(rgb, LOGARITHM), np.int16)


def parts_of(logs: Logs) -> Plane:
    """Return luminance, redness and yellowness in nats (H x W x 3) of logarithms of red, green and blue."""
    return np.asarray(cv2.transform(logs.astype(np.float32), TO_PARTS / np.float32(STEPS)), np.float32)
