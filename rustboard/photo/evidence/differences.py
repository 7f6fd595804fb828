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
from rustboard.photo.evidence.planes import softened
from rustboard.photo.evidence.tables import COLOUR_NOISE, STEPS, Plane, logs_of, parts_of
from rustboard.photo.looks import Mask, Rgb

_OWN_REACH: Final = 0.3
"""How far (nats) a coupon's own unrusted colour may lie from what the light of the photo foretells."""
_EXPECTED: Final = (0.2, 0.1)
"""Spread of that below and above what is foretold; above, an even bloom of rust looks the same."""
_MOST_LIGHTER: Final = 1.8
"""Sun and sky together are up to six times as bright as the sky alone."""
_STEADY: Final = 0.5
_FEWEST: Final = 200
_OWN_SHARE: Final = 0.12
"""Share of a coupon that must be near one colour before that counts as its unrusted colour."""


@dataclass(slots=True, eq=False)
class Differences:
    """A coupon against its base, at half the grid's size (h x w), light and the coupon's own shift taken off.

    Attributes:
        parts: difference in luminance, redness, yellowness, h x w x 3, nats.
        seen: luminance, redness, yellowness of the photo in the first photo's light, h x w x 3, nats.
        noise: spread of `departure` expected of an unrusted pixel.
        departure: how far towards rust, nats.
        surface: inside the outline and shown.
    """

    parts: Plane
    seen: Plane
    noise: Plane
    departure: Plane
    surface: Mask


def differences(half: Rgb, base: Base, light: LocalLight, surface: Mask) -> Differences:
    """Return a coupon's cut at half size against its base."""
    height, width = half.shape[:2]
    logs = cv2.subtract(logs_of(half), light.steps((height, width)))
    seen = parts_of(np.asarray(logs, np.int16))
    parts = softened(seen - parts_of(base.logs), 0.7, 3)
    noise = _noise(half, base)
    parts = parts - _own_shift(parts, surface)
    towards = rustwards(parts)
    # Rust is on the other side of the mode: the spread on this side is that of the photo itself.
    lower = towards[surface & (towards < 0) & (np.abs(parts[:, :, 0]) < _STEADY)][::3]
    if lower.size > _FEWEST:
        noise = np.maximum(noise, np.float32(np.median(-lower)))
    departure = np.asarray(towards - _explained(parts, seen, light, base.colour[0]), np.float32)
    return Differences(parts, seen, noise, departure, surface)


def _noise(half: Rgb, base: Base) -> Plane:
    levels = COLOUR_NOISE * np.float32(0.75 * RUSTWARDS.sum() / 2 + 0.25)
    noise = cv2.LUT(half[:, :, 1], levels)
    rough = base.rough_colour.astype(np.float32) * np.float32(0.5 / STEPS)
    return np.asarray(cv2.magnitude(noise, rough), np.float32)


def _own_shift(parts: Plane, surface: Mask) -> NDArray[np.float32]:
    """Return the shift of the coupon's own unrusted colour in this photo; none where no such colour stands out.

    Of luminance it is that of the darker places, so that sunlight and glare on others are what is lighter.
    """
    values = parts[surface][::2]
    red, share = mode_of(values[:, 1], _OWN_REACH, likely=_EXPECTED)
    if share < _OWN_SHARE:
        return np.zeros(3, np.float32)
    near = values[np.abs(values[:, 1] - red) < 0.1]
    yellow, _ = mode_of(near[:, 2], 2 * _OWN_REACH, likely=_EXPECTED)
    return np.array([np.quantile(near[:, 0], 0.25), red, yellow], np.float32)


def _explained(parts: Plane, seen: Plane, light: LocalLight, own_light: float) -> Plane:
    """Return how much of the departure light explains: sun where the first photo had shade, and glare.

    Sunlight is warmer than shade. Glare adds light of its own colour: of steel's colour, as far as it is bluer than
    that light, a share of exp(-brightening) is left. Where the first photo itself had glare, that comes back.
    """
    lighter = np.clip(parts[:, :, 0], 0, _MOST_LIGHTER)
    slope = light.sunny_red * RUSTWARDS[1] + light.sunny_yellow * RUSTWARDS[2]
    steel = seen - parts
    own = rustwards(steel)
    glare = np.maximum(np.float32(slope) - own, 0) * (1 - np.exp(-lighter))
    glared = np.clip(steel[:, :, 0] - np.float32(own_light + 0.15), 0, np.maximum(-parts[:, :, 0], 0))
    came_back = np.maximum(own, np.float32(0.1)) * np.expm1(np.minimum(glared, 1))
    return np.asarray(np.float32(slope) * lighter + glare + came_back, np.float32)
