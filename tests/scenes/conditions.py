"""What differs from one photo of a board to the next: camera, light, water, how coupons hang, the development."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

import numpy as np

from scenes.camera import Camera, looking_at
from scenes.layout import Board
from scenes.light import Light, drawn_light
from scenes.options import Options
from scenes.randomness import Dice, chance, dice_for

ORIENTATIONS = (1, 3, 6, 8)
"""EXIF orientation tags of a phone held upright, upside down and on either side (EXIF 2.3, tag 0x0112)."""


@dataclass(frozen=True)
class Hanging:
    """How a coupon hangs in one photo, besides its height above the board; turned about its outline's middle."""

    dx_mm: float
    dy_mm: float
    turn_deg: float

    def matrix(self, middle_mm: tuple[float, float]) -> np.ndarray:
        """Return the matrix from where it would be on the plan to where it is, both in mm on its own plane."""
        x, y = middle_mm
        c, s = np.cos(np.radians(self.turn_deg)), np.sin(np.radians(self.turn_deg))
        return np.array(
            [[c, -s, x + self.dx_mm - c * x + s * y], [s, c, y + self.dy_mm - s * x - c * y], [0, 0, 1.0]]
        )


@dataclass(frozen=True)
class Development:
    """What the phone makes of the light.

    Attributes:
        exposure: factor on what would be right. balance: factors on red, green, blue after neutral balance.
        neutral: how far the light's own colour is taken out, 1 = wholly.
        contrast, saturation, sharpening: of the phone's liking. vignette: light lost in the corners.
        defocus_px, motion_px, motion_deg: blur, in pixels of a 12-megapixel photo.
        shot, read: noise, at 12 megapixels, variance per light and deviation, in linear light.
        quality, coarse_colour: of the JPEG file (4:2:0 if coarse). orientation: EXIF tag.
    """

    exposure: float
    balance: tuple[float, float, float]
    neutral: float
    contrast: float
    saturation: float
    sharpening: float
    vignette: float
    defocus_px: float
    motion_px: float
    motion_deg: float
    shot: float
    read: float
    quality: int
    coarse_colour: bool
    orientation: int


@dataclass(frozen=True, eq=False)
class Conditions:
    """Everything about one photo but what it shows."""

    number: int
    taken: datetime
    camera: Camera
    light: Light
    wet: float
    drops_per_cm2: float
    hangings: dict[str, Hanging]
    missing: frozenset[str]
    swapped: dict[str, str]
    development: Development


def drawn_conditions(
    seed: int, board: Board, megapixels: float, photos: int, hard: bool, options: Options
) -> list[Conditions]:
    """Return the conditions of every photo of a series."""
    start = datetime(2026, 3, 2, 9, 5) + timedelta(days=int(dice_for(seed, "start").integers(0, 200)))
    step_days = float(dice_for(seed, "pace").choice([1, 2, 3, 7]))
    drawn = []
    for number in range(photos):
        dice = dice_for(seed, "time", number)
        taken = start + timedelta(days=step_days * number, minutes=float(dice.uniform(-120, 480)) * (number > 0))
        drawn.append(_one(seed, board, number, taken.replace(microsecond=0), megapixels, hard, options))
    return drawn


def _one(
    seed: int, board: Board, number: int, taken: datetime, megapixels: float, hard: bool, options: Options
) -> Conditions:
    dice = dice_for(seed, "water", number)
    rain = options.wet if options.wet is not None else chance(dice, 0.35 if hard else 0.18) and number > 0
    wet = float(dice.uniform(0.5, 1.0)) if rain else 0.0
    size = (board.width_mm, board.height_mm)
    light = drawn_light(size, dice_for(seed, "light", number), hard, options.light)
    lost = dice_for(seed, "missing", number)
    likely = options.missing if options.missing is not None else (0.01 if hard else 0.0)
    missing = frozenset(each.id for each in board.coupons if number > 0 and chance(lost, likely))
    return Conditions(
        number=number,
        taken=taken,
        camera=_camera(dice_for(seed, "camera", number), size, megapixels, hard, options),
        light=light,
        wet=wet,
        drops_per_cm2=float(dice.uniform(0.5, 9)) if rain and chance(dice, 0.75) else 0.0,
        hangings=_hangings(dice_for(seed, "hanging", number), board, number, options),
        missing=missing,
        swapped=_swapped(lost, board, number, options.swapped),
        development=_development(dice_for(seed, "development", number), hard, options),
    )


