"""Boards photographed by OpenCV's own camera model, for the tests of finding the board: drawn flat, then projected.

A camera is OpenCV's: focal length, rotation vector, translation and the radial term k1. A place that
``projectPoints`` puts at radius r (in focal lengths) moves to r (1 + k1 r^2); `Placement` says the same with the
radius in half diagonals, so its lens is k1 (half diagonal / focal length)^2 as long as the principal point is the
middle.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache

import cv2
import numpy as np

from rustboard.board.model import Board, Marker
from rustboard.photo.placement import Placement, straightened

WIDTH_MM, HEIGHT_MM = 700.0, 400.0
BOARD = Board("harbour", rows=3, columns=7, width_mm=WIDTH_MM, height_mm=HEIGHT_MM)
MARKERS = tuple(
    Marker(number, centre, 30.0) for number, centre in enumerate([(20, 20), (680, 20), (680, 380), (20, 380)])
)
BOARD_CORNERS = [(0.0, 0.0), (WIDTH_MM, 0.0), (WIDTH_MM, HEIGHT_MM), (0.0, HEIGHT_MM)]
AROUND_MM = 150.0
"""How much of the wall around the board is drawn."""


@dataclass(frozen=True)
class Camera:
    """OpenCV's camera before a board; its middle looks at the board's middle but for ``shift_mm``."""

    size_px: tuple[int, int] = (2000, 1500)
    turn_deg: float = 0.0
    tilt_deg: tuple[float, float] = (0.0, 0.0)
    k1: float = 0.0
    fills: float = 0.85
    shift_mm: tuple[float, float] = (0.0, 0.0)

    @property
    def focal_px(self) -> float:
        """A phone's usual lens: the diagonal of its picture is 1.6 times the focal length (79 degrees)."""
        return float(np.hypot(*self.size_px)) / 1.6

    @property
    def matrix(self) -> np.ndarray:
        width, height = self.size_px
        # OpenCV counts from the centre of the first pixel.
        return np.array([[self.focal_px, 0, width / 2 - 0.5], [0, self.focal_px, height / 2 - 0.5], [0, 0, 1]])

    @cached_property
    def pose(self) -> tuple[np.ndarray, np.ndarray]:
        turn, (about_x, about_y) = np.radians(self.turn_deg), np.radians(self.tilt_deg)
        rotation = cv2.Rodrigues(np.array([about_x, about_y, 0.0]))[0] @ cv2.Rodrigues(np.array([0.0, 0.0, turn]))[0]
        reach = np.array([WIDTH_MM, HEIGHT_MM])
        spanned = np.abs(rotation[:2, :2]) @ reach
        distance = self.focal_px * float(np.max(spanned / np.array(self.size_px))) / self.fills
        middle = np.array([WIDTH_MM / 2 + self.shift_mm[0], HEIGHT_MM / 2 + self.shift_mm[1], 0.0])
        return cv2.Rodrigues(rotation)[0], np.array([0.0, 0.0, distance]) - rotation @ middle

    def project(self, points_mm) -> np.ndarray:
        """Return where OpenCV's own projection puts places on the board, in our count of pixels."""
        flat = np.asarray(points_mm, np.float64).reshape(-1, 2)
        solid = np.column_stack([flat, np.zeros(len(flat))])
        seen, _ = cv2.projectPoints(solid, *self.pose, self.matrix, np.array([self.k1, 0, 0, 0.0]))
        return seen.reshape(-1, 2) + 0.5

    @property
    def lens(self) -> float:
        return self.k1 * (float(np.hypot(*self.size_px)) / 2 / self.focal_px) ** 2

    @property
    def placement(self) -> Placement:
        """The truth as our own value, to draw by; the tests compare with `project`."""
        rotation = cv2.Rodrigues(self.pose[0])[0]
        shift = np.array([[1, 0, 0.5], [0, 1, 0.5], [0, 0, 1]])
        view = shift @ self.matrix @ np.column_stack([rotation[:, :2], self.pose[1]])
        return Placement(tuple((view / view[2, 2]).ravel().tolist()), self.size_px, self.lens)


@dataclass(frozen=True)
class Drawing:
    """A flat board with the wall around it; ``grid`` takes its pixels to millimetres."""

    rgb: np.ndarray
    pixels_per_mm: float

    def place(self, x_mm: float, y_mm: float) -> tuple[int, int]:
        return round((x_mm + AROUND_MM) * self.pixels_per_mm), round((y_mm + AROUND_MM) * self.pixels_per_mm)

    def filled(self, box_mm: tuple[float, float, float, float], colour: tuple[int, int, int]) -> Drawing:
        """Return the drawing with a box of one colour."""
        rgb = self.rgb.copy()
        (left, top), (right, bottom) = self.place(*box_mm[:2]), self.place(*box_mm[2:])
        rgb[top:bottom, left:right] = colour
        return Drawing(rgb, self.pixels_per_mm)


