"""How much of each pixel rust covers: all of it inside a spot, less along the rim and in tiny spots."""

from __future__ import annotations

from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from rustboard.photo.evidence.differences import Differences
from rustboard.photo.evidence.planes import averaged, highest, narrowed, quantile_of, share_around, widened, within
from rustboard.photo.evidence.tables import FROM_PARTS, LINEAR, TO_PARTS, Plane
from rustboard.photo.looks import Mask

_TRUST: Final = np.array([1 / 0.06, 1 / 0.08, 1 / 0.12], np.float32)
"""One over the spread of luminance, red less green, green less blue of steel, as shares of its own luminance."""
_TO_WEIGHTED: Final = TO_PARTS.T * _TRUST
_TO_GREY: Final = np.full((3, 1), 1 / 3, np.float32)

_BLUR_PX: Final = 0.75
"""Blur of a photo on a coupon's grid (standard deviation): lens, focus, colour planes, the cut itself."""
_COLOUR_BLUR_PX: Final = 1.25
_LIGHTNESS: Final = 0.22
"""Difference of luminance, as a share of the steel's, by which a small spot's area can be told."""
_RIM, _INNER, _PEAK, _NEAR, _AROUND = 3, 5, 7, 9, 17  # pixels, sides of squares
_REACH: Final = 1 + _AROUND // 2
_HAZE: Final = 0.45
_DARKER: Final = 0.3
_FEWEST_INNER: Final = 20
_SAMPLE: Final = 2000
_FAINT: Final = (0.2, 0.5)
_TYPICAL_AT_LEAST: Final = 0.75
_RUST_AT_LARGE: Final = LINEAR[np.array([122, 68, 40])]
"""Linear colour of brown rust in daylight, from memory of photographs."""
_FEW_NEAR: Final = 0.01
_LEAST_COVER: Final = 0.25
"""Covered by less, a pixel that does not look rusted itself belongs to no spot: noise is never below nothing."""
_OF_THE_INSIDE: Final = 0.1

_DISCS: Final = np.geomspace(0.05, 30, 200)
_LEFT_OF_DISCS: Final = -np.expm1(-_DISCS)
_AREA_OF_DISCS: Final = 2 * np.pi * _DISCS / _LEFT_OF_DISCS

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
    rows, columns = (np.flatnonzero(rusty.any(axis=axis)) for axis in (1, 0))
    if not rows.size:
        return cover, rusty
    # Beyond what is looked at around a pixel, nothing matters.
    box = tuple(slice(max(0, int(each[0]) - _REACH), int(each[-1]) + 1 + _REACH) for each in (rows, columns))
    cover[box] = _cover_within(found.within((box[0], box[1])), np.ascontiguousarray(rusty[box]))
    return cover, cover > np.float32(_LEAST_COVER)


def _cover_within(found: Differences, rusty: Mask) -> Plane:
    """Return the share of each pixel that rust covers."""
    cover = np.zeros(rusty.shape, np.float32)
    lit = _light_around(found, rusty)
    darker = lit - found.lightness
    inner = _inner(found, lit, narrowed(rusty, _INNER))
    rim = np.flatnonzero(widened(rusty, _RIM) & found.surface & ~inner)
    cover[inner] = 1
    here = _at(found.seen, rim)
    plain = _linear(here - _at(found.parts, rim))
    steel = plain * np.exp(lit.ravel()[rim])[:, None]
    scale = _grey(steel)
    away = _weighted((_linear(here) - steel) / scale)
    rust = _nearby_rust(found, inner, rim)
    share = _along(away, _weighted((rust - steel) / scale))
    # An inside counts whole though blur took some of its contrast; what the rim shows of that is not counted twice.
    share -= np.float32(_OF_THE_INSIDE) * np.clip(share * (1 - share), 0, 1)
    alone = np.flatnonzero(rust[:, 0] < 0)
    if alone.size:
        plain = plain[alone]
        typical = _weighted((_typical_rust(found, lit, inner) - plain) / _grey(plain))
        share[alone] = _small_spots(away[alone], typical, rim[alone], rusty)
    share = np.maximum(share, _dark_share(darker.ravel()[rim], rusty.ravel()[rim]))
    cover.ravel()[rim] = np.clip(share, 0, 1)
    return cover


