"""How much of each pixel rust covers: all of it inside a spot, less along the rim and in tiny spots."""

from __future__ import annotations

from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from rustboard.photo.evidence.differences import Differences
from rustboard.photo.evidence.planes import averaged, combined, highest, narrowed, widened
from rustboard.photo.evidence.tables import FROM_PARTS, Plane
from rustboard.photo.looks import Mask

_TRUST: Final = np.array([1 / 0.06, 1 / 0.08, 1 / 0.12], np.float32)
"""One over the spread of luminance, red less green, green less blue of steel, as shares of its own luminance."""
_BLUR_PX: Final = 0.75
"""Blur of a photo at half the grid's size (standard deviation): lens, focus, colour planes, the cut itself."""
_COLOUR_BLUR_PX: Final = 1.25
_LIGHTNESS: Final = 0.22
"""Difference of luminance, as a share of the steel's, by which a small spot's area can be told."""
_RIM, _INNER, _PEAK, _NEAR = 3, 5, 7, 9  # pixels, sides of squares
_FEW_NEAR: Final = 0.01

_Places = NDArray[np.intp]
_Shares = NDArray[np.float32]
_Colours = NDArray[np.float32]
"""N x 3: linear red, green, blue; or luminance, red less green, green less blue in units of their trust."""


def cover_of(found: Differences, rusty: Mask) -> tuple[Plane, Mask]:
    """Return the share of each pixel that rust covers (h x w, 0-1), and where that is more than nothing.

    Light mixes in a pixel as linear light, so a pixel's place on the straight line from the steel's colour to the
    rust's is the share covered. The rust's colour is that of the spot's inside next to the pixel; a spot without an
    inside is judged by its strongest pixel, less what the photo's blur has taken from that.

    Args:
        found: the coupon against its base.
        rusty: h x w, the pixels that look rusted.
    """
    cover = np.zeros(rusty.shape, np.float32)
    if not rusty.any():
        return cover, rusty
    inner = narrowed(rusty, _INNER)
    rim = widened(rusty, _RIM) & found.surface & ~inner
    cover[inner] = 1
    rows, columns = np.nonzero(rim)
    steel = _linear(found.seen[rows, columns] - found.parts[rows, columns])
    scale = steel.mean(axis=1, keepdims=True) + np.float32(1e-4)
    away = _weighted((_linear(found.seen[rows, columns]) - steel) / scale)
    rust = _nearby_rust(found, inner)[rows, columns]
    share = _along(away, _weighted((rust - steel) / scale))
    alone = rust[:, 0] < 0
    if alone.any():
        share[alone] = _small_spots(away[alone], rows[alone], columns[alone], rusty)
    cover[rim] = np.clip(share, 0, 1)
    return cover, cover > np.float32(0.06)


def _linear(parts: _Colours) -> _Colours:
    return np.asarray(np.exp(parts @ FROM_PARTS.T), np.float32)


def _weighted(difference: _Colours) -> _Colours:
    red, green, blue = difference.T
    luminance = np.float32(0.25) * red + np.float32(0.6) * green + np.float32(0.15) * blue
    return np.stack([luminance, red - green, green - blue], axis=1) * _TRUST


def _along(away: _Colours, towards: _Colours) -> NDArray[np.float32]:
    length = np.maximum((towards * towards).sum(axis=1), np.float32(1e-6))
    return np.asarray((away * towards).sum(axis=1) / length, np.float32)


def _nearby_rust(found: Differences, inner: Mask) -> Plane:
    """Return the mean linear colour of the insides of spots near each pixel, h x w x 3; below 0 where is none."""
    weight = averaged(inner.astype(np.float32), _NEAR)
    total = averaged(found.seen * inner[:, :, None], _NEAR)
    mean = np.asarray(total / np.maximum(weight, np.float32(1e-6))[:, :, None], np.float32)
    colours = np.exp(combined(mean, FROM_PARTS))
    colours[weight < _FEW_NEAR] = -1
    return np.asarray(colours, np.float32)


def _small_spots(away: _Colours, rows: _Places, columns: _Places, rusty: Mask) -> _Shares:
    """Return the covered share of the pixels (N) of spots that have no inside.

    Luminance is used where the spot differs by it, because a photo keeps it sharper than colour.
    """
    count, labels = cv2.connectedComponents(rusty.astype(np.uint8), connectivity=8, ltype=cv2.CV_16U)
    spot = np.asarray(cv2.dilate(labels, np.ones((_RIM, _RIM), np.uint8)), np.intp)[rows, columns]
    lightness = away[:, 0] / _TRUST[0]
    lighter, darker = np.maximum(lightness, 0), np.maximum(-lightness, 0)
    most_light, most_dark = (_highest_near(each, rows, columns, rusty) for each in (lighter, darker))
    colour = np.asarray(np.hypot(away[:, 1], away[:, 2]), np.float32)
    most_colour = np.maximum(_highest_near(colour, rows, columns, rusty), np.float32(1e-6))
    by_colour = np.asarray(colour / most_colour, np.float32)
    share = by_colour * _left_by_blur(by_colour, spot, count, _COLOUR_BLUR_PX)
    for values, most, others in ((lighter, most_light, most_dark), (darker, most_dark, most_light)):
        stands_out = (most > _LIGHTNESS) & (most > others)
        by_light = np.asarray(values / np.maximum(most, np.float32(1e-6)), np.float32)
        share = np.where(stands_out, by_light * _left_by_blur(by_light, spot, count, _BLUR_PX), share)
    return np.asarray(share, np.float32)


def _highest_near(values: _Shares, rows: _Places, columns: _Places, rusty: Mask) -> _Shares:
    plane = np.zeros(rusty.shape, np.float32)
    plane[rows, columns] = values
    return np.asarray(highest(plane, _PEAK)[rows, columns], np.float32)


def _left_by_blur(share: _Shares, spot: _Places, count: int, blur: float) -> _Shares:
    """Return the height that blur leaves to the middle of each pixel's spot.

    It is found from the spot's contrast, summed over its pixels and divided by the highest: a disc of radius R under
    a Gaussian blur s keeps 1 - exp(-x) in its middle, x = R²/2s²; so that sum is 2 pi s² x/(1 - exp(-x)).
    """
    x = np.geomspace(0.05, 30, 200)
    measured = 2 * np.pi * blur**2 * x / -np.expm1(-x)
    area = np.bincount(spot, share, minlength=count)
    return np.asarray(-np.expm1(-np.interp(area, measured, x)), np.float32)[spot]
