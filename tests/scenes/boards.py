"""The board without coupons, its printed markers, and what is behind it."""

from __future__ import annotations

from itertools import pairwise

import cv2
import numpy as np

from scenes.camera import for_opencv, scaled, shifted
from scenes.colour import Plane, linear
from scenes.layout import Board
from scenes.noise import blurred, cloud, step
from scenes.randomness import Dice, chance, pick

KINDS = {"painted": 3.0, "grey": 2.0, "wood": 2.0, "rust-hued wood": 2.0}
_PAINTS = ((228, 226, 218), (214, 210, 190), (96, 118, 104), (92, 112, 134), (176, 186, 190), (240, 240, 238))
_WOODS = ((206, 172, 124), (190, 150, 104), (170, 150, 122), (150, 138, 120))
_RUST_HUED_WOODS = ((146, 94, 60), (166, 110, 70), (122, 76, 52), (180, 124, 82))


def painted_board(board: Board, kind: str, pixels_per_mm: float, dice: Dice) -> Plane:
    """Return the board's colours (linear light) on a grid of its own, markers included."""
    # rounded up, so that the grid is exact and reaches the board's edge
    shape = (int(np.ceil(board.height_mm * pixels_per_mm)), int(np.ceil(board.width_mm * pixels_per_mm)))
    if kind in ("wood", "rust-hued wood"):
        surface = _wood(shape, pixels_per_mm, dice, _WOODS if kind == "wood" else _RUST_HUED_WOODS)
    else:
        srgb = (130 + float(dice.normal(0, 20)),) * 3 if kind == "grey" else _PAINTS[int(dice.integers(len(_PAINTS)))]
        surface = _paint(shape, pixels_per_mm, dice, srgb)
    for number, x, y, size in board.markers:
        _lay_marker(surface, number, (x, y), size, pixels_per_mm, dice)
    return surface


def _paint(shape: tuple[int, int], scale: float, dice: Dice, srgb: tuple[float, ...]) -> Plane:
    """Paint by a roller, with a little dirt."""
    dimples, patchy = cloud(dice, shape, 1.6 * scale, 2), cloud(dice, shape, 80 * scale, 4)
    dirt = step(cloud(dice, shape, 30 * scale, 5, 0.7), 1.0, 3.0) * np.float32(0.18)
    brightness = np.exp(0.025 * dimples + 0.03 * patchy)[..., None]
    colour = linear(srgb)[None, None] * brightness
    return colour * (1 - dirt[..., None]) + linear((92, 80, 66))[None, None] * dirt[..., None]


def _wood(shape: tuple[int, int], scale: float, dice: Dice, colours: tuple[tuple[int, int, int], ...]) -> Plane:
    """Planks side by side, each with grain along it, pores, and now and then a knot."""
    count = int(dice.integers(3, 6))
    surface = np.empty((*shape, 3), np.float32)
    limits = np.linspace(0, shape[0], count + 1).astype(int)
    base = linear(colours[int(dice.integers(len(colours)))])
    for top, bottom in pairwise(limits):
        tone = base * np.exp(dice.normal(0, 0.12) + dice.normal(0, 0.03, 3)).astype(np.float32)
        surface[top:bottom] = _plank((bottom - top, shape[1]), scale, dice, tone)
        seam = max(1, round(0.8 * scale))
        surface[top : top + seam] *= np.float32(0.25)
        surface[top + seam : top + 2 * seam] *= np.float32(0.8)
    return surface


def _plank(shape: tuple[int, int], scale: float, dice: Dice, tone: Plane) -> Plane:
    y, x = np.mgrid[: shape[0], : shape[1]].astype(np.float32) / np.float32(scale)
    height = y + 5.0 * cloud(dice, shape, (40 * scale, 260 * scale), 3)
    knots = np.zeros(shape, np.float32)
    for _ in range(int(dice.poisson(0.9))):
        middle = (float(dice.uniform(0, shape[1] / scale)), float(dice.uniform(0.2, 0.8)) * shape[0] / scale)
        radius = float(dice.uniform(4, 10))
        near = np.exp(-(((x - middle[0]) / (2.2 * radius)) ** 2 + ((y - middle[1]) / radius) ** 2))
        height = height + np.sign(y - middle[1]) * near * np.float32(-1.6 * radius)
        knots = np.maximum(knots, near)
    period = float(dice.uniform(4, 11))
    rings = 0.5 + 0.5 * np.sin(
        height * np.float32(2 * np.pi / period) + 0.8 * cloud(dice, shape, (6 * scale, 90 * scale), 3)
    )
    late = rings**3  # late wood: narrow dark lines
    fibres = cloud(dice, shape, (0.5 * scale, 25 * scale), 3, 0.8)
    pores = step(cloud(dice, shape, (0.35 * scale, 6 * scale), 2, 0.8), 1.6, 2.4)
    dark = (
        0.42 * late
        + 0.07 * fibres
        + 0.35 * pores
        + 0.9 * step(knots, 0.45, 0.95)
        + 0.05 * cloud(dice, shape, 60 * scale, 3)
    )
    # Darker wood is also redder: blue goes first.
    fall = np.array([0.85, 1.0, 1.15], np.float32)
    return tone * np.exp(-np.maximum(dark, -0.3)[..., None] * fall)


