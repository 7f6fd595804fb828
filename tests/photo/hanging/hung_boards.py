"""Small painted boards whose coupons hang at known places: a pinhole camera, plates that stand off, shadows, dirt.

Everything is painted in light (linear), blurred by pixel areas, then coded as sRGB (IEC 61966-2-1).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from math import cos, pi, radians, sin

import cv2
import numpy as np

from rustboard.board.model import Outline
from rustboard.photo.hanging.rings import rings_of
from rustboard.photo.homography import mapped
from rustboard.photo.looks import CouponFrame, Motion
from rustboard.photo.placement import Placement

BOARD_MM = (700.0, 400.0)
WOOD = (0.30, 0.19, 0.10)
GREY = (0.26, 0.26, 0.25)
DARK = (0.055, 0.055, 0.06)
WHITE = (0.70, 0.70, 0.68)
STEEL = (0.42, 0.43, 0.44)
BLASTED = (0.29, 0.29, 0.29)
BLACK = (0.04, 0.04, 0.048)
BROWN = (0.17, 0.12, 0.09)
RUST = (0.26, 0.09, 0.025)


@dataclass
class Hung:
    """One coupon to paint: where the record has it, how it was hung, and what is wrong with it."""

    outline: Outline
    colour: tuple[float, float, float] = STEEL
    hang: Motion = field(default_factory=Motion)
    stand_off_mm: float = 5.0
    rust: float = 0.0
    rusted_edge: bool = False
    debris: int = 0
    missing: bool = False
    lettering: int = 0
    texture: float = 0.05


@dataclass
class Scene:
    """The painted photo (sRGB), where the board is in it, and how each coupon truly hangs (standing off included)."""

    rgb: np.ndarray
    placement: Placement
    frames: list[CouponFrame]
    motions: dict[int, Motion] = field(default_factory=dict)
    missing: set[int] = field(default_factory=set)


def rectangle(left: float, top: float, width: float, height: float) -> Outline:
    return ((left, top), (left + width, top), (left + width, top + height), (left, top + height))


def disc(x: float, y: float, radius: float, corners: int = 48) -> Outline:
    turns = [2 * pi * i / corners for i in range(corners)]
    return tuple((x + radius * cos(t), y + radius * sin(t)) for t in turns)


def grid_of(shape: Callable[[float, float], Outline], rows: int = 3, columns: int = 8) -> list[Outline]:
    wide, high = BOARD_MM[0] / columns, BOARD_MM[1] / rows
    return [shape((c + 0.5) * wide, (r + 0.5) * high) for r in range(rows) for c in range(columns)]


def moved(outline: Outline, motion: Motion, middle: tuple[float, float]) -> np.ndarray:
    return mapped(motion.matrix(middle), np.asarray(outline, float))


def worst_error_mm(outline: Outline, found: Motion, true: Motion, middle: tuple[float, float]) -> float:
    """The largest distance of a corner from where it truly is."""
    return float(np.hypot(*(moved(outline, found, middle) - moved(outline, true, middle)).T).max())


def camera(size: tuple[int, int], tilt_x: float, tilt_y: float, roll: float, distance: float = 900.0):
    """Return the 3 x 4 matrix of a camera that looks at the board's middle, z of the board towards it."""
    rx, ry, rz = (radians(a) for a in (tilt_x, tilt_y, roll))
    about_x = np.array([[1, 0, 0], [0, cos(rx), -sin(rx)], [0, sin(rx), cos(rx)]])
    about_y = np.array([[cos(ry), 0, sin(ry)], [0, 1, 0], [-sin(ry), 0, cos(ry)]])
    about_z = np.array([[cos(rz), -sin(rz), 0], [sin(rz), cos(rz), 0], [0, 0, 1]])
    turn = about_z @ about_y @ about_x @ np.diag([1.0, 1.0, -1.0])
    middle = np.array([BOARD_MM[0] / 2, BOARD_MM[1] / 2, 0.0])
    focal = 0.82 * size[0] * distance / BOARD_MM[0]
    inner = np.array([[focal, 0, size[0] / 2], [0, focal, size[1] / 2], [0, 0, 1]])
    shift = np.array([0, 0, distance]) - turn @ middle
    return inner @ np.column_stack([turn, shift]), -turn.T @ shift


def standing_off(middle: tuple[float, float], eye: np.ndarray, stand_off: float) -> tuple[float, float, float]:
    """Return shift and scale that standing off the board by some mm gives, seen from the eye on the board's plane."""
    share = stand_off / (eye[2] - stand_off)
    return share * (middle[0] - eye[0]), share * (middle[1] - eye[1]), 1 + share


