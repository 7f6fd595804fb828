"""The light of one photo: sun and sky with their colours, and where the sun is kept off.

Sky light comes from everywhere. Sunlight comes along one direction: what stands a millimetre off the board throws its
shadow ``leaning`` mm aside. A gap between leaves lets through a blurred picture of the sun's disc (its diameter is
0.0093 of the distance), so that leaves near by cast sharp shadows and far ones round, soft dapples.
"""

from __future__ import annotations

from dataclasses import dataclass

import cv2
import numpy as np

from scenes.colour import Plane
from scenes.noise import blurred, cloud, disc_kernel, step
from scenes.randomness import Dice, chance, pick

KINDS = {"overcast": 3.0, "sun": 2.5, "dappled": 2.5, "shadow edge": 1.5, "shade": 1.0}
MAP_PIXELS_PER_MM = 1.5
PAD_MM = 30.0


@dataclass(frozen=True, eq=False)
class Light:
    """What falls on the board.

    Attributes:
        kind: one of `KINDS`.
        sun, sky: red, green, blue of either, on a surface that nothing shades.
        leaning: mm across and down by which a shadow lies aside, per mm of height.
        sunny: share of sunlight that reaches the board's plane, on a grid of `MAP_PIXELS_PER_MM` that reaches
            `PAD_MM` beyond the board; None = no sun at all or no shade at all.
    """

    kind: str
    sun: Plane
    sky: Plane
    leaning: tuple[float, float]
    sunny: Plane | None


def drawn_light(board_mm: tuple[float, float], dice: Dice, hard: bool, kind: str | None) -> Light:
    """Return the light of one photo."""
    kind = kind or pick(dice, {**KINDS, "dappled": 5.0, "shadow edge": 3.0} if hard else KINDS)
    evening = chance(dice, 0.25)
    warm = float(dice.uniform(0.3, 1.0)) if evening else float(dice.uniform(0, 0.25))
    sun = np.array([1.0, 0.95 - 0.13 * warm, 0.88 - 0.38 * warm], np.float32)
    blue = float(dice.uniform(0, 1.0))
    sky = np.array([1.0 - 0.14 * blue, 1.0 - 0.03 * blue, 1.0 + 0.22 * blue], np.float32)
    # In the open, sunlight is one to four times the light of the sky.
    sky = sky / np.float32(dice.uniform(1.2, 4.0) if hard else dice.uniform(1.5, 3.0))
    angle, away = float(dice.uniform(0, 2 * np.pi)), float(dice.uniform(0.3, 1.6))
    leaning = (away * np.cos(angle), away * abs(np.sin(angle)))  # the sun is above
    sunny: Plane | None = None
    if kind in ("overcast", "shade"):
        tone = 1.0 + (float(dice.uniform(-0.03, 0.05)) if kind == "overcast" else 0.0)
        grey = np.array([1.0, 1.0, 1.02 * tone], np.float32)
        sky, sun = (grey if kind == "overcast" else sky * 1.5), np.zeros(3, np.float32)
    elif kind == "dappled":
        sunny = _dapples(board_mm, dice)
    elif kind == "shadow edge":
        sunny = _edge(board_mm, dice)
    return Light(kind, sun, sky, leaning, sunny)


def _map_shape(board_mm: tuple[float, float]) -> tuple[int, int]:
    return tuple(int((each + 2 * PAD_MM) * MAP_PIXELS_PER_MM) for each in board_mm[::-1])  # type: ignore[return-value]


def _dapples(board_mm: tuple[float, float], dice: Dice) -> Plane:
    """Return light that falls through leaves near or far."""
    shape = _map_shape(board_mm)
    distance_m = float(np.exp(dice.uniform(np.log(0.3), np.log(5))))
    spot_mm = 9.3 * distance_m
    leaves = cloud(dice, shape, float(dice.uniform(25, 70)) * MAP_PIXELS_PER_MM, 4, 0.6)
    leaves = leaves + 0.5 * cloud(dice, shape, 150 * MAP_PIXELS_PER_MM, 2)
    gaps = step(leaves - float(dice.uniform(-0.5, 0.7)), -0.05, 0.05)
    return cv2.filter2D(gaps, -1, disc_kernel(max(spot_mm * MAP_PIXELS_PER_MM, 1.5)), borderType=cv2.BORDER_REFLECT)


