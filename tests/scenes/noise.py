"""Irregularity: clouds, brush lines, discs, and shapes with ragged edges."""

from __future__ import annotations

import cv2
import numpy as np

from scenes.colour import Plane
from scenes.randomness import Dice

Shape = tuple[int, int]


def cloud(
    dice: Dice, shape: Shape, scale: float | tuple[float, float], octaves: int = 4, gain: float = 0.55
) -> Plane:
    """Return irregular hills of mean about 0 and standard deviation about 1.

    Args:
        dice: chance.
        shape: height and width in pixels.
        scale: size of the largest hills in pixels, or (down, across) where they are stretched.
        octaves: how many times finer hills are added, each half as large. gain: how much lower they are each time.
    """
    down, across = scale if isinstance(scale, tuple) else (scale, scale)
    total = np.zeros(shape, np.float32)
    height, sum_of_squares = 1.0, 0.0
    for _ in range(octaves):
        total += np.float32(height) * _hills(dice, shape, down, across)
        sum_of_squares += height**2
        height, down, across = height * gain, down / 2, across / 2
        if max(down, across) < 0.7:
            break
    total *= np.float32(1 / sum_of_squares**0.5)
    return total


def _hills(dice: Dice, shape: Shape, down: float, across: float) -> Plane:
    rows = int(np.ceil(shape[0] / max(down, 1.0))) + 3
    columns = int(np.ceil(shape[1] / max(across, 1.0))) + 3
    coarse = dice.standard_normal((rows, columns), np.float32)
    if down <= 1 and across <= 1:
        return coarse[: shape[0], : shape[1]]
    # The coarse grid is laid over the picture at its own scale, so that hills do not depend on the picture's size.
    place = np.array([[max(across, 1.0), 0, 0], [0, max(down, 1.0), 0]], np.float64)
    smooth = cv2.warpAffine(coarse, place, (shape[1], shape[0]), flags=cv2.INTER_CUBIC, borderMode=cv2.BORDER_REFLECT)
    return smooth * np.float32(1.35)


def lines(dice: Dice, shape: Shape, length: float, fineness: float, angle_deg: float) -> Plane:
    """Return lines of a brush or abrasive paper, mean 0 and deviation about 1, running along an angle from across."""
    side = int(np.hypot(*shape)) + 4
    straight = cloud(dice, (side, side), (fineness, length), 3, 0.8)
    turn = cv2.getRotationMatrix2D((side / 2, side / 2), -angle_deg, 1.0)
    turned = cv2.warpAffine(straight, turn, (side, side), flags=cv2.INTER_LINEAR, borderMode=cv2.BORDER_REFLECT)
    top, left = (side - shape[0]) // 2, (side - shape[1]) // 2
    return turned[top : top + shape[0], left : left + shape[1]]


def step(value: Plane, low: float, high: float) -> Plane:
    """Return 0 below ``low``, 1 above ``high`` and a smooth rise between."""
    share = np.clip((value - np.float32(low)) * np.float32(1 / (high - low)), 0, 1)
    return share * share * (3 - 2 * share)


def disc_kernel(diameter: float) -> Plane:
    """Return a disc of sum 1: what a round source, or a lens out of focus, makes of a point."""
    reach = int(np.ceil(diameter / 2))
    y, x = np.mgrid[-reach : reach + 1, -reach : reach + 1].astype(np.float32)
    kernel = np.clip(diameter / 2 - np.hypot(x, y) + 0.5, 0, 1).astype(np.float32)
    return kernel / kernel.sum()


def blurred(picture: Plane, sigma: float) -> Plane:
    return picture if sigma < 0.15 else cv2.GaussianBlur(picture, (0, 0), sigma, borderType=cv2.BORDER_REFLECT)
