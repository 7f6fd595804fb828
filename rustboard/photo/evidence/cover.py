"""How much of each pixel rust covers: all of it inside a spot, less along the rim and in tiny spots."""

from __future__ import annotations

from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from rustboard.photo.evidence.differences import Differences
from rustboard.photo.evidence.planes import averaged, highest, narrowed, widened, within
from rustboard.photo.evidence.tables import FROM_PARTS, LINEAR, Plane
from rustboard.photo.looks import Mask

_TRUST: Final = np.array([1 / 0.06, 1 / 0.08, 1 / 0.12], np.float32)
"""One over the spread of luminance, red less green, green less blue of steel, as shares of its own luminance."""
_BLUR_PX: Final = 0.75
"""Blur of a photo at half the grid's size (standard deviation): lens, focus, colour planes, the cut itself."""
_COLOUR_BLUR_PX: Final = 1.25
_LIGHTNESS: Final = 0.22
"""Difference of luminance, as a share of the steel's, by which a small spot's area can be told."""
_RIM, _INNER, _PEAK, _NEAR, _AROUND = 3, 5, 7, 9, 17  # pixels, sides of squares
_HAZE: Final = 0.4
_DARKER: Final = 0.3
_FEWEST_INNER: Final = 20
_FAINT: Final = (0.2, 0.5)
_TYPICAL_AT_LEAST: Final = 0.75
_RUST_AT_LARGE: Final = LINEAR[np.array([122, 68, 40])]
"""Linear colour of brown rust in daylight, from memory of photographs."""
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
    lit = _light_around(found, rusty)
    inner = narrowed(rusty, _INNER) & _strong(found, lit, rusty)
    rim = widened(rusty, _RIM) & found.surface & ~inner
    cover[inner] = 1
    rows, columns = np.nonzero(rim)
    here = found.seen[rows, columns]
    plain = here - found.parts[rows, columns]
    steel = _linear(plain + lit[rows, columns])
    scale = steel.mean(axis=1, keepdims=True) + np.float32(1e-4)
    away = _weighted((_linear(here) - steel) / scale)
    rust = _nearby_rust(found, inner, rows, columns)
    share = _along(away, _weighted((rust - steel) / scale))
    alone = rust[:, 0] < 0
    if alone.any():
        steel = _linear(plain[alone])
        typical = _weighted((_typical_rust(found, lit, inner) - steel) / (steel.mean(axis=1, keepdims=True) + 1e-4))
        share[alone] = _small_spots(away[alone], typical, rows[alone], columns[alone], rusty)
    share = np.maximum(share, _dark_share(found, lit, rusty)[rows, columns])
    cover[rim] = np.clip(share, 0, 1)
    return cover, cover > np.float32(0.06)


