"""The drawn coupons of an exercise, each with exactly the rusted area that is told afterwards."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from rustboard.scales.noise import Field, smooth_noise, uniform
from rustboard.scales.practice import PracticeCoupon
from rustboard.scales.practice_looks import Look, Shape
from rustboard.scales.resizing import Rgb
from rustboard.scales.rust_fields import growth_order, rusted
from rustboard.scales.rust_grade import grade_from_percent
from rustboard.scales.rust_paint import bare_steel, paint_rust

Mask = NDArray[np.bool_]

LEAST_COUNTED: Final = 1_000_000
"""Counted pixels of every coupon: a pixel is then a hundredth of the upper limit of grade 10, or less."""

_GREY: Final = 170.0  # the middle of `bare_steel`
_CORNER: Final = 0.025  # radius of a rectangle's corners, by its shorter side
_HOLE: Final = 0.035  # radius of the hole, by the shorter side


@dataclass(frozen=True, slots=True, eq=False)
class PaintedCoupon:
    """A coupon of an exercise as it is shown, and the truth about it.

    Attributes:
        coupon: what was drawn.
        rgb: H x W x 3, 0-255, read-only.
        steel: H x W, where the coupon is; all of it counts.
        rust: H x W, where it is rusted.
        percent: rusted pixels in percent of those of the coupon, counted in the masks: the truth.
    """

    coupon: PracticeCoupon
    rgb: Rgb
    steel: Mask
    rust: Mask
    percent: float

    @property
    def grade(self) -> int:
        """The grade of the area really painted."""
        return grade_from_percent(self.percent)


def paint_coupon(coupon: PracticeCoupon) -> PaintedCoupon:
    """Draw a coupon of an exercise; the same coupon is always drawn the same."""
    steel = _outline(coupon.shape)
    shape = (steel.shape[0], steel.shape[1])
    coarse, edges, turned = (float(each) for each in uniform(coupon.seed, 71, 3))
    order = growth_order(
        shape, steel, coupon.distribution, coupon.seed, coarseness=0.7 + 0.8 * coarse, edge_weight=0.9 * edges
    )
    ground = _ground(shape, coupon.look, coupon.seed, lying=turned < 0.5)
    rgb = paint_rust(ground, order, coupon.percent, coupon.seed)
    rust = rusted(order, coupon.percent)
    for each in (rgb, steel, rust):
        each.flags.writeable = False
    percent = 100 * int(np.count_nonzero(rust)) / int(np.count_nonzero(steel))
    return PaintedCoupon(coupon, rgb, steel, rust, percent)


def _outline(shape: Shape) -> Mask:
    """Return the pixels of a coupon, at least `LEAST_COUNTED` of them, in a picture with no room around it."""
    # A disc fills pi / 4 of its square; corners and hole take less than a hundredth.
    area = LEAST_COUNTED * (1.29 if shape.round else 1.01)
    width = round((area / shape.height_to_width) ** 0.5)
    height = round(width * shape.height_to_width)
    shorter = min(width, height)
    down = (np.arange(height) + 0.5)[:, None]
    right = (np.arange(width) + 0.5)[None, :]
    radius = shorter / 2 if shape.round else _CORNER * shorter
    # Distance beyond the rectangle that remains when the corners' radius is taken off on all sides.
    beyond_down = np.maximum(np.abs(down - height / 2) - (height / 2 - radius), 0)
    beyond_right = np.maximum(np.abs(right - width / 2) - (width / 2 - radius), 0)
    inside: Mask = beyond_down**2 + beyond_right**2 <= radius**2
    if shape.hole:
        hole = (down - 0.09 * shorter) ** 2 + (right - width / 2) ** 2 <= (_HOLE * shorter) ** 2
        inside &= ~hole
    return inside


def _ground(shape: tuple[int, int], look: Look, seed: int, *, lying: bool) -> Rgb:
    """Return bare steel of a look; ``lying``: its lines run across."""
    if look.lay == "brushed":
        drawn = bare_steel((shape[1], shape[0]), seed)[..., 1].T if lying else bare_steel(shape, seed)[..., 1]
        texture = (drawn.astype(np.float32) - np.float32(_GREY)) * np.float32(look.strength)
    else:
        texture = _even_texture(shape, look, seed)
    clouds = smooth_noise(shape, max(shape) / 3, seed, 72, 0.6) * np.float32(look.clouds)
    # Light falls from one side, a little more on some coupons than on others.
    slope = (uniform(seed, 73, 2) - np.float32(0.5)) * np.float32(16)
    down = np.linspace(-1, 1, shape[0], dtype=np.float32)[:, None]
    right = np.linspace(-1, 1, shape[1], dtype=np.float32)[None, :]
    light = texture + clouds + slope[0] * down + slope[1] * right
    shift = (uniform(seed, 74, 3) - np.float32(0.5)) * np.float32(6)
    colour = np.array(look.colour, np.float32) + shift
    # Multiplied, so that a dark steel varies less than a bright one, as it does in life.
    painted = colour * (1 + light[:, :, None] / np.float32(_GREY))
    ground: Rgb = np.clip(np.rint(painted), 0, 255).astype(np.uint8)
    return ground


def _even_texture(shape: tuple[int, int], look: Look, seed: int) -> Field:
    grain = uniform(seed, 75, *shape) - np.float32(0.5)
    if look.lay == "blasted":
        pits = smooth_noise(shape, 6, seed, 76, 0.8)
        return (np.float32(18) * grain + np.float32(5) * pits) * np.float32(look.strength)
    bands = smooth_noise(shape, 60, seed, 77, 0.7)
    return (np.float32(8) * grain + np.float32(7) * bands) * np.float32(look.strength)
