"""One coupon as it looks in one photo, before light falls on it: steel, rust, water, hole and edges."""

from __future__ import annotations

from dataclasses import dataclass

import cv2
import numpy as np

from scenes.colour import Plane, saturated, wetted
from scenes.conditions import Conditions
from scenes.debris import add_drops
from scenes.finishes import Steel, finished
from scenes.layout import Coupon
from scenes.light import glare_field, mirror_field
from scenes.noise import blurred, cloud, step
from scenes.randomness import Dice, chance, dice_for, pick
from scenes.rust_colour import RustLook, drawn_look
from scenes.rust_growth import Growth


@dataclass(frozen=True, eq=False)
class Art:
    """What stays the same of a coupon in all photos, on a grid over its bounding box.

    Attributes:
        opaque: 0-1, nothing beyond the outline and in the hole.
        rim: -1 to 1, edges that look up (bright) or down (dark).
        fixing: what holds it at the hole, red, green, blue and opacity on the grid's uppermost rows; None = nothing.
        colourful: how much the mirror image of the surroundings differs in colour.
    """

    coupon: Coupon
    growth: Growth
    pixels_per_mm: float
    steel: Steel
    look: RustLook
    opaque: Plane
    rim: Plane
    fixing: Plane | None
    colourful: float


def prepared(seed: int, coupon: Coupon, growth: Growth, pixels_per_mm: float, hard: bool) -> Art:
    """Return a coupon ready to be painted into photos."""
    shape = coupon.shape(pixels_per_mm)
    whole = coupon.filled(pixels_per_mm, pad=2).astype(np.float32) / 255
    soft = blurred(whole, max(0.25 * pixels_per_mm, 0.5))
    rim = np.roll(soft, 1, 0) - np.roll(soft, -1, 0) + 0.4 * (np.roll(soft, 1, 1) - np.roll(soft, -1, 1))
    opaque = whole[2:-2, 2:-2].copy()
    _drill(opaque, coupon, pixels_per_mm)
    fixing = _fixing(coupon, pixels_per_mm, pick(dice_for(seed, "fixing"), {"none": 1, "wire": 2, "screw": 2}))
    if fixing is not None:
        opaque[: len(fixing)] = np.maximum(
            opaque[: len(fixing)], fixing[..., 3] * (whole[2:-2, 2:-2][: len(fixing)] > 0)
        )
    return Art(
        coupon,
        growth,
        pixels_per_mm,
        finished(coupon, pixels_per_mm, dice_for(seed, "finish", coupon.id)),
        drawn_look(shape, pixels_per_mm, dice_for(seed, "rust look", coupon.id), hard),
        opaque,
        -rim[2:-2, 2:-2],
        fixing,
        0.08 if hard else 0.04,
    )


def _hole_on_grid(coupon: Coupon, pixels_per_mm: float) -> tuple[float, float, float]:
    left, top, _, _ = coupon.box_mm
    x, y, radius = coupon.hole_mm
    return (x - left) * pixels_per_mm, (y - top) * pixels_per_mm, radius * pixels_per_mm


def _drill(opaque: Plane, coupon: Coupon, pixels_per_mm: float) -> None:
    if coupon.hole_mm[2] == 0:
        return
    x, y, radius = _hole_on_grid(coupon, pixels_per_mm)
    rows, columns = opaque.shape
    down, across = np.arange(rows)[:, None] + 0.5 - y, np.arange(columns)[None] + 0.5 - x
    opaque *= np.clip(np.hypot(across, down) - radius + 0.5, 0, 1)


