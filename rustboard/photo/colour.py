"""Colours as people see them: CIE XYZ and L*a*b* of sRGB pictures, and the CIEDE2000 difference, for reports.

Sources: IEC 61966-2-1 (sRGB), CIE 15 (L*a*b*), Sharma, Wu and Dalal, "The CIEDE2000
color-difference formula: implementation notes, supplementary test data, and mathematical observations", Color
Research and Application 30, 2005.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

Colours = NDArray[np.float64]
"""... x 3."""

_TO_XYZ: Final = np.array(
    [[0.4124564, 0.3575761, 0.1804375], [0.2126729, 0.7151522, 0.0721750], [0.0193339, 0.1191920, 0.9503041]]
)
"""Linear sRGB to XYZ under D65, 2 degrees; white has Y = 1."""
_WHITE: Final = _TO_XYZ.sum(axis=1)
_BEND: Final = 6 / 29


def linear_from_srgb(rgb: ArrayLike) -> Colours:
    """Return linear light (0-1) of sRGB levels (0-255)."""
    level = np.asarray(rgb, np.float64) / 255
    return np.where(level <= 0.04045, level / 12.92, ((np.maximum(level, 0) + 0.055) / 1.055) ** 2.4)


def xyz_from_srgb(rgb: ArrayLike) -> Colours:
    """Return CIE XYZ (D65, white has Y = 1) of sRGB levels (0-255), ... x 3."""
    xyz: Colours = linear_from_srgb(rgb) @ _TO_XYZ.T
    return xyz


def lab_from_xyz(xyz: ArrayLike) -> Colours:
    """Return CIE L*a*b* (D65) of XYZ, ... x 3."""
    ratio = np.asarray(xyz, np.float64) / _WHITE
    bent = np.where(ratio > _BEND**3, np.cbrt(ratio), ratio / (3 * _BEND**2) + 4 / 29)
    x, y, z = np.moveaxis(bent, -1, 0)
    return np.stack([116 * y - 16, 500 * (x - y), 200 * (y - z)], axis=-1)


def lab_from_srgb(rgb: ArrayLike) -> Colours:
    """Return CIE L*a*b* (D65) of sRGB levels (0-255), ... x 3."""
    return lab_from_xyz(xyz_from_srgb(rgb))


def difference(first: ArrayLike, second: ArrayLike) -> NDArray[np.float64]:
    """Return the CIEDE2000 difference of L*a*b* colours (... x 3 each), all weights 1."""
    light1, a1, b1 = np.moveaxis(np.asarray(first, np.float64), -1, 0)
    light2, a2, b2 = np.moveaxis(np.asarray(second, np.float64), -1, 0)
    a1, a2 = _less_blue_bias(a1, b1, a2, b2)
    chroma1, chroma2 = np.hypot(a1, b1), np.hypot(a2, b2)
    hue1, hue2 = _hue(a1, b1), _hue(a2, b2)
    grey = chroma1 * chroma2 == 0
    turn = np.where(grey, 0, (hue2 - hue1 + 180) % 360 - 180)
    # A turn of exactly 180 degrees may go either way; the formula takes the positive one.
    turn = np.where(turn == -180, np.sign(hue2 - hue1) * 180, turn)
    hue = _mean_hue(hue1, hue2, grey)
    light, chroma = (light1 + light2) / 2, (chroma1 + chroma2) / 2
    weight_light = 1 + 0.015 * (light - 50) ** 2 / np.sqrt(20 + (light - 50) ** 2)
    weight_chroma = 1 + 0.045 * chroma
    weight_hue = 1 + 0.015 * chroma * _hue_term(hue)
    dl = (light2 - light1) / weight_light
    dc = (chroma2 - chroma1) / weight_chroma
    dh = 2 * np.sqrt(chroma1 * chroma2) * np.sin(np.radians(turn) / 2) / weight_hue
    rotation = -2 * np.sqrt(chroma**7 / (chroma**7 + 25.0**7))
    rotation = rotation * np.sin(np.radians(60 * np.exp(-(((hue - 275) / 25) ** 2))))
    squared: NDArray[np.float64] = dl**2 + dc**2 + dh**2 + rotation * dc * dh
    return np.sqrt(np.maximum(squared, 0))


def _less_blue_bias(a1: Colours, b1: Colours, a2: Colours, b2: Colours) -> tuple[Colours, Colours]:
    chroma = ((np.hypot(a1, b1) + np.hypot(a2, b2)) / 2) ** 7
    factor = 1.5 - 0.5 * np.sqrt(chroma / (chroma + 25.0**7))
    return a1 * factor, a2 * factor


def _hue(a: Colours, b: Colours) -> Colours:
    hue: Colours = np.degrees(np.arctan2(b, a)) % 360
    return hue


def _mean_hue(hue1: Colours, hue2: Colours, grey: NDArray[np.bool_]) -> Colours:
    total = hue1 + hue2
    far = np.abs(hue1 - hue2) > 180
    mean = np.where(far, np.where(total < 360, total + 360, total - 360), total) / 2
    return np.where(grey, total, mean)


def _hue_term(hue: Colours) -> Colours:
    terms = ((-0.17, 1, -30), (0.24, 2, 0), (0.32, 3, 6), (-0.20, 4, -63))
    parts = [part * np.cos(np.radians(times * hue + shift)) for part, times, shift in terms]
    total: Colours = 1 + np.sum(parts, axis=0)
    return total
