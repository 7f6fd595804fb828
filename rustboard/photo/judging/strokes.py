"""A person's brush: discs along a path that add rust to a photo's mask or take it away."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, floor, hypot, isfinite

import numpy as np

from rustboard.board.model import Outline
from rustboard.photo.judging.masks import Masks
from rustboard.photo.looks import CouponFrame, Mask
from rustboard.support.problems import InputError


@dataclass(frozen=True, slots=True)
class Stroke:
    """One stroke of the brush on one coupon in one photo.

    Attributes:
        adds: whether it adds rust or takes it away.
        radius_mm: of the brush.
        path_mm: places on the board, at least one, where the record has the coupon.
    """

    adds: bool
    radius_mm: float
    path_mm: Outline

    def __post_init__(self) -> None:
        numbers = [self.radius_mm, *(number for point in self.path_mm for number in point)]
        if not self.path_mm or self.radius_mm <= 0 or not all(isfinite(number) for number in numbers):
            raise InputError("A brush stroke needs a radius above 0 mm and at least one place in mm; draw it again.")


@dataclass(frozen=True, slots=True, eq=False)
class Painted:
    """What strokes leave behind (both H x W, disjoint): where a person says rust, and where no rust."""

    added: Mask
    removed: Mask


def painted(strokes: Sequence[Stroke], frame: CouponFrame) -> Painted:
    """Return what strokes leave on a coupon's grid; a later stroke overrides an earlier one.

    A pixel belongs to a stroke when its centre is no farther from the path than the brush's radius.
    """
    added, removed = np.zeros(frame.shape, np.bool_), np.zeros(frame.shape, np.bool_)
    for stroke in strokes:
        path = frame.on_grid(stroke.path_mm)
        under = painted_on(frame.shape, path, stroke.radius_mm * frame.pixels_per_mm)
        added, removed = (added | under, removed & ~under) if stroke.adds else (added & ~under, removed | under)
    return Painted(added, removed)


def painted_on(shape: tuple[int, int], path_px: Sequence[tuple[float, float]], radius_px: float) -> Mask:
    """Return the pixels under a stroke: those whose centre is no farther from the path than the radius.

    Args:
        shape: height and width of the grid.
        path_px: places on the grid, at least one.
        radius_px: of the brush.
    """
    under = np.zeros(shape, np.bool_)
    for start, end in zip(path_px, path_px[1:] or path_px, strict=False):
        _brush(under, start, end, radius_px)
    return under


def with_strokes(masks: Masks, strokes: Sequence[Stroke], frame: CouponFrame) -> Masks:
    """Return masks as a person has corrected them."""
    return corrected(masks, painted(strokes, frame)) if strokes else masks


def corrected(masks: Masks, drawn: Painted) -> Masks:
    """Return masks with what a person has drawn: rust where added, neither rust nor unseen where removed."""
    rust = (masks.rust | drawn.added) & ~drawn.removed
    return Masks(rust, masks.debris & ~rust, masks.unseen & ~(rust | drawn.removed))


def _brush(under: Mask, start: tuple[float, float], end: tuple[float, float], radius: float) -> None:
    """Set the pixels within ``radius`` of the line from start to end."""
    height, width = under.shape
    top = max(0, floor(min(start[1], end[1]) - radius))
    bottom = min(height, ceil(max(start[1], end[1]) + radius) + 1)
    left = max(0, floor(min(start[0], end[0]) - radius))
    right = min(width, ceil(max(start[0], end[0]) + radius) + 1)
    if top >= bottom or left >= right:
        return
    y = np.arange(top, bottom, dtype=np.float64)[:, None] + 0.5 - start[1]
    x = np.arange(left, right, dtype=np.float64)[None, :] + 0.5 - start[0]
    dx, dy = end[0] - start[0], end[1] - start[1]
    length = hypot(dx, dy)
    along = np.clip((x * dx + y * dy) / length**2, 0, 1) if length else np.zeros((1, 1))
    touched = (x - along * dx) ** 2 + (y - along * dy) ** 2 <= radius**2
    under[top:bottom, left:right] |= touched
