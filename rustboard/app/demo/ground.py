"""What a coupon looks like before it rusts: brushed steel under wax, oil, lanolin or phosphate."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from rustboard.app.demo.texture import Colour, stretched_noise
from rustboard.scales.noise import Field, smooth_noise, uniform
from rustboard.scales.resizing import Rgb
from rustboard.scales.rust_paint import bare_steel


@dataclass(frozen=True, slots=True)
class Look:
    """How a treatment changes bare steel in the eye. Set by eye; strengths in shares of the brightness.

    Attributes:
        tint: what of the steel's red, green and blue is left.
        contrast: how much of the brushing still shows.
        clouds: unevenness in patches, such as wax rubbed on by hand.
        streaks: unevenness along the height, such as oil that has run.
        crystals: fine speckle.
        pooled: how much darker the lower end is, where it ran together.
        dulls: what eight weeks outdoors take of its red, green and blue where it does not rust.
    """

    tint: Colour
    contrast: float = 1.0
    clouds: float = 0.015
    streaks: float = 0.01
    crystals: float = 0.0
    pooled: float = 0.0
    dulls: Colour = (0.04, 0.05, 0.06)


LOOKS: Final[dict[str, Look]] = {
    "T1": Look((0.85, 0.78, 0.665), contrast=0.75, clouds=0.035, streaks=0.02),  # beeswax: warm, rubbed
    "T2": Look((0.40, 0.345, 0.295), contrast=0.5, clouds=0.05, streaks=0.05, pooled=0.14),  # baked oil: dark glaze
    "T3": Look((0.985, 0.95, 0.86), contrast=0.8, clouds=0.03, streaks=0.025, pooled=0.03),  # lanolin: pale yellow
    "T4": Look((0.90, 0.885, 0.86), contrast=0.85, clouds=0.022),  # clear wax, satin
    "T5": Look((0.385, 0.385, 0.405), contrast=0.3, clouds=0.04, crystals=0.075),  # phosphate: blue-black, matt
    "T6": Look((0.89, 0.87, 0.83), clouds=0.015, streaks=0.04, pooled=0.04, dulls=(0.10, 0.12, 0.15)),  # oil, wiped
    "T7": Look((1.06, 1.045, 1.025), contrast=1.25, dulls=(0.19, 0.21, 0.24)),  # bare
}


def coupon_ground(look: Look, shape: tuple[int, int], seed: int) -> Rgb:
    """Return a coupon's face without rust, H x W x 3.

    Args:
        look: of its treatment.
        shape: height and width in pixels.
        seed: which coupon.
    """
    steel = bare_steel(shape, seed).astype(np.float32)
    mean = steel.mean(axis=(0, 1))
    level = _unevenness(look, shape, seed)
    face = (mean + (steel - mean) * np.float32(look.contrast)) * np.asarray(look.tint, np.float32)
    face *= level[:, :, None]
    ground: Rgb = np.clip(np.rint(face), 0, 255).astype(np.uint8)
    return ground


def _unevenness(look: Look, shape: tuple[int, int], seed: int) -> Field:
    height, width = shape
    level = 1 + np.float32(look.clouds) * smooth_noise(shape, width / 2, seed, 71, 0.5)
    level += np.float32(look.streaks) * stretched_noise(shape, height / 2, width / 12, seed, 72, 0.6)
    if look.crystals:
        level += np.float32(look.crystals) * smooth_noise(shape, 3, seed, 73, 0.9)
    # The sky in the steel: every coupon hangs at a slightly other angle.
    tilt, bow = uniform(seed, 74, 2)
    down = np.linspace(0, 1, height, dtype=np.float32)[:, None]
    across = np.linspace(-0.5, 0.5, width, dtype=np.float32)[None, :]
    level += np.float32(0.10) * (np.float32(0.5) - down) * (np.float32(0.6) + tilt)
    level += np.float32(0.07) * (tilt - np.float32(0.5)) * across - np.float32(0.10) * bow * across * across
    if look.pooled:
        level -= np.float32(look.pooled) * down**6
    return level


def edge_light(shape: tuple[int, int], px_per_mm: float) -> Field:
    """Return the light along a plate's filed edges, lit from the top left, as a factor for each pixel."""
    height, width = shape
    y = (np.arange(height, dtype=np.float32) + np.float32(0.5)) / np.float32(px_per_mm)
    x = (np.arange(width, dtype=np.float32) + np.float32(0.5)) / np.float32(px_per_mm)
    near_top, near_left = np.exp(-((y / 0.45) ** 2))[:, None], np.exp(-((x / 0.45) ** 2))[None, :]
    near_bottom, near_right = near_top[::-1], near_left[:, ::-1]
    level = 1 + np.float32(0.20) * np.maximum(near_top, near_left)
    level *= 1 - np.float32(0.38) * np.maximum(near_bottom, near_right)
    light: Field = level.astype(np.float32)
    return light
