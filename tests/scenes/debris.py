"""What falls on a board and goes again: leaves, droppings, soil, feathers, pollen, twigs; and drops of rain."""

from __future__ import annotations

from dataclasses import dataclass

import cv2
import numpy as np

from scenes.camera import Matrix, for_opencv, scaled, shifted
from scenes.colour import Plane, linear
from scenes.layout import Coupon
from scenes.noise import blurred, cloud, step
from scenes.randomness import Dice, chance, dice_for, pick
from scenes.rust_growth import PIXELS_PER_MM

KINDS = {"leaf": 3.0, "dropping": 2.0, "soil": 2.5, "feather": 1.0, "pollen": 1.0, "twig": 1.5}
_SIZES = {
    "leaf": (12, 42),
    "dropping": (8, 26),
    "soil": (8, 30),
    "feather": (18, 45),
    "pollen": (25, 60),
    "twig": (20, 60),
}


@dataclass(frozen=True)
class Debris:
    """One thing that lies on a coupon, fixed to it, from one photo to another.

    Attributes:
        kind: one of `KINDS`. first, last: photos, both included.
        size_mm: of its square patch. centre_mm: from the coupon's top left. turn_deg: on the coupon.
        seed: of its looks.
    """

    kind: str
    first: int
    last: int
    size_mm: float
    centre_mm: tuple[float, float]
    turn_deg: float
    seed: int

    def patch_to_coupon(self, pixels_per_mm: float) -> Matrix:
        """Return the matrix from the patch's pixels to mm from the coupon's top left."""
        turn = np.radians(self.turn_deg)
        c, s = np.cos(turn), np.sin(turn)
        rotation = np.array([[c, -s, 0], [s, c, 0], [0, 0, 1.0]])
        half = self.size_mm / 2
        return shifted(*self.centre_mm) @ rotation @ shifted(-half, -half) @ scaled(1 / pixels_per_mm)

    def picture(self, pixels_per_mm: float) -> tuple[Plane, Plane]:
        """Return colours (linear light) and how opaque each place is (0-1)."""
        side = max(8, round(self.size_mm * pixels_per_mm))
        return _PAINTERS[self.kind](side, side / self.size_mm, dice_for(self.seed, "looks"))

    def cover(self, coupon: Coupon) -> np.ndarray:
        """Return where it hides the coupon, on the grid of `PIXELS_PER_MM` over the bounding box."""
        rows, columns = coupon.shape(PIXELS_PER_MM)
        coarse = 4.0
        _, opaque = self.picture(coarse)
        to_grid = scaled(PIXELS_PER_MM) @ self.patch_to_coupon(opaque.shape[0] / self.size_mm)
        return cv2.warpPerspective(opaque, for_opencv(to_grid), (columns, rows)) >= 0.5


def drawn_debris(coupon: Coupon, photos: int, dice: Dice, hard: bool) -> list[Debris]:
    """Return everything that ever lies on a coupon, drawn by chance."""
    left, top, right, bottom = coupon.box_mm
    found: list[Debris] = []
    if photos < 2:
        return found
    for _ in range(int(dice.poisson(1.6 if hard else 0.75))):
        kind = pick(dice, KINDS)
        first = int(dice.integers(1, photos))
        last = min(photos - 1, first + int(dice.choice([0, 0, 0, 1, 1, 2])))
        low, high = _SIZES[kind]
        place = (float(dice.uniform(-0.08, 1.08)) * (right - left), float(dice.uniform(-0.08, 1.08)) * (bottom - top))
        turn = float(dice.uniform(0, 360)) if kind != "dropping" else float(dice.normal(0, 15))
        found.append(
            Debris(kind, first, last, float(dice.uniform(low, high)), place, turn, int(dice.integers(1, 2**31)))
        )
    return found


def _grid(side: int) -> tuple[Plane, Plane]:
    """Return x and y from -1 to 1."""
    y, x = np.mgrid[:side, :side].astype(np.float32)
    return (x + 0.5) * (2 / side) - 1, (y + 0.5) * (2 / side) - 1


