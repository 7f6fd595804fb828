"""Deterministic random numbers and smooth noise for drawn surfaces.

Only additions, multiplications and the raw bit stream of PCG64 are used, so that a seed draws the same picture on
every machine and with every numpy: the stream of the higher level generators may change between versions.
"""

from __future__ import annotations

from math import ceil

import numpy as np
from numpy.typing import NDArray

Field = NDArray[np.float32]


def uniform(seed: int, salt: int, *shape: int) -> Field:
    """Return numbers in [0, 1) of the given shape; every pair of seed and salt is its own stream."""
    wanted = int(np.prod(shape))
    # Each raw draw holds 64 random bits: two numbers of 24 bits, all that float32 can tell apart in [0, 1).
    raw = np.random.PCG64([seed % 2**64, salt]).random_raw((wanted + 1) // 2).view(np.uint32)[:wanted]
    return ((raw >> np.uint32(8)).astype(np.float32) * np.float32(2.0**-24)).reshape(shape)


def _doubled(grid: Field) -> Field:
    """Return a grid at twice the resolution, smoothed as a quadratic B-spline: n samples become 2 (n - 1)."""
    for axis in (0, 1):
        first, second = (grid[:-1], grid[1:]) if axis == 0 else (grid[:, :-1], grid[:, 1:])
        size = list(grid.shape)
        size[axis] = 2 * (size[axis] - 1)
        finer = np.empty(size, np.float32)
        even, odd = (finer[0::2], finer[1::2]) if axis == 0 else (finer[:, 0::2], finer[:, 1::2])
        np.multiply(first, np.float32(0.75), out=even)
        even += np.float32(0.25) * second
        np.multiply(first, np.float32(0.25), out=odd)
        odd += np.float32(0.75) * second
        grid = finer
    return grid


def smooth_noise(shape: tuple[int, int], coarsest: float, seed: int, salt: int, gain: float = 0.55) -> Field:
    """Return noise of zero mean and about unit spread whose patches run from ``coarsest`` pixels down to one or two.

    Args:
        shape: height and width in pixels.
        coarsest: size in pixels of the largest patches.
        seed: of the whole drawing.
        salt: of this noise within the drawing.
        gain: how much weaker each halving of patch size is; higher is rougher.
    """
    halvings = max(0, round(np.log2(max(coarsest, 1.0))))
    # Doubling turns n into 2 n - 2 samples, so ceil(size / step) + 3 suffice at every level.
    grid = uniform(seed, salt, *(ceil(size / 2**halvings) + 3 for size in shape)) - np.float32(0.5)
    strength = 1.0
    total = 1.0
    for level in range(1, halvings + 1):
        grid = _doubled(grid)
        needed = tuple(ceil(size / 2 ** (halvings - level)) + 3 for size in shape)
        grid = grid[: needed[0], : needed[1]]
        strength *= gain
        total += strength * strength
        grid += np.float32(strength) * (uniform(seed, salt * 1000 + level, *grid.shape) - np.float32(0.5))
    # Uniform numbers spread by 1 / sqrt(12); smoothing leaves about half of that.
    scale = np.float32(6.0 / total**0.5)
    field: Field = grid[: shape[0], : shape[1]] * scale
    return field