def _camera(dice: Dice, board_mm: tuple[float, float], megapixels: float, hard: bool, options: Options) -> Camera:
    width = round((megapixels * 1e6 * 4 / 3) ** 0.5 / 8) * 8
    height = round(width * 3 / 4 / 8) * 8
    tilt = min(abs(float(dice.normal(0, 12 if hard else 8))), 20.0)
    towards = float(dice.uniform(0, 360))
    turn = float(dice.choice([0, 0, 0, 0, 0, 90, 180, 270])) + float(np.clip(dice.normal(0, 2.5), -8, 8))
    roll = turn if options.roll_deg is None else options.roll_deg
    lens = float(dice.uniform(-0.02, 0.02)) if chance(dice, 0.7) else 0.0
    fill, focal = float(dice.uniform(0.87, 0.96)), float(dice.uniform(0.7, 1.0))
    aside = (float(dice.uniform(-0.8, 0.8)), float(dice.uniform(-0.8, 0.8)))
    sideways = abs(np.sin(np.radians(roll))) > 0.7
    return looking_at(
        board_mm,
        (height, width) if sideways else (width, height),
        roll_deg=roll,
        tilt_deg=tilt if options.tilt_deg is None else options.tilt_deg,
        tilt_towards_deg=towards,
        fill=fill,
        focal=focal,
        lens=lens if options.lens is None else options.lens,
        aside=aside,
    )


def _hangings(dice: Dice, board: Board, number: int, options: Options) -> dict[str, Hanging]:
    """Return how every coupon hangs; on the first photo hardly off the plan, later each re-hung by chance."""
    spread = (0.25 if number == 0 else 1.0) * options.askew
    hangings = {}
    for each in board.coupons:
        shift, turn = np.clip(dice.normal(0, 0.7, 2), -2, 2), float(np.clip(dice.normal(0, 0.7), -2, 2))
        calm = 1.0 if chance(dice, 0.5) else 0.2
        hangings[each.id] = Hanging(
            float(shift[0]) * spread * calm, float(shift[1]) * spread * calm, turn * spread * calm
        )
    return hangings


def _swapped(dice: Dice, board: Board, number: int, likely: float) -> dict[str, str]:
    """Return which coupon hangs where another should (both ways), at most one pair of the same outline."""
    if number == 0 or not chance(dice, likely):
        return {}
    pairs = [
        (one.id, other.id)
        for one in board.coupons
        for other in board.coupons
        if one.id < other.id and len(one.outline_mm) == len(other.outline_mm)
    ]
    if not pairs:
        return {}
    one, other = pairs[int(dice.integers(len(pairs)))]
    return {one: other, other: one}


def _development(dice: Dice, hard: bool, options: Options) -> Development:
    strong = 1.6 if hard else 1.0
    red, blue = np.exp(dice.normal(0, 0.035 * strong, 2))
    blurred, shaken = chance(dice, 0.35 * strong), chance(dice, 0.25 * strong)
    turned = chance(dice, 0.3) if options.turned is None else options.turned
    return Development(
        exposure=float(2 ** np.clip(dice.normal(0, 0.22 * strong), -0.6, 0.5)),
        balance=(float(red), 1.0, float(blue)),
        neutral=float(dice.uniform(0.5, 1.0)),
        contrast=float(dice.uniform(0.0, 0.25)),
        saturation=float(dice.uniform(0.98, 1.15)),
        sharpening=float(dice.uniform(0.0, 0.6)),
        vignette=float(dice.uniform(0.03, 0.25)),
        defocus_px=0.0 if options.clear or not blurred else float(dice.uniform(0.8, 3.2 * strong**0.5)),
        motion_px=0.0 if options.clear or not shaken else float(dice.uniform(1.0, 4.0 * strong**0.5)),
        motion_deg=float(dice.uniform(0, 180)),
        shot=0.0 if options.clear else float(np.exp(dice.uniform(np.log(5e-5), np.log(4e-4 * strong)))),
        read=0.0 if options.clear else float(dice.uniform(0.0003, 0.002 * strong)),
        quality=98 if options.clear else int(dice.integers(80, 96)),
        coarse_colour=not options.clear and chance(dice, 0.5),
        orientation=int(dice.choice(ORIENTATIONS)) if turned else 1,
    )