def _strong(found: Differences, lit: Plane, rusty: Mask) -> Mask:
    """Return the pixels that look like the rust of this coupon rather than like a haze of it."""
    some = found.departure[rusty]
    typical = float(np.quantile(some[:: max(1, some.size // 4096)], 0.75))
    darker = lit[:, :, 0] - found.lightness
    return np.asarray((found.departure > np.float32(_HAZE * typical)) | (darker > np.float32(_DARKER)), np.bool_)


def _dark_share(found: Differences, lit: Plane, rusty: Mask) -> Plane:
    """Return the share of each pixel that rust covers if it is dark rust, told by what it takes of the light."""
    taken = np.asarray(1 - np.exp(np.minimum(found.lightness - lit[:, :, 0], 0)), np.float32)
    taken[~rusty] = 0
    dark = taken[taken > _DARKER]
    if dark.size < _FEWEST_INNER:
        return np.zeros_like(taken)
    return np.asarray(taken / np.quantile(dark[:: max(1, dark.size // 4096)], 0.7), np.float32)


def _light_around(found: Differences, rusty: Mask) -> Plane:
    """Return the mean difference of the unrusted steel around each pixel (h x w x 3): light that came or went."""
    clean = found.surface & ~widened(rusty, _RIM)
    total = averaged(within(found.parts, clean), _AROUND)
    weight = np.float32(1) / (averaged(clean.astype(np.float32), _AROUND) + np.float32(0.02))
    return np.asarray(cv2.multiply(total, cv2.merge([weight, weight, weight])), np.float32)


def _typical_rust(found: Differences, lit: Plane, inner: Mask) -> NDArray[np.float32]:
    """Return the linear colour of the rust inside this coupon's spots, or that of rust at large if there is none."""
    rows, columns = np.nonzero(inner)
    if rows.size < _FEWEST_INNER:
        return np.asarray(_RUST_AT_LARGE, np.float32)
    some = slice(None, None, max(1, rows.size // 2000))
    rows, columns = rows[some], columns[some]
    return np.asarray(_linear(found.seen[rows, columns] - lit[rows, columns]).mean(axis=0), np.float32)


def _linear(parts: _Colours) -> _Colours:
    return np.asarray(np.exp(parts @ FROM_PARTS.T), np.float32)


def _weighted(difference: _Colours) -> _Colours:
    red, green, blue = difference.T
    luminance = np.float32(0.25) * red + np.float32(0.6) * green + np.float32(0.15) * blue
    return np.stack([luminance, red - green, green - blue], axis=1) * _TRUST


def _along(away: _Colours, towards: _Colours) -> NDArray[np.float32]:
    length = np.maximum((towards * towards).sum(axis=1), np.float32(1e-6))
    return np.asarray((away * towards).sum(axis=1) / length, np.float32)


def _nearby_rust(found: Differences, inner: Mask, rows: _Places, columns: _Places) -> _Colours:
    """Return the mean linear colour of the insides of spots near each pixel (N x 3); below 0 where is none."""
    weight = averaged(inner.astype(np.float32), _NEAR)[rows, columns]
    total = averaged(within(found.seen, inner), _NEAR)[rows, columns]
    colours = _linear(np.asarray(total / np.maximum(weight, np.float32(1e-6))[:, None], np.float32))
    colours[weight < _FEW_NEAR] = -1
    return colours


def _small_spots(away: _Colours, typical: _Colours, rows: _Places, columns: _Places, rusty: Mask) -> _Shares:
    """Return the covered share of the pixels (N) of spots that have no inside.

    Luminance is used where the spot differs by it, because a photo keeps it sharper than colour. The whole contrast
    is that of the spot's strongest pixel, less what blur has taken from it, or that of other rust if this is more.
    """
    count, labels = cv2.connectedComponents(rusty.astype(np.uint8), connectivity=8, ltype=cv2.CV_16U)
    spot = np.asarray(cv2.dilate(labels, np.ones((_RIM, _RIM), np.uint8)), np.intp)[rows, columns]
    colour = np.asarray(np.hypot(away[:, 1], away[:, 2]), np.float32)
    whole = np.asarray(np.hypot(typical[:, 1], typical[:, 2]), np.float32)
    most = _highest_near(colour, rows, columns, rusty)
    share = colour / _whole_contrast(colour, most, whole, spot, count, _COLOUR_BLUR_PX)
    brightest = [_highest_near(np.maximum(away[:, 0] * side, 0), rows, columns, rusty) for side in (1, -1)]
    for side, most, others in ((1, brightest[0], brightest[1]), (-1, brightest[1], brightest[0])):
        values = np.asarray(np.maximum(away[:, 0] * side, 0), np.float32)
        whole = np.asarray(np.maximum(typical[:, 0] * side, 0), np.float32)
        by_light = values / _whole_contrast(values, most, whole, spot, count, _BLUR_PX)
        share = np.where((most > _LIGHTNESS * _TRUST[0]) & (most > others), by_light, share)
    return np.asarray(share, np.float32)


def _whole_contrast(
    values: _Shares, most: _Shares, typical: _Shares, spot: _Places, count: int, blur: float
) -> NDArray[np.float32]:
    """Return the contrast that each pixel (N) would have if rust covered it all."""
    most = np.maximum(most, np.float32(1e-6))
    left = _left_by_blur(np.asarray(values / most, np.float32), spot, count, blur)
    full = np.maximum(most / left, typical * np.float32(_TYPICAL_AT_LEAST))
    # A spot far fainter than other rust covers less than half of its place.
    faint = np.clip(
        (most / left / np.maximum(typical, np.float32(1e-6)) - _FAINT[0]) / (_FAINT[1] - _FAINT[0]), 0.05, 1
    )
    return np.asarray(full / faint, np.float32)


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
