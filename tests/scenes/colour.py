"""Colours as linear light, 1 = a perfectly white surface; named ones are given as sRGB values of a photograph."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Plane = NDArray[np.float32]
"""H x W, or H x W x 3 in the order red, green, blue."""

BRIGHTNESS = np.array([0.2126, 0.7152, 0.0722], np.float32)
"""Share of red, green and blue in luminance (ITU-R BT.709, the primaries of sRGB)."""


def linear(srgb: object) -> Plane:
    """Return sRGB values 0-255 as linear light 0-1 (IEC 61966-2-1)."""
    value = np.asarray(srgb, np.float32) / np.float32(255)
    return np.where(value <= 0.04045, value / 12.92, ((value + 0.055) / 1.055) ** 2.4).astype(np.float32)


def encoded(light: Plane) -> Plane:
    """Return linear light 0-1 as sRGB values 0-1 (IEC 61966-2-1)."""
    value = np.clip(light, 0, 1)
    return np.where(value <= 0.0031308, value * 12.92, 1.055 * value ** (1 / 2.4) - 0.055).astype(np.float32)


def saturated(light: Plane, factor: float) -> Plane:
    """Return colours farther from (factor > 1) or nearer to grey of the same luminance."""
    grey = light @ BRIGHTNESS
    return np.maximum(grey[..., None] + (light - grey[..., None]) * np.float32(factor), 0)


def wetted(light: Plane, amount: float = 1.0) -> Plane:
    """Return how a rough surface looks under a film of water.

    Light that leaves the surface is partly thrown back by the water's skin, so that dark colours lose more than
    bright ones (Lekner and Dorf, "Why some things are darker when wet", 1988): a/(1 + k (1 - a)), k about 1.
    """
    return light / (1 + np.float32(1.1 * amount) * (1 - np.minimum(light, 1)))
