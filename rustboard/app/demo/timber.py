"""The board itself and the wall behind it: weathered planks, stone, limewash. All drawn by our own noise."""

from __future__ import annotations

from typing import Final, Literal

import numpy as np

from rustboard.app.demo.texture import Colour, Light, grey, softened, stretched_noise
from rustboard.scales.noise import Field, smooth_noise, uniform

Wall = Literal["stone", "limewash"]

_SILVER: Final[Colour] = (1.0, 0.962, 0.905)  # wood that has been out for years
_LEVEL: Final = 138.0
_KNOTS_A_PLANK: Final = 2


def weathered_planks(shape: tuple[int, int], plank_px: int, px_per_mm: float, seed: int) -> Light:
    """Return planks lying one above the other, grain along the width.

    Args:
        shape: height and width in pixels.
        plank_px: height of one plank.
        px_per_mm: resolution.
        seed: which wood.
    """
    picture = np.zeros((*shape, 3), np.float32)
    for number, top in enumerate(range(0, shape[0], plank_px)):
        height = min(plank_px, shape[0] - top)
        plank = _plank((height, shape[1]), px_per_mm, seed + 7 * number)
        picture[top : top + height] = plank
    return picture


def _plank(shape: tuple[int, int], unit: float, seed: int) -> Light:
    phase = _rings(shape, unit, seed)
    ridge = np.abs((phase - np.floor(phase)) * np.float32(2) - 1)  # saw tooth: hard late wood stands out
    fibre = stretched_noise(shape, 1.2 * unit, 50 * unit, seed, 3, 0.8)
    hair = stretched_noise(shape, 0.5 * unit, 14 * unit, seed, 4, 0.7)
    cloud = stretched_noise(shape, 30 * unit, 160 * unit, seed, 5)
    tone, warmth = uniform(seed, 6, 2)
    level = np.float32(_LEVEL + 14 * (tone - 0.5)) + np.float32(9) * (ridge - np.float32(0.5))
    level += np.float32(5.5) * fibre + np.float32(3.5) * hair + np.float32(5) * cloud
    crack = np.clip((fibre + np.float32(0.5) * hair - np.float32(2.15)) * np.float32(1.6), 0, 1)
    level *= 1 - np.float32(0.5) * crack
    level *= _plank_edges(shape[0], unit)
    warm = float(0.03 * (warmth - 0.5))
    picture = grey(level, (_SILVER[0] + warm, _SILVER[1], _SILVER[2] - warm))
    picture *= 1 + cloud[:, :, None] * np.array([0.012, 0.0, -0.014], np.float32)
    return picture


def _rings(shape: tuple[int, int], unit: float, seed: int) -> Field:
    """Return the count of annual rings at each pixel: even lines, drifting, and drawn around knots."""
    height, width = shape
    drift = stretched_noise(shape, 40 * unit, 260 * unit, seed, 1, 0.4)
    phase = np.arange(height, dtype=np.float32)[:, None] / np.float32(5.5 * unit) + np.float32(1.7) * drift
    y = np.arange(height, dtype=np.float32)[:, None]
    x = np.arange(width, dtype=np.float32)[None, :]
    for down, right, size in uniform(seed, 2, _KNOTS_A_PLANK, 3):
        reach = float(unit * (5 + 6 * size))
        dy = (y - np.float32(down * height)) / np.float32(reach)
        dx = (x - np.float32(right * width)) / np.float32(2.6 * reach)
        near = dy * dy + dx * dx
        # Close to the knot the rings run round it, farther out they only bend.
        phase = phase + np.sign(dy) * np.float32(1.8) * np.exp(-near) + np.float32(2.5) * np.exp(-6 * near)
    rings: Field = phase.astype(np.float32)
    return rings


def _plank_edges(height: int, unit: float) -> Field:
    """Return the light down a plank's height: dark gaps above and below, the arrises worn round."""
    from_edge = np.minimum(np.arange(height) + 0.5, height - 0.5 - np.arange(height)) / unit
    gap = np.clip((from_edge - 0.35) / 0.5, 0.22, 1)
    worn = 1 - 0.16 * np.exp(-from_edge / 1.6)
    light: Field = (gap * worn).astype(np.float32)[:, None]
    return light


def wall(shape: tuple[int, int], kind: Wall, px_per_mm: float, seed: int) -> Light:
    """Return the wall behind the board, a little out of focus."""
    level = np.float32(6) * smooth_noise(shape, 26 * px_per_mm, seed, 31, 0.7)
    level += np.float32(4) * smooth_noise(shape, 2 * px_per_mm, seed, 32, 0.6)
    if kind == "limewash":
        return grey(level * np.float32(0.6) + np.float32(186), (1.0, 0.985, 0.95))
    level += np.float32(96)
    level *= 1 - np.float32(0.35) * softened(_joints(shape, px_per_mm, seed), 0.8 * px_per_mm)
    stones = smooth_noise(shape, 90 * px_per_mm, seed, 33, 0.3)
    picture = grey(level + np.float32(5) * stones, (1.0, 0.985, 0.96))
    picture *= 1 + stones[:, :, None] * np.array([0.012, 0.004, -0.016], np.float32)
    return picture


def _joints(shape: tuple[int, int], unit: float, seed: int) -> Field:
    """Return the joints between stones as 1 on 0: courses of uneven height, set off sideways."""
    joints = np.zeros(shape, np.float32)
    thick = max(1, round(3.2 * unit))
    course = round(118 * unit)
    for number, top in enumerate(range(-course // 3, shape[0], course)):
        joints[max(0, top) : max(0, top + thick)] = 1
        for place in uniform(seed, 40 + number, 4):
            left = round(float(place) * shape[1])
            joints[max(0, top) : max(0, top + course), left : left + thick] = 1
    return joints