def clouds(shape: tuple[int, int], cell: tuple[float, float], seed: int) -> np.ndarray:
    """Return smooth noise, about -1 to 1."""
    rng = np.random.default_rng(seed)
    height, width = shape
    coarse = rng.normal(0, 0.5, (max(2, round(height / cell[1])), max(2, round(width / cell[0])))).astype(np.float32)
    return cv2.resize(coarse, (width, height), interpolation=cv2.INTER_CUBIC)


@lru_cache(maxsize=6)
def drawn(
    markers: tuple[Marker, ...] = MARKERS, pixels_per_mm: float = 4.0, seed: int = 1, coupon_seed: int = 1
) -> Drawing:
    """Return a board of planks with three rows of seven grey coupons before a wall, and its markers."""
    width = round((WIDTH_MM + 2 * AROUND_MM) * pixels_per_mm)
    height = round((HEIGHT_MM + 2 * AROUND_MM) * pixels_per_mm)
    p = pixels_per_mm
    tone = 140 + 12 * clouds((height, width), (6 * p, 6 * p), seed) + 6 * clouds((height, width), (p, p), seed + 1)
    drawing = Drawing(np.empty(0), p)
    left, top = drawing.place(0, 0)
    right, bottom = drawing.place(WIDTH_MM, HEIGHT_MM)
    board = (bottom - top, right - left)
    grain = 95 + 22 * clouds(board, (90 * p, 1.5 * p), seed + 2) + 12 * clouds(board, (30 * p, 0.6 * p), seed + 3)
    tone[top:bottom, left:right] = grain
    for edge in range(1, 4):
        y, _ = drawing.place(HEIGHT_MM * edge / 4, 0)[0], 0
        tone[y - round(p) : y + round(p), left:right] -= 45
    for row in range(3):
        for column in range(7):
            x, y = drawing.place(56 + 88 * column, 10 + 130 * row)
            shape = (round(120 * p), round(60 * p))
            steel = 150 + 8 * clouds(shape, (20 * p, 20 * p), coupon_seed * 100 + row * 7 + column)
            tone[y : y + shape[0], x : x + shape[1]] = steel + 6 * clouds(
                shape, (0.5 * p, 9 * p), coupon_seed + column
            )
    rgb = np.clip(np.stack([tone * 1.03, tone, tone * 0.9], axis=2), 0, 255).astype(np.uint8)
    drawing = Drawing(rgb, p)
    for marker in markers:
        _paste(drawing, marker)
    return drawing


def _paste(drawing: Drawing, marker: Marker) -> None:
    x, y = marker.centre_mm
    half, white = marker.size_mm / 2, marker.size_mm * (0.5 + 1 / 6)
    (left, top), (right, bottom) = drawing.place(x - white, y - white), drawing.place(x + white, y + white)
    drawing.rgb[top:bottom, left:right] = 235
    (left, top), (right, bottom) = drawing.place(x - half, y - half), drawing.place(x + half, y + half)
    pattern = cv2.aruco.generateImageMarker(
        cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_50), marker.id, right - left
    )
    drawing.rgb[top:bottom, left:right] = np.clip(pattern, 25, 235)[:, :, None]


def photographed(drawing: Drawing, camera: Camera, *, blur_px: float = 0.7, noise: float = 3.0, seed: int = 5):
    """Return an upright photo (H x W x 3) of a drawing, taken by a camera."""
    width, height = camera.size_px
    step = 8
    columns, rows = -(-width // step) + 1, -(-height // step) + 1
    xs, ys = np.meshgrid(np.arange(columns) * step + 0.5, np.arange(rows) * step + 0.5)
    ideal = straightened(np.column_stack([xs.ravel(), ys.ravel()]), camera.size_px, camera.lens)
    back = np.linalg.inv(np.reshape(camera.placement.mm_to_px, (3, 3)))
    there = ideal @ back[:, :2].T + back[:, 2]
    places = (there[:, :2] / there[:, 2:] + AROUND_MM) * drawing.pixels_per_mm - 0.5
    coarse = places.reshape(rows, columns, 2).astype(np.float32)
    # Every eighth pixel is exact, linear between: a bent or slanted view strays by hundredths of a pixel.
    affine = np.array([[1 / step, 0, 0], [0, 1 / step, 0]])
    fine = cv2.warpAffine(coarse, affine, (width, height), flags=cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP)
    scale = drawing.pixels_per_mm / float(np.hypot(*(places[1] - places[0]))) * step / drawing.pixels_per_mm
    softened = cv2.GaussianBlur(drawing.rgb, (0, 0), max(0.3, 0.5 * float(np.hypot(*(places[1] - places[0]))) / step))
    assert scale > 0
    photo = cv2.remap(softened, fine, None, cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
    if blur_px:
        photo = cv2.GaussianBlur(photo, (0, 0), blur_px)
    if noise:
        grain = np.random.default_rng(seed).normal(0, noise, (height, width, 1)).astype(np.float32)
        photo = np.clip(photo + grain, 0, 255).astype(np.uint8)
    return photo