def _lay_marker(
    surface: Plane, number: int, centre: tuple[float, float], size: float, scale: float, dice: Dice
) -> None:
    """Lay a printed marker on the board: black cells on white paper that reaches one cell beyond them."""
    dictionary = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_50)
    cells = cv2.aruco.generateImageMarker(dictionary, number, 6, borderBits=1)
    fine = 24
    paper = cv2.resize(np.pad(cells, 1, constant_values=255), (8 * fine, 8 * fine), interpolation=cv2.INTER_NEAREST)
    cell = size / 6
    place = (
        scaled(scale) @ shifted(centre[0] - 4 * cell, centre[1] - 4 * cell) @ np.diag([cell / fine, cell / fine, 1])
    )
    low = np.floor((np.array(centre) - 4.2 * cell) * scale).astype(int).clip(0)
    high = np.ceil((np.array(centre) + 4.2 * cell) * scale).astype(int)
    window = surface[low[1] : high[1], low[0] : high[0]]
    matrix = for_opencv(shifted(-float(low[0]), -float(low[1])) @ place)
    extent = (window.shape[1], window.shape[0])
    soft = cv2.GaussianBlur(paper.astype(np.float32) / 255, (0, 0), max(0.3, fine / cell / scale * 0.35))
    printed = cv2.warpPerspective(soft, matrix, extent, flags=cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
    there = cv2.warpPerspective(np.ones_like(soft), matrix, extent, flags=cv2.INTER_LINEAR)[..., None]
    white, black = linear((236, 236, 234)), linear((34, 34, 36))
    tone = np.exp(0.02 * cloud(dice, window.shape[:2], 5 * scale, 2))[..., None]
    ink = (black + (white - black) * printed[..., None]) * tone
    window += (ink - window) * there


def drawn_kind(dice: Dice) -> str:
    return pick(dice, KINDS)


def surroundings(size_mm: tuple[float, float], pixels_per_mm: float, dice: Dice) -> Plane:
    """Return what is behind the board (bricks, concrete, grass), out of focus."""
    shape = (round(size_mm[1] * pixels_per_mm), round(size_mm[0] * pixels_per_mm))
    kind = pick(dice, {"concrete": 2, "bricks": 1.5, "grass": 1.5})
    if kind == "grass":
        blades, patches = cloud(dice, shape, (12 * pixels_per_mm, 4 * pixels_per_mm), 3), cloud(dice, shape, 90, 4)
        colour = linear((82, 94, 54)) * np.exp(0.36 * blades + 0.3 * patches)[..., None]
    elif kind == "bricks":
        y, x = np.mgrid[: shape[0], : shape[1]].astype(np.float32) / np.float32(pixels_per_mm)
        row = np.floor(y / 65)
        across = (x + np.mod(row, 2) * 112) / 225
        joint = np.maximum(np.abs(np.mod(y / 65, 1) - 0.5) * 65, np.abs(np.mod(across, 1) - 0.5) * 225)
        mortar = step(joint - np.where(np.abs(np.mod(y / 65, 1) - 0.5) * 65 > 27, 27, 107), 0, 1.5)[..., None]
        tone = np.exp(0.25 * cloud(dice, shape, (65 * pixels_per_mm, 225 * pixels_per_mm), 4))[..., None]
        colour = linear((142, 82, 62)) * tone * (1 - mortar) + linear((168, 160, 148)) * mortar
    else:
        colour = linear((148, 145, 138)) * np.exp(0.15 * cloud(dice, shape, 120 * pixels_per_mm, 6, 0.7))[..., None]
    return blurred(colour.astype(np.float32), 1.2 * pixels_per_mm if chance(dice, 0.7) else 0.5)