def _edge(board_mm: tuple[float, float], dice: Dice) -> Plane:
    """Return light with the shadow of a roof or a post across it."""
    rows, columns = _map_shape(board_mm)
    y, x = np.mgrid[:rows, :columns].astype(np.float32)
    angle = float(dice.uniform(0, 2 * np.pi))
    across = (x - columns * float(dice.uniform(0.25, 0.75))) * np.cos(angle)
    across = (across + (y - rows * float(dice.uniform(0.25, 0.75))) * np.sin(angle)) / np.float32(MAP_PIXELS_PER_MM)
    soft = float(np.exp(dice.uniform(np.log(1.0), np.log(30))))
    lit = step(across, -soft / 2, soft / 2)
    if chance(dice, 0.4):  # a post: a second edge
        lit = np.maximum(lit, 1 - step(across + float(dice.uniform(40, 160)), -soft / 2, soft / 2))
    return lit


def mirror_field(shape: tuple[int, int], gloss: float, grain_deg: float, colourful: float, dice: Dice) -> Plane:
    """Return what a dull mirror of a coupon's size shows of its surroundings, as factors on a matt surface's light.

    It changes slowly over the coupon, faster across the brush lines than along them, in brightness and, by
    ``colourful``, in colour: blue sky here, a warm wall or grass there.
    """
    rows, columns = shape
    y, x = np.meshgrid(np.linspace(-1, 1, rows), np.linspace(-1, 1, columns), indexing="ij")
    turn = np.radians(grain_deg)
    across = -x * np.sin(turn) + y * np.cos(turn)
    along = x * np.cos(turn) + y * np.sin(turn)
    first, second = dice.normal(0, 0.28 * gloss), dice.normal(0, 0.15 * gloss)
    bend = dice.normal(0, 0.2 * gloss)
    level = dice.normal(0, 0.28 * gloss)
    field = np.exp(level + first * across + second * along + bend * across**2)
    casts = dice.normal(0, colourful * gloss, (2, 3)) * (1.0, 0.4, 1.0)
    colours = np.exp(casts[0] + across[..., None] * casts[1])
    return (np.clip(field, 0.3, 3.0)[..., None] * colours).astype(np.float32)


def glare_field(shape: tuple[int, int], gloss: float, grain_deg: float, dice: Dice) -> Plane:
    """Return the sun's glare on a coupon, 0 in most places, 1 where it is brightest."""
    rows, columns = shape
    y, x = np.mgrid[:rows, :columns].astype(np.float32)
    turn = np.radians(grain_deg + 90)  # brush lines spread the glare across themselves
    away_x, away_y = x - columns * float(dice.uniform(-0.2, 1.2)), y - rows * float(dice.uniform(-0.2, 1.2))
    along = away_x * np.cos(turn) + away_y * np.sin(turn)
    across = -away_x * np.sin(turn) + away_y * np.cos(turn)
    size = max(shape)
    long, wide = size * float(dice.uniform(0.3, 0.9)), size * float(dice.uniform(0.05, 0.18))
    return np.exp(-((along / long) ** 2) - (across / wide) ** 2).astype(np.float32)


def cast_shadow(
    outlines_mm: list[np.ndarray], heights_mm: list[float], light: Light, board_mm: tuple[float, float], scale: float
) -> tuple[Plane, Plane]:
    """Return what coupons leave of the sunlight and of the sky light on the board behind them (0-1, its own grid)."""
    shape = (round(board_mm[1] * scale), round(board_mm[0] * scale))
    sun = np.full(shape, 255, np.uint8)
    sky = np.full(shape, 255, np.uint8)
    for outline, height in zip(outlines_mm, heights_mm, strict=True):
        aside = outline + np.array(light.leaning) * height
        cv2.fillPoly(sun, [np.round((aside * scale - 0.5) * 16).astype(np.int32)], 0, cv2.LINE_AA, 4)
        cv2.fillPoly(sky, [np.round((outline * scale - 0.5) * 16).astype(np.int32)], 0, cv2.LINE_AA, 4)
    sun_share = blurred(sun.astype(np.float32) / 255, 0.35 * scale)
    sky_share = blurred(sky.astype(np.float32) / 255, float(np.mean(heights_mm)) * 0.7 * scale)
    return sun_share, 0.35 + 0.65 * sky_share