def painted(
    hung: Sequence[Hung],
    *,
    seed: int = 1,
    size: tuple[int, int] = (2000, 1500),
    tilt: tuple[float, float, float] = (8.0, -12.0, 2.0),
    board: tuple[float, float, float] = WOOD,
    grain: float = 0.12,
    shadow_mm: tuple[float, float] = (0.0, 0.0),
    dapples: float = 0.0,
    light: tuple[float, float, float] = (1.0, 1.0, 1.0),
    noise: float = 0.01,
) -> Scene:
    """Paint a photo of coupons on a board.

    Args:
        shadow_mm: how far each coupon's shadow falls to the right and downwards for a stand-off of 5 mm.
        dapples: depth of blotchy shade, 0 to 1.
    """
    random = np.random.default_rng(seed)
    matrix, eye = camera(size, *tilt)
    flat = matrix[:, [0, 1, 3]]
    placement = Placement(tuple(float(v) for v in (flat / flat[2, 2]).ravel()), size)
    linear = np.full((size[1], size[0], 3), 0.12, np.float32)
    _lay(linear, flat, rectangle(0, 0, *BOARD_MM), _board_texture(random, board, grain), 2.0)
    scene = Scene(linear, placement, [])
    for number, one in enumerate(hung):
        frame = CouponFrame(number, f"C{number:02d}", one.outline, 5.0)
        scene.frames.append(frame)
        dx, dy, scale = standing_off(frame.middle_mm, eye, one.stand_off_mm)
        # Turned and shifted on its hook first, then seen from the side: both are similarities about the middle.
        share = scale - 1
        true = Motion(one.hang.dx_mm * (1 + share) + dx, one.hang.dy_mm * (1 + share) + dy, one.hang.turn_deg, scale)
        scene.motions[number] = true
        if one.missing:
            scene.missing.add(number)
        else:
            _hang(linear, flat, frame, one, true, shadow_mm, random)
    for one in hung:
        _litter(linear, flat, one, random)
    return _developed(scene, random, dapples, light, noise)


def _hang(linear, flat, frame: CouponFrame, one: Hung, true: Motion, shadow_mm, random) -> None:
    outline = moved(one.outline, true, frame.middle_mm)
    if any(shadow_mm):
        fallen = outline + np.array(shadow_mm) * one.stand_off_mm / 5
        shade = _coverage(mapped(flat, fallen), linear.shape[:2])
        _mix(linear, shade, None, 0.3)
    left, top = outline.min(axis=0) - 1
    right, bottom = outline.max(axis=0) + 1
    picture = _coupon_texture(random, one, right - left, bottom - top, outline - (left, top))
    step = np.array([[1 / 3, 0, left], [0, 1 / 3, top], [0, 0, 1]])
    _lay(linear, flat, [tuple(p) for p in outline], picture, 3.0, np.asarray(step))


def _litter(linear, flat, one: Hung, random) -> None:
    corners = np.asarray(one.outline)
    for _ in range(one.debris):
        start = corners[random.integers(len(corners))]
        end = corners[random.integers(len(corners))]
        at = start + (end - start) * random.random() + random.normal(0, 3, 2)
        turns = np.sort(random.random(7)) * 2 * pi
        leaf = at + np.column_stack([np.cos(turns), np.sin(turns)]) * random.uniform(3, 12)
        _mix(linear, _coverage(mapped(flat, leaf), linear.shape[:2]), random.uniform(0.05, 0.5, 3), 1.0)


