"""Small painted coupons: steel of a finish, rust with an exact area, daylight, a phone's blur, noise and JPEG."""

from __future__ import annotations

import io
from dataclasses import dataclass

import cv2
import numpy as np
from PIL import Image

from rustboard.photo.cutting import GridCut
from rustboard.photo.looks import CouponFrame

PIXELS_PER_MM = 6.0
OUTLINE = ((20.0, 20.0), (60.0, 20.0), (60.0, 80.0), (20.0, 80.0))
FRAME = CouponFrame(1, "C01", OUTLINE, PIXELS_PER_MM, margin_mm=2.0)
SHAPE = FRAME.shape
_FINE = 2

# sRGB as a camera gives them in daylight; chosen by eye, no source.
FINISHES = {
    "bright": (172, 172, 170),
    "blasted": (140, 140, 138),
    "blue-black": (44, 48, 58),
    "etched": (108, 100, 92),
    "oiled": (80, 74, 67),
    "mill scale": (86, 80, 78),
}
RUSTS = {"orange": (182, 96, 45), "brown": (122, 66, 40), "near black": (62, 42, 36)}


def linear(srgb: object) -> np.ndarray:
    """sRGB 0-255 as linear light (IEC 61966-2-1)."""
    value = np.asarray(srgb, np.float64) / 255
    return np.where(value <= 0.04045, value / 12.92, ((value + 0.055) / 1.055) ** 2.4)


def encoded(light: np.ndarray) -> np.ndarray:
    value = np.clip(light, 0, 1)
    return np.rint(255 * np.where(value <= 0.0031308, value * 12.92, 1.055 * value ** (1 / 2.4) - 0.055))


@dataclass(frozen=True)
class Camera:
    """blur: standard deviation in pixels of the grid. noise: share of a level of 128. quality: of the JPEG, 0 = none."""

    blur: float = 1.0
    noise: float = 0.02
    quality: int = 90
    seed: int = 7


def steel(finish: str, seed: int = 1, grain: float = 0.06) -> np.ndarray:
    """Linear light of a coupon and the grey board around it, on a grid twice as fine."""
    height, width = (each * _FINE for each in SHAPE)
    random = np.random.default_rng(seed)
    lit = np.broadcast_to(linear(FINISHES[finish]), (height, width, 3)).copy()
    fine = cv2.GaussianBlur(random.normal(0, 1, (height, width)), (0, 0), 1.5)
    coarse = cv2.GaussianBlur(random.normal(0, 1, (height, width)), (0, 0), 30.0)
    lit *= np.exp(grain * fine / fine.std() + 0.5 * grain * coarse / coarse.std())[:, :, None]
    pad = round(8 * PIXELS_PER_MM * _FINE)
    board = linear((150, 140, 125)) * np.exp(0.03 * fine / fine.std())[:, :, None]
    board[pad : height - pad, pad : width - pad] = lit[pad : height - pad, pad : width - pad]
    return board


def discs(places: list[tuple[float, float, float]]) -> np.ndarray:
    """Share covered (0-1) by discs, x, y, radius in mm from the coupon's top left, on the fine grid."""
    scale = PIXELS_PER_MM * _FINE
    height, width = (each * _FINE for each in SHAPE)
    x, y = np.meshgrid((np.arange(width) + 0.5) / scale - 8, (np.arange(height) + 0.5) / scale - 8)
    cover = np.zeros((height, width))
    for across, down, radius in places:
        cover = np.maximum(cover, np.clip((radius - np.hypot(x - across, y - down)) * scale + 0.5, 0, 1))
    return cover


def rusted(surface: np.ndarray, cover: np.ndarray, rust: str, seed: int = 2, uneven: float = 0.1) -> np.ndarray:
    """The surface with rust on it."""
    cloud = cv2.GaussianBlur(np.random.default_rng(seed).normal(0, 1, cover.shape), (0, 0), 4.0)
    colour = linear(RUSTS[rust]) * np.exp(uneven * cloud / cloud.std())[:, :, None]
    return surface + (colour - surface) * cover[:, :, None]


def photographed(surface: np.ndarray, light: object = 1.0, camera: Camera = Camera()) -> GridCut:
    """What a phone makes of it, as if the photo's pixels were the grid's."""
    lit = cv2.resize(surface * light, SHAPE[::-1], interpolation=cv2.INTER_AREA)
    if camera.blur > 0:
        lit = cv2.GaussianBlur(lit, (0, 0), camera.blur)
    random = np.random.default_rng(camera.seed)
    lit = lit + camera.noise * np.sqrt(np.maximum(lit, 0.002) * 0.2) * random.normal(0, 1, lit.shape)
    levels = encoded(lit).astype(np.uint8)
    if camera.quality:
        stream = io.BytesIO()
        Image.fromarray(levels).save(stream, "JPEG", quality=camera.quality, subsampling=2)
        levels = np.asarray(Image.open(stream).convert("RGB"))
    return GridCut(levels, np.ones(SHAPE, np.bool_))
