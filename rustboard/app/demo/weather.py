"""What lies on a coupon for a day and is no rust: drops of rain, a bird's dropping."""

from __future__ import annotations

from typing import Final

import numpy as np

from rustboard.app.demo.texture import disc, grey, lay
from rustboard.scales.noise import smooth_noise, uniform
from rustboard.scales.resizing import Rgb

_BEADS: Final = 70
_CHALK: Final = (1.0, 0.99, 0.93)


def with_beads(face: Rgb, px_per_mm: int, seed: int) -> Rgb:
    """Return a face strewn with drops: dark above, where they mirror the ground, with a bright spot of sky."""
    picture = face.astype(np.float32) * np.float32(0.93)
    for down, right, size, _ in uniform(seed, 91, _BEADS, 4):
        radius = float((0.35 + 1.3 * size**3) * px_per_mm)
        span = 2 * int(radius) + 4
        top, left = int(down * face.shape[0]) - span // 2, int(right * face.shape[1]) - span // 2
        body = disc(span, radius)
        slope = np.linspace(-1, 1, span, dtype=np.float32)[:, None] * np.ones((1, span), np.float32)
        spark = disc(span, max(0.5, 0.28 * radius), (span / 2 - 0.35 * radius, span / 2 - 0.35 * radius))
        lay(picture, top, left, grey(np.float32(150) + np.float32(60) * slope, (0.97, 1.0, 1.03)), body * 0.3)
        lay(picture, top, left, grey(np.full((span, span), 250, np.float32), (1, 1, 1)), spark * 0.8)
    beaded: Rgb = np.clip(np.rint(picture), 0, 255).astype(np.uint8)
    return beaded


def bird_dropping(face: Rgb, px_per_mm: int, seed: int) -> Rgb:
    """Return a face with a bird's dropping across its middle that has run down."""
    shape = face.shape[:2]
    y = (np.arange(shape[0], dtype=np.float32)[:, None] - np.float32(0.36 * shape[0])) / np.float32(px_per_mm)
    x = (np.arange(shape[1], dtype=np.float32)[None, :] - np.float32(0.55 * shape[1])) / np.float32(px_per_mm)
    ragged = smooth_noise((shape[0], shape[1]), 7 * px_per_mm, seed, 92, 0.6)
    blot = 9 - np.sqrt(x * x + y * y) + 2.2 * ragged
    run = 3.0 - np.abs(x + 2 + 0.8 * ragged) - 0.045 * np.maximum(y, 0) - 40 * (y < 0)
    run = np.minimum(run, 42 - y + 6 * ragged)
    thick = np.maximum(blot, run)
    cover = np.clip(thick * np.float32(0.9), 0, np.float32(0.97)).astype(np.float32)
    level = np.float32(226) + np.float32(8) * ragged
    dark = np.clip((np.float32(2.2) - np.sqrt((x - 2) ** 2 + (y + 2) ** 2) + 1.8 * ragged) * np.float32(0.35), 0, 1)
    level = level * (1 - np.float32(0.5) * dark)
    picture = face.astype(np.float32)
    lay(picture, 0, 0, grey(level.astype(np.float32), _CHALK), cover)
    soiled: Rgb = np.clip(np.rint(picture), 0, 255).astype(np.uint8)
    return soiled