def _leaf(side: int, scale: float, dice: Dice) -> tuple[Plane, Plane]:
    x, y = _grid(side)
    along = np.clip((x + 0.92) / 1.75, 0, 1)
    broad = float(dice.uniform(0.28, 0.5))
    bend = float(dice.normal(0, 0.12)) * x * x
    lobes = 1 + 0.06 * np.sin(x * 40) * float(dice.uniform(0, 1.5))
    half = broad * np.sin(np.pi * along**0.8) * lobes
    inside = half - np.abs(y - bend)
    opaque = step(inside, -0.3 / side, 2.5 / side)
    stalk = step(0.022 - np.abs(y - bend), 0, 2.0 / side) * ((x < -0.8) & (x > -0.99))
    colours = [(86, 112, 46), (118, 126, 52), (184, 152, 80), (160, 102, 58), (122, 80, 50), (92, 64, 46)]
    first, second = dice.choice(len(colours), 2)
    share = step(cloud(dice, (side, side), side * 0.3, 4), -0.8, 1.2)[..., None] * np.float32(dice.uniform(0.1, 0.8))
    colour = linear(colours[first]) * (1 - share) + linear(colours[second]) * share
    rib = np.exp(-(((y - bend) / 0.018) ** 2))
    veins = np.exp(-((np.mod(x * 6 - np.abs(y - bend) * 5, 1) - 0.5) ** 2) / 0.006) * 0.5
    relief = (
        1
        + 0.25 * rib
        + 0.18 * veins
        + 0.10 * cloud(dice, (side, side), 1.5 * scale, 3)
        + 0.15 * np.sign(y - bend) * float(dice.uniform(-1, 1))
    )
    return (colour * np.clip(relief, 0.3, 2)[..., None]).astype(np.float32), np.maximum(opaque, stalk).astype(
        np.float32
    )


def _dropping(side: int, scale: float, dice: Dice) -> tuple[Plane, Plane]:
    x, y = _grid(side)
    ragged = 0.10 * cloud(dice, (side, side), side * 0.2, 4, 0.6)
    radius = float(dice.uniform(0.28, 0.42))
    shape = radius - np.hypot(x, y + 0.4) + ragged
    for _ in range(int(dice.integers(1, 5))):  # runs
        at, width, length = (
            float(dice.uniform(-0.25, 0.25)),
            float(dice.uniform(0.03, 0.09)),
            float(dice.uniform(0.2, 1.2)),
        )
        run = np.minimum(width - np.abs(x - at - 0.05 * np.sin(5 * y)), np.minimum(y + 0.4, length - 0.4 - y))
        shape = np.maximum(shape, run + 0.25 * ragged)
    for _ in range(int(dice.integers(2, 9))):  # splashes
        at_x, at_y, size = (
            float(dice.uniform(-0.85, 0.85)),
            float(dice.uniform(-0.85, 0.7)),
            float(dice.uniform(0.02, 0.08)),
        )
        shape = np.maximum(shape, size - np.hypot(x - at_x, y - at_y) + 0.15 * ragged)
    opaque = step(shape, -0.01, 0.035) * np.clip(0.85 + 0.15 * cloud(dice, (side, side), 3 * scale, 3), 0.4, 1)
    core = step(0.55 * radius - np.hypot(x - float(dice.normal(0, 0.08)), y + 0.42) + 1.3 * ragged, -0.03, 0.06)
    dark = linear([(64, 58, 44), (92, 82, 54), (40, 38, 36), (104, 72, 48)][int(dice.integers(4))])
    white = linear((224, 222, 212)) * np.exp(0.08 * cloud(dice, (side, side), 2 * scale, 3))[..., None]
    core = core[..., None] * np.float32(0.9)
    return (white * (1 - core) + dark * core).astype(np.float32), opaque.astype(np.float32)


def _soil(side: int, scale: float, dice: Dice) -> tuple[Plane, Plane]:
    opaque = np.zeros((side, side), np.float32)
    for _ in range(int(dice.integers(8, 60))):
        x, y = np.clip(dice.normal(0.5, 0.17, 2), 0.05, 0.95) * side
        radius = float(np.exp(dice.uniform(np.log(0.12), np.log(1.1)))) * scale
        axes = (max(1, round(radius * 16)), max(1, round(radius * float(dice.uniform(0.5, 1)) * 16)))
        cv2.ellipse(
            opaque, (round(x * 16), round(y * 16)), axes, float(dice.uniform(0, 180)), 0, 360, 1.0, -1, cv2.LINE_8, 4
        )
    film = 0.3 * step(cloud(dice, (side, side), side * 0.25, 5, 0.7), 0.8, 2.5) * float(chance(dice, 0.5))
    away = np.hypot(*_grid(side))
    opaque = np.maximum(blurred(opaque, 0.12 * scale), film * np.clip(1.4 - 1.4 * away, 0, 1))
    base = linear([(96, 74, 54), (78, 60, 44), (120, 96, 70), (62, 52, 44), (128, 84, 56)][int(dice.integers(5))])
    colour = base * np.exp(0.28 * cloud(dice, (side, side), 0.9 * scale, 3))[..., None]
    return colour.astype(np.float32), opaque.astype(np.float32)


