"""One painted coupon: its ground, the order in which it rusts, and its face at any percent."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from rustboard.app.demo.ground import LOOKS, Look, coupon_ground, edge_light
from rustboard.app.demo.scenario import COUPON_HEIGHT_MM, COUPON_WIDTH_MM, EDGE_MARGIN_MM
from rustboard.scales.noise import Field
from rustboard.scales.resizing import Rgb
from rustboard.scales.rust_fields import Distribution, Mask, Order, growth_order, rusted
from rustboard.scales.rust_paint import paint_rust
from rustboard.scales.surface import significant_surface

FACE_PX_PER_MM: Final = 6
FACE_SHAPE: Final = (round(COUPON_HEIGHT_MM * FACE_PX_PER_MM), round(COUPON_WIDTH_MM * FACE_PX_PER_MM))

_EDGE_WEIGHT: Final = 0.6
_LOWER_EDGE_LEAD: Final = 0.55
"""How much sooner, as a share, it rusts at the lower edge, where drops hang longest."""
_LOWER_EDGE_REACH: Final = 0.16  # of the height
_LATE_DAYS: Final = 56.0
_EARTH: Final = np.array([126, 84, 56], np.float32)
_EARTH_SHARE: Final = 0.42
"""The rust of the reference pictures is meant to stand out; weeks of rain and dust leave it earthier."""


@dataclass(frozen=True, slots=True, eq=False)
class PaintedCoupon:
    """One coupon's face, H x W of `FACE_SHAPE`, outline to outline.

    Attributes:
        look: of its treatment.
        ground: the face on day zero.
        order: ranks in which the pixels rust, edges included.
        counted: the significant surface.
        leading: ranks of the significant pixels, least first.
        seed: of the rust's grain.
    """

    look: Look
    ground: Rgb
    order: Order
    counted: Mask
    leading: NDArray[np.int32]
    seed: int

    def percent_of_face(self, percent: float) -> float:
        """Return how much of the whole face is rusted when ``percent`` of its significant surface is, exactly."""
        wanted = round(percent / 100 * self.leading.size)
        if not wanted:
            return 0.0
        return 100 * (int(self.leading[wanted - 1]) + 1) / self.order.size

    def rusted(self, percent: float) -> Mask:
        """Return the rusted pixels of the face when ``percent`` of the significant surface is rusted."""
        return rusted(self.order, self.percent_of_face(percent))

    def face(self, percent: float, day: float) -> Rgb:
        """Return the face with ``percent`` of its significant surface rusted, lit, after ``day`` days outdoors."""
        painted = paint_rust(self._dulled(day), self.order, self.percent_of_face(percent), self.seed)
        rust = self.rusted(percent)
        painted[rust] = painted[rust] * np.float32(1 - _EARTH_SHARE) + _EARTH * np.float32(_EARTH_SHARE)
        lit = painted * edge_light(FACE_SHAPE, FACE_PX_PER_MM)[:, :, None]
        face: Rgb = np.clip(lit, 0, 255).astype(np.uint8)
        return face

    def _dulled(self, day: float) -> Rgb:
        lost = np.asarray(self.look.dulls, np.float32) * np.float32(min(1.0, day / _LATE_DAYS))
        dulled: Rgb = (self.ground * (1 - lost)).astype(np.uint8)
        return dulled


def painted_coupon(treatment: str, letter: Distribution, seed: int) -> PaintedCoupon:
    """Return a coupon of a treatment; every seed has its own grain and its own nuclei."""
    order = _later_above(
        growth_order(FACE_SHAPE, np.ones(FACE_SHAPE, np.bool_), letter, seed, edge_weight=_EDGE_WEIGHT)
    )
    height, width = FACE_SHAPE
    outline = ((0, 0), (width, 0), (width, height), (0, height))
    counted = significant_surface(outline, FACE_SHAPE, EDGE_MARGIN_MM * FACE_PX_PER_MM)
    look = LOOKS[treatment]
    ground = coupon_ground(look, FACE_SHAPE, seed)
    return PaintedCoupon(look, ground, order, counted, np.sort(order[counted]), seed)


def _later_above(order: Order) -> Order:
    """Return a growth order in which the lower edge comes sooner."""
    above = np.linspace(1, 0, order.shape[0], dtype=np.float32)[:, None]
    lead: Field = 1 + np.float32(_LOWER_EDGE_LEAD) * np.exp(-above / np.float32(_LOWER_EDGE_REACH))
    first_to_last = np.argsort(((order + np.float32(1)) / lead).ravel(), kind="stable")
    ranks = np.empty(order.size, np.int32)
    ranks[first_to_last] = np.arange(order.size, dtype=np.int32)
    return ranks.reshape(order.shape)
