"""Small painted coupons: steel of a finish, rust with an exact area, daylight, a phone's blur, noise and JPEG."""

from __future__ import annotations

import io
from dataclasses import dataclass
from functools import lru_cache

import cv2
import numpy as np
from PIL import Image

from rustboard.photo.cutting import GridCut, cut_grid, significant
from rustboard.photo.evidence.base import Base, look_of, make_base
from rustboard.photo.evidence.board_look import BoardLook, LightPlan, look_at_board
from rustboard.photo.evidence.light import UNCHANGED
from rustboard.photo.looks import CouponFrame, Evidence, Motion
from rustboard.photo.placement import Placement

PIXELS_PER_MM = 6.0
"""Of the photo; the grid has half as many."""
OUTLINE = ((20.0, 20.0), (60.0, 20.0), (60.0, 80.0), (20.0, 80.0))
FRAME = CouponFrame(1, "C01", OUTLINE, PIXELS_PER_MM / 2, margin_mm=2.0)
SHAPE = FRAME.shape
_IN_PHOTO = (2 * SHAPE[0], 2 * SHAPE[1])
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
    """blur: standard deviation in pixels of the photo. quality: of the JPEG, 0 = none."""

    blur: float = 1.0
    noise: float = 0.02
    quality: int = 90
    seed: int = 7


PHONE, FIRST_DAY = Camera(), Camera(seed=1)


@lru_cache
def steel(finish: str, seed: int = 1, grain: float = 0.06) -> np.ndarray:
    """Linear light of a coupon and the grey board around it, twice as fine as the photo."""
    height, width = (each * _FINE for each in _IN_PHOTO)
    random = np.random.default_rng(seed)
    lit = np.broadcast_to(linear(FINISHES[finish]), (height, width, 3)).copy()
    fine = cv2.GaussianBlur(random.normal(0, 1, (height, width)), (0, 0), 1.5)
    coarse = cv2.GaussianBlur(random.normal(0, 1, (height, width)), (0, 0), 30.0)
    lit *= np.exp(grain * fine / fine.std() + 0.5 * grain * coarse / coarse.std())[:, :, None]
    pad = round(8 * PIXELS_PER_MM * _FINE)
    board = linear((150, 140, 125)) * np.exp(0.03 * fine / fine.std())[:, :, None]
    board[pad : height - pad, pad : width - pad] = lit[pad : height - pad, pad : width - pad]
    board.flags.writeable = False
    return board


def discs(places: list[tuple[float, float, float]]) -> np.ndarray:
    """Share covered (0-1) by discs, x, y, radius in mm from the coupon's top left, on the fine grid."""
    scale = PIXELS_PER_MM * _FINE
    height, width = (each * _FINE for each in _IN_PHOTO)
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


def drops(count: int, seed: int = 5) -> list[tuple[float, float, float]]:
    """Places and radii (mm) of drops all over the coupon."""
    random = np.random.default_rng(seed)
    return [
        (float(random.uniform(2, 38)), float(random.uniform(2, 58)), float(random.uniform(0.6, 1.3)))
        for _ in range(count)
    ]


def lay_drops(surface: np.ndarray, places: list[tuple[float, float, float]]) -> None:
    """Lay drops of water on a surface, lit from above: a mirror point, a dark upper rim, a bright lower side.

    By eye from photographs of drops on metal, no source.
    """
    scale = PIXELS_PER_MM * _FINE
    for across, down, radius in places:
        left, top, reach = (8 + across) * scale, (8 + down) * scale, int(radius * scale) + 2
        rows, columns = slice(int(top) - reach, int(top) + reach), slice(int(left) - reach, int(left) + reach)
        y, x = np.mgrid[rows, columns] + 0.5
        y, x = (y - top) / (radius * scale), (x - left) / (radius * scale)
        away = np.hypot(x, y)
        inside = (away < 1)[:, :, None]
        lens = 1 + 0.5 * y * away - 0.4 * np.exp(-(((away - 0.9) / 0.15) ** 2))
        point = 0.8 * (np.hypot(x + 0.3, y + 0.45) < 0.2)
        surface[rows, columns] *= np.where(inside, lens[:, :, None], 1.0)
        surface[rows, columns] += inside * point[:, :, None]