def _fixing(coupon: Coupon, pixels_per_mm: float, kind: str) -> Plane | None:
    """Return a wire loop through the hole, or the head of a screw in it; both hide little beyond the edge margin."""
    if coupon.hole_mm[2] == 0 or kind == "none":
        return None
    x, y, radius = _hole_on_grid(coupon, pixels_per_mm)
    rows, columns = int(np.ceil(y + 2 * radius)), coupon.shape(pixels_per_mm)[1]
    down, across = np.arange(rows)[:, None] + 0.5 - y, np.arange(columns)[None] + 0.5 - x
    if kind == "wire":
        half = 0.45 * pixels_per_mm
        opaque = np.clip(half - np.abs(across) + 0.5, 0, 1) * (down < 0.3 * radius)
        bright = 0.32 + 0.25 * np.cos(np.clip(across / half, -1.5, 1.5) * 1.2 - 0.5) + 0 * down
    else:
        away = np.hypot(across, down)
        opaque = np.clip(1.35 * radius - away + 0.5, 0, 1)
        slot = (np.abs(across + down) < 0.16 * radius * 2) & (away < radius)
        bright = (0.34 - 0.16 * down / radius / 1.35) * np.where(slot, 0.25, 1)
    colour = np.clip(bright, 0.03, 0.7)[..., None] * np.array([1.0, 0.99, 0.96])
    return np.dstack([colour, opaque]).astype(np.float32)


def painted(art: Art, seed: int, conditions: Conditions, stains: float = 0.0) -> tuple[Plane, Plane]:
    """Return what a coupon throws back (H x W x 3, as if matt) and the glare on it (H x W) in one photo."""
    number, scale = conditions.number, art.pixels_per_mm
    dice = dice_for(seed, "surface", art.coupon.id, number)
    shape = art.opaque.shape
    coarse = (max(4, shape[0] // 12), max(4, shape[1] // 12))
    gloss = min(1.0, art.steel.gloss + 0.3 * conditions.wet)
    mirror = mirror_field(coarse, gloss, art.steel.grain_deg, art.colourful, dice)
    mirror = cv2.resize(mirror, (shape[1], shape[0]), interpolation=cv2.INTER_CUBIC)
    surface = art.steel.scattered + art.steel.mirrored * mirror
    surface *= (1 + 0.35 * art.rim)[..., None]
    if stains > 0:
        surface = _stained(surface, art, number, dice_for(seed, "stain", art.coupon.id), stains)
    covered = cv2.resize(art.growth.coverage(number), (shape[1], shape[0]), interpolation=cv2.INTER_AREA)
    covered = covered.astype(np.float32) / 255
    if covered.any():
        surface = art.look.over(surface, covered, art.growth.age(number, shape), scale)
    if art.fixing is not None:
        window = surface[: len(art.fixing)]
        window += (art.fixing[..., :3] - window) * art.fixing[..., 3:]
    glare = _glare(art, conditions, covered, gloss, dice)
    if conditions.wet > 0:
        film = step(cloud(dice, shape, 18 * scale, 4), -1.6, 0.4) * np.float32(conditions.wet)
        surface += (saturated(wetted(surface), 1.12) - surface) * film[..., None]
        add_drops(surface, glare, scale, dice, conditions.drops_per_cm2)
    return np.maximum(surface, 0.002), glare


def _glare(art: Art, conditions: Conditions, covered: Plane, gloss: float, dice: Dice) -> Plane:
    glare = np.zeros(art.opaque.shape, np.float32)
    likely = 0.12 + 0.4 * gloss * (conditions.light.sun.max() > 0)
    if gloss > 0.3 and chance(dice, likely):
        coarse = (max(4, glare.shape[0] // 4), max(4, glare.shape[1] // 4))
        field = glare_field(coarse, gloss, art.steel.grain_deg, dice)
        glare += cv2.resize(field, glare.shape[::-1]) * np.float32(float(dice.uniform(0.1, 0.9)) * gloss)
        glare *= 1 - 0.85 * covered
    return glare


def _stained(surface: Plane, art: Art, number: int, dice: Dice, strength: float) -> Plane:
    """Return the surface with a thin rust-coloured run-off on it, which is no rust."""
    if not chance(dice, 0.3):
        return surface
    scale, shape = art.pixels_per_mm, art.opaque.shape
    began = int(dice.integers(1, 5))
    run = step(cloud(dice, shape, (60 * scale, 5 * scale), 4) - 1.2 * np.linspace(0, 1, shape[0])[:, None], 0.4, 2.2)
    share = run * np.float32(strength * np.clip((number - began + 1) / 3, 0, 1) * 0.3)
    tint = art.look.ramp[40] / art.look.ramp[40].max()
    return surface * (1 - share[..., None] * (1 - tint))
