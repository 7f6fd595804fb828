"""How drawn rust and bare steel look: colours and textures of our own, to be recognised and not measured.

Old rust is painted darker than young, as makers see it; the colours claim nothing about what the rust is made of.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

from rustboard.scales.noise import smooth_noise, uniform
from rustboard.scales.resizing import Rgb
from rustboard.scales.rust_fields import Mask, Order, rusted_count

_TONES: Final = 192
_SHADES: Final = 64

_RUST_TONES: Final[tuple[tuple[float, tuple[int, int, int]], ...]] = (
    (0.00, (201, 126, 64)),  # the youngest rust, at the rim: light orange
    (0.18, (184, 100, 40)),
    (0.45, (152, 76, 31)),
    (0.72, (116, 57, 29)),
    (1.00, (70, 40, 28)),  # the oldest: near black brown
)
"""sRGB colours by age, youngest first."""


@lru_cache(maxsize=1)
def _palette() -> NDArray[np.uint8]:
    """Return the colours by tone and shade, one after another: tone by tone, _SHADES rows each."""
    ages = [age for age, _ in _RUST_TONES]
    at = np.linspace(0, 1, _TONES)
    bands = [[colour[band] for _, colour in _RUST_TONES] for band in range(3)]
    tones = np.stack([np.interp(at, ages, band) for band in bands], axis=1)
    shades = np.linspace(0.62, 1.38, _SHADES)
    painted = tones[:, None, :] * shades[None, :, None]
    palette: NDArray[np.uint8] = np.clip(np.rint(painted), 0, 255).astype(np.uint8).reshape(-1, 3)
    return palette


@lru_cache(maxsize=2)
def _skin(shape: tuple[int, int], seed: int) -> tuple[NDArray[np.int8], NDArray[np.uint8]]:
    """Return what rust of any age looks like in its grain: shifts of tone, and shades of light and dark.

    The shades are those of a crust lit from the top left: differences of a height, with fine grain added.
    """
    size = (shape[0] * shape[1]) ** 0.5
    patches = smooth_noise(shape, size / 16, seed, 51, 0.75)
    tone_shift = np.clip(patches * np.float32(0.11 * _TONES), -100, 100).astype(np.int8)
    height = smooth_noise(shape, max(2.0, size / 120), seed, 52, 0.8)
    relief = np.zeros(shape, np.float32)
    relief[1:, 1:] = height[1:, 1:] - height[:-1, :-1]
    relief *= np.float32(0.26)
    relief += np.float32(0.20) * (uniform(seed, 53, *shape) - np.float32(0.5))
    shade = np.clip((relief + np.float32(0.5)) * _SHADES, 0, _SHADES - 1).astype(np.uint8)
    return tone_shift, shade


def paint_rust(rgb: Rgb, order: Order, percent: float, seed: int) -> Rgb:
    """Return a copy of a picture with the first ``percent`` of a growth order painted as rust.

    Exactly the pixels that `rust_fields.rusted` marks are changed. The oldest, which rusted first, are the darkest,
    and darker the more has rusted since.

    Args:
        rgb: H x W x 3, 0-255; any ground.
        order: H x W ranks of `rust_fields.growth_order`.
        percent: 0-100 of the counted pixels.
        seed: which grain; the same seed keeps the grain in place while rust grows.
    """
    painted = rgb.copy()
    count = rusted_count(order, percent)
    if not count:
        return painted
    ranks = order.ravel()
    # As unsigned numbers the -1 of a pixel that does not count is the greatest: one comparison does for both.
    places = np.flatnonzero(ranks.view(np.uint32) < count)
    tone_shift, shade = _skin((order.shape[0], order.shape[1]), seed)
    colour = _colours(ranks[places], count, percent, tone_shift.ravel()[places], shade.ravel()[places])
    painted.reshape(-1, 3)[places] = _palette()[colour]
    return painted


def _colours(
    ranks: NDArray[np.int32], count: int, percent: float, tone_shift: NDArray[np.int8], shade: NDArray[np.uint8]
) -> NDArray[np.int32]:
    """Return which colour of the palette each rusted pixel has, of ``count`` in all."""
    age = 1 - ranks.astype(np.float32) / np.float32(count)
    # Little rust is young all over; much rust has had time to darken.
    oldest = 0.62 + 0.38 * min(1.0, percent / 30)
    tone = (age * np.float32(oldest * (_TONES - 1))).astype(np.int16) + tone_shift
    np.clip(tone, 0, _TONES - 1, out=tone)
    colours: NDArray[np.int32] = tone.astype(np.int32) * _SHADES + shade
    return colours


@dataclass(frozen=True, slots=True, eq=False)
class GrowingRust:
    """A surface made ready so that any percent of it is painted in a moment, for a slider.

    The pictures are those of `paint_rust`. What does not depend on the percent is worked out once, and laid out in
    the order in which the pixels rust: each percent is then the beginning of it.

    Attributes:
        ground: H x W, colours as ``0xAARRGGBB``; nothing (0) where the surface is not to be seen.
        places: of the counted pixels in ``ground`` read row by row, in the order in which they rust.
        tone_shift, shade: of the same pixels in the same order, their grain.
    """

    ground: NDArray[np.uint32]
    places: NDArray[np.int32]
    tone_shift: NDArray[np.int8]
    shade: NDArray[np.uint8]

    def rusted_pixels(self, percent: float) -> int:
        """Return how many pixels are rust at ``percent`` (0-100) of the counted ones, to the nearest."""
        return round(percent / 100 * self.places.size)

    def painted(self, percent: float) -> NDArray[np.uint32]:
        """Return the surface with this percent (0-100) of its counted pixels rusted, as ``ground`` is kept."""
        painted = self.ground.copy()
        count = self.rusted_pixels(percent)
        if count:
            ranks = np.arange(count, dtype=np.int32)
            colour = _colours(ranks, count, percent, self.tone_shift[:count], self.shade[:count])
            painted.ravel()[self.places[:count]] = _packed(_palette())[colour]
        return painted


def growing_rust(rgb: Rgb, order: Order, seed: int, shown: Mask | None = None) -> GrowingRust:
    """Return a picture made ready to be painted at any percent.

    Args:
        rgb: H x W x 3, 0-255; any ground.
        order: H x W ranks of `rust_fields.growth_order`.
        seed: which grain.
        shown: H x W, what of the picture is to be seen, or None for all of it.
    """
    ranks = order.ravel()
    counted = np.flatnonzero(ranks >= 0).astype(np.int32)
    places = np.empty(counted.size, np.int32)
    places[ranks[counted]] = counted
    tone_shift, shade = _skin((order.shape[0], order.shape[1]), seed)
    ground = _packed(rgb)
    if shown is not None:
        ground[~shown] = 0
    return GrowingRust(ground, places, tone_shift.ravel()[places], shade.ravel()[places])


def _packed(colours: NDArray[np.uint8]) -> NDArray[np.uint32]:
    """Return colours, whose last axis is red, green, blue, as opaque ``0xAARRGGBB``."""
    wide = colours.astype(np.uint32)
    packed = np.full(wide.shape[:-1], 0xFF000000, np.uint32)
    for band, shift in enumerate((16, 8, 0)):
        packed |= wide[..., band] << np.uint32(shift)
    return packed


def bare_steel(shape: tuple[int, int], seed: int) -> Rgb:
    """Return a picture of bare steel brushed along its height: fine grey lines on a soft sheen.

    Args:
        shape: height and width in pixels.
        seed: which drawing.
    """
    height, width = shape
    brushed = uniform(seed, 61, height, width)
    # Columns of zero mean make the running sums below close on themselves when rolled.
    brushed -= brushed.mean(axis=0)
    for reach in (max(2, height // 40), max(2, height // 12)):
        running = np.cumsum(brushed, axis=0, dtype=np.float32)
        brushed = brushed + (running - np.roll(running, reach, axis=0)) * np.float32(1.6 / reach**0.5)
    sheen = smooth_noise(shape, max(height, width) / 2, seed, 62, 0.4)
    grey = np.float32(170) + np.float32(4.0) * sheen + np.clip(np.float32(2.6) * brushed, -9, 9)
    tint = np.array([0.985, 1.0, 1.02], np.float32)
    steel: Rgb = np.clip(grey[:, :, None] * tint, 0, 255).astype(np.uint8)
    return steel