def photographed(surface: np.ndarray, light: object = 1.0, camera: Camera = PHONE) -> GridCut:
    """What a phone makes of it, as if four of the photo's pixels were one of the grid's."""
    lit = cv2.resize(surface * light, _IN_PHOTO[::-1], interpolation=cv2.INTER_AREA)
    rgb = cv2.resize(_taken(lit, camera), SHAPE[::-1], interpolation=cv2.INTER_AREA)
    return GridCut(rgb, np.ones(SHAPE, np.bool_))


def _taken(lit: np.ndarray, camera: Camera) -> np.ndarray:
    if camera.blur > 0:
        lit = cv2.GaussianBlur(lit, (0, 0), camera.blur)
    random = np.random.default_rng(camera.seed)
    lit = lit + camera.noise * np.sqrt(np.maximum(lit, 0.002) * 0.2) * random.normal(0, 1, lit.shape)
    levels = encoded(lit).astype(np.uint8)
    if camera.quality:
        stream = io.BytesIO()
        Image.fromarray(levels).save(stream, "JPEG", quality=camera.quality, subsampling=2)
        levels = np.asarray(Image.open(stream).convert("RGB"))
    return levels


BOARD_MM = (100.0, 110.0)
PAPERS = tuple(((x, y), (x + 12, y), (x + 12, y + 12), (x, y + 12)) for x, y in ((2, 2), (86, 2), (86, 96), (2, 96)))
PLAN = LightPlan(*BOARD_MM, (OUTLINE,), PAPERS)


def whole_board(surface: np.ndarray, board: object = (150, 140, 125)) -> np.ndarray:
    """Linear light of a board with the coupon and four papers on it, on the fine grid."""
    scale = PIXELS_PER_MM * _FINE
    width, height = (round(each * scale) for each in BOARD_MM)
    grain = np.random.default_rng(3).normal(0, 0.03, (height, width, 1))
    lit = linear(board) * np.exp(grain)
    for (left, top), _, (right, bottom), _ in PAPERS:
        paper = lit[round(top * scale) : round(bottom * scale), round(left * scale) : round(right * scale)]
        cell = round(3 * scale)
        cells = np.add.outer(np.arange(paper.shape[0]) // cell, np.arange(paper.shape[1]) // cell)
        paper[:] = np.where(cells % 2 == 0, 0.8, 0.02)[:, :, None]
    left, top = (round(each * scale) for each in FRAME.origin_mm)
    pad = round(8 * scale)
    inner = surface[pad:-pad, pad:-pad]
    lit[top + pad : top + pad + inner.shape[0], left + pad : left + pad + inner.shape[1]] = inner
    return lit


def board_photo(board: np.ndarray, light: object = 1.0, camera: Camera = PHONE) -> np.ndarray:
    """A photo of a whole board, upright."""
    height, width = board.shape[0] // _FINE, board.shape[1] // _FINE
    return _taken(cv2.resize(board * light, (width, height), interpolation=cv2.INTER_AREA), camera)


def placed(photo: np.ndarray) -> Placement:
    scale = PIXELS_PER_MM
    return Placement((scale, 0, 0, 0, scale, 0, 0, 0, 1.0), (photo.shape[1], photo.shape[0]))


def seen(photo: np.ndarray) -> tuple[GridCut, BoardLook]:
    """The coupon cut from a photo, and the board."""
    return cut_grid(photo, placed(photo), FRAME, Motion()), look_at_board(photo, placed(photo), PLAN)


def clean_base(surface: np.ndarray, camera: Camera = FIRST_DAY) -> Base:
    cut = photographed(surface, camera=camera)
    return make_base([look_of(cut.rgb, cut.shown, UNCHANGED)], FRAME)


def rusted_percent(evidence: Evidence) -> float:
    """Percent of the significant surface that one photo alone calls rusted."""
    surface = significant(FRAME) & (evidence.rust > 0) & ~evidence.foreign & ~evidence.unseen
    return 100 * float(evidence.cover[surface].sum()) / 255 / float(significant(FRAME).sum())


def true_percent(cover: np.ndarray) -> float:
    share = cv2.resize(cover, SHAPE[::-1], interpolation=cv2.INTER_AREA)
    return 100 * float(share[significant(FRAME)].sum()) / float(significant(FRAME).sum())
