"""What is fixed to the board beside the coupons: corner markers, insulating studs, punched number tags."""

from __future__ import annotations

from functools import lru_cache
from math import cos, radians, sin
from typing import Final

import numpy as np
from numpy.typing import NDArray

from rustboard.app.demo.texture import Light, disc, grey, rounded_plate, stretched_noise
from rustboard.scales.marker_patterns import MARKER_PATTERNS
from rustboard.scales.noise import smooth_noise

Cover = NDArray[np.float32]

STUD_RADIUS_MM: Final = 7.0
STUD_BESIDE_EDGE_MM: Final = 4.5
"""A stud's centre from the coupon's edge: it covers 2.5 mm of it, less than the edge margin."""

TAG_WIDTH_MM: Final = 21.0
TAG_HEIGHT_MM: Final = 12.0

_PLATE_MARGIN_MM: Final = 4.0
"""Less than most of a cell would let a marker finder take the plate for the marker."""

_PUNCHED: Final = {
    "0": ("01110", "10001", "10001", "10001", "10001", "10001", "01110"),
    "1": ("00100", "01100", "00100", "00100", "00100", "00100", "01110"),
    "2": ("01110", "10001", "00001", "00110", "01000", "10000", "11111"),
    "3": ("01110", "10001", "00001", "00110", "00001", "10001", "01110"),
    "4": ("00010", "00110", "01010", "10010", "11111", "00010", "00010"),
    "5": ("11111", "10000", "11110", "00001", "00001", "10001", "01110"),
    "6": ("00110", "01000", "10000", "11110", "10001", "10001", "01110"),
    "7": ("11111", "00001", "00010", "00100", "00100", "01000", "01000"),
    "8": ("01110", "10001", "10001", "01110", "10001", "10001", "01110"),
    "9": ("01110", "10001", "10001", "01111", "00001", "00010", "01100"),
    "C": ("01110", "10001", "10000", "10000", "10000", "10001", "01110"),
    "P": ("11110", "10001", "10001", "11110", "10000", "10000", "10000"),
}


def marker_plate(number: int, size_mm: float, px_per_mm: int) -> tuple[Light, Cover]:
    """Return a printed marker on its white plate, and the plate's extent.

    Args:
        number: id of the marker, 0 to 3.
        size_mm: side of the black square, a multiple of 6 cells.
        px_per_mm: whole pixels a millimetre.
    """
    cell = round(size_mm * px_per_mm / 6)
    white = round(_PLATE_MARGIN_MM * px_per_mm)
    cells = np.zeros((6, 6), np.float32)
    cells[1:5, 1:5] = [[float(bit) for bit in row] for row in MARKER_PATTERNS[number]]
    level = np.pad(np.kron(cells, np.ones((cell, cell), np.float32)), white, constant_values=1)
    level = np.float32(26) + np.float32(204) * level + np.float32(1.5) * smooth_noise(level.shape, 40, number, 81)
    return grey(level.astype(np.float32), (1.0, 1.0, 0.985)), np.ones(level.shape, np.float32)


@lru_cache(maxsize=16)
def stud(px_per_mm: int, slot_deg: int) -> tuple[Light, Cover]:
    """Return an insulating washer held by a screw, seen from above, its slot at an angle, and its extent."""
    radius = STUD_RADIUS_MM * px_per_mm
    size = 2 * round(radius) + 2
    centre = size / 2
    y = (np.arange(size, dtype=np.float32) + np.float32(0.5 - centre))[:, None] / np.float32(radius)
    x = (np.arange(size, dtype=np.float32) + np.float32(0.5 - centre))[None, :] / np.float32(radius)
    from_middle = np.sqrt(x * x + y * y)
    lit = -(x + y) * np.float32(0.7)
    rim = np.clip((from_middle - np.float32(0.72)) / np.float32(0.28), 0, 1)
    washer = np.float32(206) + np.float32(46) * rim * lit - np.float32(16) * rim
    head = disc(size, 0.46 * radius)
    across = np.abs(x * np.float32(cos(radians(slot_deg))) + y * np.float32(sin(radians(slot_deg))))
    slot = np.clip((np.float32(0.10) - across) * np.float32(radius), 0, 1)
    metal = np.float32(150) + np.float32(52) * lit / np.float32(0.6) * from_middle - np.float32(80) * slot
    ring = np.clip(1 - np.abs(from_middle - np.float32(0.5)) / np.float32(0.07), 0, 1)
    level = washer * (1 - np.float32(0.45) * ring)
    level = level * (1 - head) + metal * head
    return grey(level.astype(np.float32), (1.0, 0.995, 0.97)), disc(size, radius)


def number_tag(text: str, px_per_mm: int, seed: int) -> tuple[Light, Cover]:
    """Return a tag of sheet aluminium with a coupon's id punched in dots, and its extent."""
    shape = (round(TAG_HEIGHT_MM * px_per_mm), round(TAG_WIDTH_MM * px_per_mm))
    level = np.float32(196) + np.float32(4) * stretched_noise(shape, px_per_mm, 40 * px_per_mm, seed, 82)
    level -= np.float32(26) * np.linspace(-0.5, 0.5, shape[0], dtype=np.float32)[:, None]
    pitch = 1.05 * px_per_mm
    left = shape[1] / 2 - (len(text) * 5.6 - 1.6) * pitch / 2 + pitch / 2
    top = shape[0] / 2 - 3 * pitch
    for place, char in enumerate(text):
        for row, dots in enumerate(_PUNCHED.get(char, ())):
            for column, dot in enumerate(dots):
                if dot == "1":
                    _punch(level, top + row * pitch, left + (place * 5.6 + column) * pitch, 0.5 * px_per_mm)
    return grey(level.astype(np.float32), (0.99, 1.0, 1.01)), rounded_plate(shape, 1.5 * px_per_mm)


def _punch(level: NDArray[np.float32], y: float, x: float, radius: float) -> None:
    top, left = int(y - radius) - 2, int(x - radius) - 2
    size = int(2 * radius) + 5
    hole = disc(size, radius, (y - top, x - left))
    burr = disc(size, radius, (y - top + 0.35 * radius, x - left + 0.35 * radius))
    part = level[top : top + size, left : left + size]
    part += np.float32(34) * np.clip(burr - hole, 0, 1)
    part *= 1 - np.float32(0.76) * hole