def _inner(found: Differences, lit: Plane, deep: Mask) -> Mask:
    """Return the pixels, of those deep in what looks rusty, that are rust and not a haze between spots."""
    inner = np.zeros_like(deep)
    places = np.flatnonzero(deep)
    if places.size < _FEWEST_INNER:
        return deep
    brightness = lit.ravel()[places]
    seen = _at(found.seen, places)
    steel = _linear(seen - _at(found.parts, places))
    rust = _linear(seen) * np.exp(-brightness)[:, None]
    departure = found.departure.ravel()[places]
    typical = rust[departure >= quantile_of(departure[:: max(1, places.size // _SAMPLE)], 0.6)].mean(axis=0)
    share = _along(_weighted((rust - steel) / _grey(steel)), _weighted((typical - steel) / _grey(steel)))
    darker = brightness - found.lightness.ravel()[places] > np.float32(_DARKER)
    inner.ravel()[places[(share > np.float32(_HAZE)) | darker]] = True
    return inner


def _dark_share(darker: _Shares, rusty: NDArray[np.bool_]) -> _Shares:
    """Return the share of each pixel (N) that rust covers if it is dark rust, told by what it takes of the light."""
    taken = np.asarray(1 - np.exp(np.minimum(-darker, 0)), np.float32)
    taken[~rusty] = 0
    dark = taken[taken > _DARKER]
    if dark.size < _FEWEST_INNER:
        return np.zeros_like(taken)
    return np.asarray(taken / np.float32(quantile_of(dark[:: max(1, dark.size // _SAMPLE)], 0.7)), np.float32)


def _light_around(found: Differences, rusty: Mask) -> Plane:
    """Return the mean difference of the unrusted steel's luminance around each pixel: light that came or went."""
    clean = found.surface & ~widened(rusty, _RIM)
    total = averaged(within(found.lightness, clean), _AROUND)
    share = share_around(clean, _AROUND)
    share += np.float32(0.02)
    return np.asarray(np.divide(total, share, out=share), np.float32)


def _typical_rust(found: Differences, lit: Plane, inner: Mask) -> NDArray[np.float32]:
    """Return the linear colour of the rust inside this coupon's spots, or that of rust at large if there is none."""
    places = np.flatnonzero(inner)
    if places.size < _FEWEST_INNER:
        return np.asarray(_RUST_AT_LARGE, np.float32)
    places = places[:: max(1, places.size // _SAMPLE)]
    colours = _linear(found.seen.reshape(-1, 3)[places]) * np.exp(-lit.ravel()[places])[:, None]
    return np.asarray(colours.mean(axis=0), np.float32)


def _at(planes: Plane, places: _Places) -> _Colours:
    """Return the three numbers at each of the places (N x 3)."""
    return planes.reshape(-1, 3).take(places, axis=0, mode="clip")


def _grey(colours: _Colours) -> _Colours:
    return np.asarray(colours @ _TO_GREY + np.float32(1e-4), np.float32)


def _linear(parts: _Colours) -> _Colours:
    return np.asarray(np.exp(parts @ FROM_PARTS.T), np.float32)


def _weighted(difference: _Colours) -> _Colours:
    return np.asarray(difference @ _TO_WEIGHTED, np.float32)


def _along(away: _Colours, towards: _Colours) -> NDArray[np.float32]:
    length = np.maximum(np.einsum("ij,ij->i", towards, towards), np.float32(1e-6))
    return np.asarray(np.einsum("ij,ij->i", away, towards) / length, np.float32)


def _nearby_rust(found: Differences, inner: Mask, places: _Places) -> _Colours:
    """Return the mean linear colour of the insides of spots near each pixel (N x 3); below 0 where is none."""
    if not inner.any():
        return np.full((places.size, 3), -1, np.float32)
    weight = share_around(inner, _NEAR).ravel()[places]
    total = _at(averaged(within(found.seen, inner), _NEAR), places)
    colours = _linear(np.asarray(total / np.maximum(weight, np.float32(1e-6))[:, None], np.float32))
    colours[weight < _FEW_NEAR] = -1
    return colours


def _small_spots(away: _Colours, typical: _Colours, places: _Places, rusty: Mask) -> _Shares:
    """Return the covered share of the pixels (N) of spots that have no inside.

    Luminance is used where the spot differs by it, because a photo keeps it sharper than colour. The whole contrast
    is that of the spot's strongest pixel, less what blur has taken from it, or that of other rust if this is more.
    """
    count, labels = cv2.connectedComponents(rusty.view(np.uint8), connectivity=8, ltype=cv2.CV_16U)
    spot = np.asarray(cv2.dilate(labels, np.ones((_RIM, _RIM), np.uint8)), np.uint16).ravel()[places].astype(np.intp)
    colour = np.asarray(np.hypot(away[:, 1], away[:, 2]), np.float32)
    whole = np.asarray(np.hypot(typical[:, 1], typical[:, 2]), np.float32)
    most = _highest_near(colour, places, rusty)
    share = colour / _whole_contrast(colour, most, whole, spot, count, _COLOUR_BLUR_PX)
    brightest = [_highest_near(np.maximum(away[:, 0] * side, 0), places, rusty) for side in (1, -1)]
    for side, most, others in ((1, brightest[0], brightest[1]), (-1, brightest[1], brightest[0])):
        stands_out = (most > _LIGHTNESS * _TRUST[0]) & (most > others)
        if stands_out.any():
            values = np.asarray(np.maximum(away[:, 0] * side, 0), np.float32)
            whole = np.asarray(np.maximum(typical[:, 0] * side, 0), np.float32)
            by_light = values / _whole_contrast(values, most, whole, spot, count, _BLUR_PX)
            share = np.where(stands_out, by_light, share)
    return np.asarray(share, np.float32)


def _whole_contrast(
    values: _Shares, most: _Shares, typical: _Shares, spot: _Places, count: int, blur: float
) -> NDArray[np.float32]:
    """Return the contrast that each pixel (N) would have if rust covered it all."""
    most = np.maximum(most, np.float32(1e-6))
    unblurred = most / _left_by_blur(np.asarray(values / most, np.float32), spot, count, blur)
    full = np.maximum(unblurred, typical * np.float32(_TYPICAL_AT_LEAST))
    # A spot far fainter than other rust covers less than half of its place.
    faint = (unblurred / np.maximum(typical, np.float32(1e-6)) - _FAINT[0]) / (_FAINT[1] - _FAINT[0])
    return np.asarray(full / np.clip(faint, 0.05, 1), np.float32)


def _highest_near(values: _Shares, places: _Places, rusty: Mask) -> _Shares:
    plane = np.zeros(rusty.shape, np.float32)
    plane.ravel()[places] = values
    return highest(plane, _PEAK).ravel()[places]


def _left_by_blur(share: _Shares, spot: _Places, count: int, blur: float) -> _Shares:
    """Return the height that blur leaves to the middle of each pixel's spot.

    It is found from the spot's contrast, summed over its pixels and divided by the highest: a disc of radius R under
    a Gaussian blur s keeps 1 - exp(-x) in its middle, x = R²/2s²; so that sum is 2 pi s² x/(1 - exp(-x)).
    """
    area = np.bincount(spot, share, minlength=count)
    return np.interp(area / blur**2, _AREA_OF_DISCS, _LEFT_OF_DISCS).astype(np.float32)[spot]
