"""Small means of drawing surfaces: noise stretched along a grain, soft shadows, colours laid over one another."""

from __future__ import annotations

from math import ceil

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageFilter

from rustboard.scales.noise import Field, smooth_noise

Colour = tuple[float, float, float]
Light = NDArray[np.float32]
"""A picture as light, H x W x 3, 0-255 and beyond, before it is clipped to bytes."""


def stretched_noise(
    shape: tuple[int, int], high: float, wide: float, seed: int, salt: int, gain: float = 0.55
) -> Field:
    """Return noise of about unit spread whose largest patches are ``high`` x ``wide`` pixels."""
    height, width = shape
    patch = min(high, wide)
    small = (ceil(height * patch / high) + 1, ceil(width * patch / wide) + 1)
    noise = smooth_noise(small, patch, seed, salt, gain)
    if small[0] <= height or small[1] <= width:
        image = Image.fromarray(np.ascontiguousarray(noise)).resize((width, height), Image.Resampling.BICUBIC)
        noise = np.asarray(image, np.float32)
    return noise[:height, :width]


def softened(mask: NDArray[np.float32], radius: float) -> NDArray[np.float32]:
    """Return a mask of 0 to 1 blurred by about ``radius`` pixels."""
    image = Image.fromarray(np.rint(mask * 255).astype(np.uint8)).filter(ImageFilter.GaussianBlur(radius))
    return np.asarray(image, np.float32) / np.float32(255)


def grey(level: Field, tint: Colour) -> Light:
    """Return a picture of one tint whose brightness is ``level``."""
    return level[:, :, None] * np.asarray(tint, np.float32)


def lay(under: Light, top: int, left: int, over: Light, cover: NDArray[np.float32]) -> None:
    """Lay a small picture over a large one, in place; ``cover`` says where and how opaque. What sticks out is cut."""
    height, width = cover.shape
    first_row, first_column = max(0, -top), max(0, -left)
    last_row, last_column = min(height, under.shape[0] - top), min(width, under.shape[1] - left)
    if first_row >= last_row or first_column >= last_column:
        return
    part = (slice(first_row, last_row), slice(first_column, last_column))
    target = under[top + first_row : top + last_row, left + first_column : left + last_column]
    target += (over[part] - target) * cover[part][:, :, None]


def disc(size: int, radius: float, centre: tuple[float, float] | None = None) -> NDArray[np.float32]:
    """Return a disc of 1 on 0 in a square of ``size`` pixels, its rim smooth over one pixel."""
    y0, x0 = centre or (size / 2, size / 2)
    y = np.arange(size, dtype=np.float32)[:, None] + np.float32(0.5 - y0)
    x = np.arange(size, dtype=np.float32)[None, :] + np.float32(0.5 - x0)
    covered: Field = np.clip(np.float32(radius + 0.5) - np.sqrt(x * x + y * y), 0, 1)
    return covered


def rounded_plate(shape: tuple[int, int], radius: float) -> NDArray[np.float32]:
    """Return how much of each pixel a plate with rounded corners covers that fills ``shape``."""
    height, width = shape
    y = np.abs(np.arange(height, dtype=np.float32) + np.float32(0.5 - height / 2))[:, None]
    x = np.abs(np.arange(width, dtype=np.float32) + np.float32(0.5 - width / 2))[None, :]
    dy = np.maximum(y - np.float32(height / 2 - radius), 0)
    dx = np.maximum(x - np.float32(width / 2 - radius), 0)
    covered: Field = np.clip(np.float32(radius + 0.5) - np.sqrt(dx * dx + dy * dy), 0, 1)
    return covered