def _board_texture(random, colour, grain: float) -> np.ndarray:
    width, height = (int(v * 2) for v in BOARD_MM)
    stripes = cv2.resize(random.normal(0, 1, (height // 5, 12)).astype(np.float32), (width, height))
    fine = cv2.GaussianBlur(random.normal(0, 1, (height, width)).astype(np.float32), (0, 0), 4, sigmaY=0.7)
    return np.exp(grain * (stripes + fine / fine.std()))[..., None] * np.asarray(colour, np.float32)


def _coupon_texture(random, one: Hung, width_mm: float, height_mm: float, outline: np.ndarray) -> np.ndarray:
    width, height = int(width_mm * 3) + 2, int(height_mm * 3) + 2
    fine = random.normal(0, 1, (height, width)).astype(np.float32)
    broad = cv2.resize(random.normal(0, 1, (6, 5)).astype(np.float32), (width, height), interpolation=cv2.INTER_CUBIC)
    picture = np.exp(one.texture * (fine + broad))[..., None] * np.asarray(one.colour, np.float32)
    if one.lettering:
        own = np.random.default_rng(one.lettering)
        for _ in range(6):
            at = own.uniform(0.2, 0.8, 2) * (width, height)
            to = at + own.uniform(-25, 25, 2)
            cv2.line(picture, at.astype(int).tolist(), to.astype(int).tolist(), [c * 0.35 for c in one.colour], 4)
    if one.rust:
        blots = cv2.GaussianBlur(random.normal(0, 1, (height, width)).astype(np.float32), (0, 0), 6)
        picture[blots > np.quantile(blots, 1 - one.rust)] = RUST
    if one.rusted_edge:
        inside = np.zeros((height, width), np.uint8)
        cv2.fillPoly(inside, [np.round(outline * 3).astype(np.int32)], 1)
        deep = cv2.distanceTransform(inside, cv2.DIST_L2, 5) / 3
        wave = cv2.GaussianBlur(random.normal(0, 1, (height, width)).astype(np.float32), (0, 0), 15)
        picture[deep < 2.5 + 1.5 * wave / wave.std()] = RUST
    return picture


def _coverage(polygon_px: np.ndarray, shape: tuple[int, int]) -> tuple[int, int, np.ndarray]:
    """How much of each pixel a polygon covers, by 8 x 8 samples, with left and top of the piece."""
    left, top = np.maximum(np.floor(polygon_px.min(axis=0)).astype(int) - 1, 0)
    right, bottom = np.minimum(np.ceil(polygon_px.max(axis=0)).astype(int) + 1, (shape[1], shape[0]))
    fine = np.zeros((max(bottom - top, 1) * 8, max(right - left, 1) * 8), np.uint8)
    places = ((polygon_px - (left, top)) * 8 - 0.5) * 16
    cv2.fillPoly(fine, [np.round(places).astype(np.int32)], 255, shift=4)
    share = cv2.resize(fine, (fine.shape[1] // 8, fine.shape[0] // 8), interpolation=cv2.INTER_AREA)
    return left, top, share.astype(np.float32) / 255


def _mix(linear, cover, colour, factor: float) -> None:
    left, top, share = cover
    piece = linear[top : top + share.shape[0], left : left + share.shape[1]]
    share = share[: piece.shape[0], : piece.shape[1], None]
    wanted = piece * factor if colour is None else np.broadcast_to(np.asarray(colour, np.float32), piece.shape)
    piece += (wanted - piece) * share


def _lay(linear, flat, outline_mm, texture: np.ndarray, pixels_per_mm: float, step: np.ndarray | None = None) -> None:
    step = np.diag([1 / pixels_per_mm, 1 / pixels_per_mm, 1.0]) if step is None else step
    left, top, share = _coverage(mapped(flat, np.asarray(outline_mm, float)), linear.shape[:2])
    half = np.array([[1, 0, 0.5], [0, 1, 0.5], [0, 0, 1.0]])
    back = np.array([[1, 0, -left - 0.5], [0, 1, -top - 0.5], [0, 0, 1.0]])
    piece = cv2.warpPerspective(
        texture.astype(np.float32), back @ flat @ step @ half, share.shape[::-1], borderMode=cv2.BORDER_REPLICATE
    )
    _mix(linear, (left, top, share), piece, 1.0)


def _developed(scene: Scene, random, dapples: float, light, noise: float) -> Scene:
    linear = scene.rgb
    if dapples:
        blots = cv2.resize(random.normal(0, 1, (14, 20)).astype(np.float32), linear.shape[1::-1], interpolation=2)
        linear *= (1 - dapples * (blots > 0.3))[..., None]
    linear = cv2.GaussianBlur(linear * np.asarray(light, np.float32), (0, 0), 0.6) * 1.4
    linear += noise * np.sqrt(np.maximum(linear, 0.01)) * random.normal(0, 1, linear.shape).astype(np.float32) * 0.5
    linear = np.clip(linear, 0, 1)
    coded = np.where(linear <= 0.0031308, 12.92 * linear, 1.055 * np.power(linear, 1 / 2.4) - 0.055)
    scene.rgb = np.clip(np.rint(coded * 255), 0, 255).astype(np.uint8)
    return scene


def edge_errors_mm(frame: CouponFrame, found: Motion, true: Motion) -> np.ndarray:
    """How far outside its true place the outline was found, at every sample along it (negative: inside)."""
    (ring,) = rings_of((frame,), 120)
    turn = radians(true.turn_deg)
    normals = ring.normals @ np.array([[cos(turn), sin(turn)], [-sin(turn), cos(turn)]])
    points = ring.points + ring.middle
    gap = mapped(found.matrix(frame.middle_mm), points) - mapped(true.matrix(frame.middle_mm), points)
    return np.sum(gap * normals, axis=1)
