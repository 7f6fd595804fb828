"""What rust looks like: from orange when fresh through brown to nearly black, uneven within every spot.

The anchors are sRGB values as cameras give them of rust on steel in daylight, chosen by eye (no source), within the
hues that the iron oxides span, 10R to 2.5Y in Munsell's terms (Schwertmann, "Relations between iron oxides, soil
color, and soil formation", 1993).
"""

from __future__ import annotations

from dataclasses import dataclass

import cv2
import numpy as np

from scenes.colour import BRIGHTNESS, Plane, linear
from scenes.noise import blurred, cloud, step
from scenes.randomness import Dice, chance

_ANCHORS = ((200, 128, 68), (176, 100, 54), (147, 78, 45), (117, 62, 40), (88, 51, 37), (58, 42, 37))


@dataclass(frozen=True, eq=False)
class RustLook:
    """How the rust of one coupon looks; everything on a grid over its bounding box.

    Attributes:
        ramp: 256 x 3, colours from fresh to old.
        start, pace: how far along the ramp fresh rust is (0-1), and how far it goes from one photo to the next.
        uneven: how far places are ahead or behind. brightness: a factor.
        thin: how much steel shines through rust that has just formed.
        stain: how strongly steel around rust is tinted, 0-1, with `halo_mm` its width.
    """

    ramp: Plane
    start: float
    pace: float
    uneven: Plane
    brightness: Plane
    thin: float
    halo: float
    halo_mm: float

    def over(self, steel: Plane, coverage: Plane, age: Plane, pixels_per_mm: float) -> Plane:
        """Return the steel's colour with rust on it."""
        along = self.start + self.pace * np.maximum(age, 0) + self.uneven
        colour = self.ramp[np.clip(along * 255, 0, 255).astype(np.uint8)] * self.brightness[..., None]
        solid = coverage * (1 - self.thin * np.exp(-np.maximum(age, 0) / 1.2))
        if self.halo > 0:
            around = blurred(coverage, self.halo_mm * pixels_per_mm) * np.float32(self.halo)
            steel = steel * (1 - around[..., None] * (1 - self.ramp[60] / self.ramp[60].max()))
        return steel + (colour - steel) * solid[..., None]


def drawn_look(shape: tuple[int, int], pixels_per_mm: float, dice: Dice, hard: bool) -> RustLook:
    """Return how one coupon's rust looks, drawn by chance."""
    anchors = linear(_ANCHORS) * np.exp(dice.normal(0, (0.05, 0.05, 0.12), (1, 3)) + dice.normal(0, 0.10)).astype(
        np.float32
    )
    grey = (anchors @ BRIGHTNESS)[:, None]
    anchors = grey + (anchors - grey) * np.float32(dice.uniform(0.68, 1.04))
    ramp = cv2.resize(anchors[:, None].astype(np.float32), (1, 256), interpolation=cv2.INTER_LINEAR)[:, 0]
    patches = cloud(dice, shape, float(dice.uniform(1.5, 5)) * pixels_per_mm, 4, 0.7)
    grain = cloud(dice, shape, 0.5 * pixels_per_mm, 2, 0.8)
    pits = step(cloud(dice, shape, 0.9 * pixels_per_mm, 2), 1.1, 2.0)
    dark = hard and chance(dice, 0.3)
    return RustLook(
        ramp=np.maximum(ramp, 0.004),
        start=float(dice.uniform(0.5, 0.8)) if dark else 0.05 + 0.6 * float(dice.beta(1.6, 2.6)),
        pace=float(np.exp(dice.uniform(np.log(0.04), np.log(0.2)))),
        uneven=(float(dice.uniform(0.08, 0.16)) * patches + 0.06 * grain).astype(np.float32),
        brightness=np.exp(0.14 * grain + 0.10 * patches - 0.5 * pits).astype(np.float32),
        thin=float(dice.uniform(0.0, 0.35)),
        halo=float(dice.uniform(0.1, 0.35)) if chance(dice, 0.4) else 0.0,
        halo_mm=float(dice.uniform(0.15, 0.4)),
    )