def _feather(side: int, scale: float, dice: Dice) -> tuple[Plane, Plane]:
    x, y = _grid(side)
    bend = float(dice.normal(0, 0.2)) * x * x
    away = y - bend
    half = 0.16 * np.sin(np.pi * np.clip((x + 0.55) / 1.5, 0, 1) ** 0.7) + 0.004
    barbs = 0.55 + 0.45 * np.sin((x - np.abs(away) * 1.3) * 150 + 3 * cloud(dice, (side, side), 2 * scale, 2))
    vane = step(half - np.abs(away) + 0.02 * cloud(dice, (side, side), 2 * scale, 3), 0, 0.04) * (0.55 + 0.35 * barbs)
    shaft = step(0.014 - np.abs(away), 0, 0.01) * (np.abs(x) < 0.93)
    tone = linear([(206, 204, 198), (120, 118, 116), (72, 70, 70), (236, 234, 230)][int(dice.integers(4))])
    colour = tone * (0.8 + 0.3 * shaft + 0.15 * barbs)[..., None]
    return colour.astype(np.float32), np.clip(np.maximum(vane, shaft), 0, 1).astype(np.float32)


def _pollen(side: int, scale: float, dice: Dice) -> tuple[Plane, Plane]:
    away = np.hypot(*_grid(side))
    drift = step(
        cloud(dice, (side, side), side * 0.2, 5, 0.65) + 0.6 * cloud(dice, (side, side), 0.5 * scale, 2), 0.2, 2.6
    )
    opaque = drift * np.clip(1.3 - 1.3 * away, 0, 1) * np.float32(dice.uniform(0.3, 0.75))
    colour = np.broadcast_to(linear((206, 188, 96)), (side, side, 3))
    return colour.astype(np.float32), opaque.astype(np.float32)


def _twig(side: int, scale: float, dice: Dice) -> tuple[Plane, Plane]:
    opaque = np.zeros((side, side), np.float32)
    thick = float(dice.uniform(0.6, 2.0)) * scale
    points = np.column_stack([np.linspace(0.04, 0.96, 9) * side, side * (0.5 + np.cumsum(dice.normal(0, 0.02, 9)))])
    branches = [points]
    for _ in range(int(dice.integers(0, 3))):
        start = points[int(dice.integers(2, 7))]
        branches.append(np.array([start, start + dice.uniform(-0.25, 0.25, 2) * side]))
    for number, branch in enumerate(branches):
        cv2.polylines(
            opaque,
            [np.round(branch * 16).astype(np.int32)],
            False,
            1.0,
            max(1, round(thick / (1 + number))),
            cv2.LINE_8,
            4,
        )
    opaque = blurred(opaque, 0.15 * scale)
    base = linear([(86, 66, 50), (62, 52, 46), (112, 88, 66)][int(dice.integers(3))])
    round_shade = 0.6 + 0.6 * blurred(opaque, 0.3 * thick)
    colour = base * (round_shade * np.exp(0.2 * cloud(dice, (side, side), 1.2 * scale, 3)))[..., None]
    return colour.astype(np.float32), opaque


_PAINTERS = {
    "leaf": _leaf,
    "dropping": _dropping,
    "soil": _soil,
    "feather": _feather,
    "pollen": _pollen,
    "twig": _twig,
}


def add_drops(surface: Plane, glare: Plane, pixels_per_mm: float, dice: Dice, per_cm2: float) -> None:
    """Lay drops of water on a surface: a dark rim towards the light, a bright crescent away from it, a small sparkle.

    Args:
        surface: colours, changed in place. glare: light thrown straight to the camera, changed in place.
        pixels_per_mm: of both. dice: chance. per_cm2: how many drops.
    """
    rows, columns = glare.shape
    count = int(per_cm2 * rows * columns / (10 * pixels_per_mm) ** 2)
    for _ in range(min(count, 900)):
        radius = float(np.exp(dice.normal(np.log(0.7), 0.5)) * pixels_per_mm)
        radius = min(radius, 3 * pixels_per_mm)
        reach = int(radius) + 2
        x, y = float(dice.uniform(0, columns)), float(dice.uniform(0, rows))
        top, bottom = max(int(y) - reach, 0), min(int(y) + reach + 1, rows)
        left, right = max(int(x) - reach, 0), min(int(x) + reach + 1, columns)
        if bottom - top < 2 or right - left < 2:
            continue
        across = (np.arange(left, right, dtype=np.float32) + 0.5 - np.float32(x))[None] / np.float32(radius)
        down = (np.arange(top, bottom, dtype=np.float32) + 0.5 - np.float32(y))[:, None] / np.float32(radius * 1.1)
        away = np.hypot(across, down)
        inside = np.clip((1 - away) * np.float32(radius) + 0.5, 0, 1)
        rim = np.exp(-(((away - 0.93) / 0.16) ** 2)) * 0.45
        bright = np.clip(down, -1, 1) * away
        factor = 1 + inside * (0.45 * bright - rim)
        surface[top:bottom, left:right] *= factor[..., None]
        sparkle = np.exp(-((across + 0.3) ** 2 + (down + 0.42) ** 2) / 0.02)
        glare[top:bottom, left:right] += inside * sparkle * np.float32(0.8)
