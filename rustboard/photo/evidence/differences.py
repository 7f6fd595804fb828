"""A coupon in a photo against its unrusted look, light and its own shift of colour taken off."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from rustboard.photo.evidence.base import RUSTWARDS, Base, rustwards
from rustboard.photo.evidence.light import LocalLight
from rustboard.photo.evidence.modes import mode_of
from rustboard.photo.evidence.planes import quantile_of, shifted, softened
from rustboard.photo.evidence.tables import COLOUR_NOISE, STEPS, Plane, logs_of, parts_of
from rustboard.photo.looks import Mask, Rgb

_OWN_REACH: Final = 0.3
"""How far (nats) a coupon's own unrusted colour may lie from what the light of the photo foretells."""
_EXPECTED: Final = (0.2, 0.1)
"""Spread of that below and above what is foretold; above, an even bloom of rust looks the same."""
_MOST_LIGHTER: Final = 1.8
"""Sun and sky together are up to six times as bright as the sky alone."""
_STEADY: Final = 0.5
_FEWEST: Final = 100
_GLARED: Final = 0.15
_SAMPLE: Final = 2500
_OWN_SHARE: Final = 0.12
"""Share of a coupon that must be near one colour before that counts as its unrusted colour."""

Box = tuple[slice, slice]
"""Rows and columns."""


@dataclass(slots=True, eq=False)
class Differences:
    """A coupon against its base (h x w), light and the coupon's own shift taken off.

    Attributes:
        parts: difference in luminance, redness, yellowness, h x w x 3, nats.
        seen: luminance, redness, yellowness of the photo in the first photo's light, h x w x 3, nats.
        lightness: difference in luminance alone, h x w.
        noise: spread of `departure` expected of an unrusted pixel.
        departure: how far towards rust, nats.
        surface: inside the outline and shown.
    """

    parts: Plane
    seen: Plane
    lightness: Plane
    noise: Plane
    departure: Plane
    surface: Mask

    def within(self, box: Box) -> Differences:
        """Return a part of all planes."""
        return Differences(
            np.ascontiguousarray(self.parts[box]),
            np.ascontiguousarray(self.seen[box]),
            np.ascontiguousarray(self.lightness[box]),
            np.ascontiguousarray(self.noise[box]),
            np.ascontiguousarray(self.departure[box]),
            np.ascontiguousarray(self.surface[box]),
        )


def differences(rgb: Rgb, base: Base, light: LocalLight, surface: Mask, box: Box) -> Differences:
    """Return a box of a coupon's cut, given as a picture, against its base."""
    gains = light.steps(base.known.shape)[box]
    logs = np.asarray(cv2.subtract(logs_of(rgb), gains), np.int16)
    seen, steel = parts_of(logs), parts_of(base.logs[box])
    parts = softened(np.asarray(cv2.subtract(seen, steel), np.float32), 0.7, 3)
    some = np.flatnonzero(surface)
    some = some[:: max(1, some.size // _SAMPLE)]
    parts = shifted(parts, _own_shift(parts.reshape(-1, 3)[some]))
    towards, lightness = rustwards(parts), np.asarray(cv2.extractChannel(parts, 0), np.float32)
    noise = _noise(rgb, base.rough_colour[box], towards.ravel()[some], lightness.ravel()[some])
    departure = np.asarray(towards - _explained(lightness, steel, light, base.colour[0]), np.float32)
    return Differences(parts, seen, lightness, noise, departure, surface)


def _noise(rgb: Rgb, rough: NDArray[np.uint8], towards: NDArray[np.float32], lightness: NDArray[np.float32]) -> Plane:
    """Return the spread of the departure that is expected of unrusted pixels; differences of some given."""
    levels = COLOUR_NOISE * np.float32(0.75 * RUSTWARDS.sum() / 2 + 0.25)
    noise = cv2.LUT(cv2.extractChannel(rgb, 1), levels)
    noise = np.asarray(cv2.magnitude(noise, np.float32(0.5 / STEPS) * rough), np.float32)
    # Rust is on the other side of the mode: the spread on this side is that of the photo itself.
    lower = towards[(towards < 0) & (np.abs(lightness) < _STEADY)]
    if lower.size > _FEWEST:
        noise = np.maximum(noise, np.float32(-quantile_of(lower, 0.5)))
    return np.asarray(noise, np.float32)


def _own_shift(values: NDArray[np.float32]) -> NDArray[np.float32]:
    """Return the shift of the coupon's own unrusted colour in this photo; none where no such colour stands out.

    Of luminance it is that of the darker places, so that sunlight and glare on others are what is lighter.
    """
    if not len(values):
        return np.zeros(3, np.float32)
    red, share = mode_of(values[:, 1], _OWN_REACH, likely=_EXPECTED)
    if share < _OWN_SHARE:
        return np.zeros(3, np.float32)
    near = values[np.abs(values[:, 1] - red) < 0.1]
    yellow, _ = mode_of(near[:, 2], 2 * _OWN_REACH, likely=_EXPECTED)
    return np.array([quantile_of(near[:, 0], 0.25), red, yellow], np.float32)


def _explained(lightness: Plane, steel: Plane, light: LocalLight, own_light: float) -> Plane:
    """Return how much of the departure light explains: sun where the first photo had shade, and glare.

    Sunlight is warmer than shade. Glare adds light of its own colour: of steel's colour, as far as it is bluer than
    that light, a share of exp(-brightening) is left. Where the first photo itself had glare, that comes back.

    Args:
        lightness: difference of luminance to the first photo.
        steel: luminance, redness, yellowness of the base.
        light: of the photo.
        own_light: luminance of most of the coupon in the first photo.
    """
    lighter = np.clip(lightness, 0, np.float32(_MOST_LIGHTER))
    slope = np.float32(light.sunny_red * RUSTWARDS[1] + light.sunny_yellow * RUSTWARDS[2])
    own = rustwards(steel)
    left = np.negative(lighter)
    cv2.exp(left, dst=left)
    explained = np.maximum(slope - own, np.float32(0))
    explained -= explained * left
    lighter *= slope
    explained += lighter
    # Few places had glare in the first photo and are darker now.
    before = np.asarray(cv2.extractChannel(steel, 0), np.float32)
    places = np.flatnonzero((before > np.float32(own_light + _GLARED)) & (lightness < 0))
    if places.size:
        glared = before.ravel()[places] - np.float32(own_light + _GLARED)
        back = np.minimum(glared, np.minimum(-lightness.ravel()[places], np.float32(1)))
        explained.ravel()[places] += np.maximum(own.ravel()[places], np.float32(0.1)) * (back + back * back / 2)
    return np.asarray(explained, np.float32)
