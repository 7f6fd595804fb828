"""Spots of rust: how many, how large, and how they are strewn."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from rustboard.board.grade import carries_letter
from rustboard.photo.looks import Mask
from rustboard.scales.rust_grade import grade_from_percent

# How the letters are told apart. The meanings are those of ASTM D610: S most rust in a few places, G spots of varied
# size at random, P very many small specks, H a mix. The numbers are common practice, no source: they are set so that
# the program's own reference panels get their own letter.
FEW: Final = 5
"""A few places are this many."""
_FEW_HOLD_MOST: Final = 0.82
_SPECK_MM: Final = 1.0
_SPECKS_HOLD_MOST: Final = 0.6
_NO_SPECK_STANDS_OUT: Final = 0.45
_EVEN_PERCENT: Final = 6.0
_EVEN: Final = 0.42
_LARGE_MM: Final = 3.0
_PART_OF_A_MIX: Final = 0.25
_BETWEEN_IN_A_MIX: Final = 0.12
_CELLS: Final = 72
_RESOLVED_PX: Final = 20
_SHARP_PX: Final = 0.8
"""Blur (standard deviation) of a sharp photo: lens, colour filter and interpolation together."""


@dataclass(frozen=True, slots=True, eq=False)
class Spots:
    """The separate spots of a mask.

    Attributes:
        areas_mm2: of each spot, pixels counted by how much of them is covered; largest first.
        unevenness: standard deviation over mean of the rust in the squares of a grid over the surface; endless where
            there is too little rust for it to matter.
        rim_mm: length of all rims.
    """

    areas_mm2: NDArray[np.float64]
    unevenness: float
    rim_mm: float

    @property
    def count(self) -> int:
        """Number of spots."""
        return len(self.areas_mm2)

    @property
    def total_mm2(self) -> float:
        """Area of all spots."""
        return float(self.areas_mm2.sum())

    @property
    def largest_mm2(self) -> float:
        """Area of the largest spot, 0 without any."""
        return float(self.areas_mm2[0]) if self.count else 0.0

    def diameters_mm(self) -> NDArray[np.float64]:
        """Return the diameters of discs as large as the spots, largest first."""
        diameters: NDArray[np.float64] = 2 * np.sqrt(self.areas_mm2 / np.pi)
        return diameters


def spots_of(rust: Mask, cover: NDArray[np.uint8], surface: Mask, pixels_per_mm: float) -> Spots:
    """Return the spots of a mask; pixels that touch at a corner belong together.

    Args:
        rust: H x W.
        cover: H x W, 0-255, how much of each pixel is covered.
        surface: H x W, the significant surface, for how evenly the rust is strewn over it.
        pixels_per_mm: of the grid.
    """
    places = np.flatnonzero(rust)
    if not places.size:
        return Spots(np.zeros(0), np.inf, 0.0)
    count, labels = cv2.connectedComponents(rust.view(np.uint8), connectivity=8)
    of = labels.reshape(-1)[places]
    sums = np.bincount(of, weights=cover.reshape(-1)[places], minlength=count)[1:] / 255
    areas = np.sort(sums)[::-1] / pixels_per_mm**2
    much = 100 * places.size >= _EVEN_PERCENT * np.count_nonzero(surface)
    return Spots(areas, _unevenness(rust, surface) if much else np.inf, rim_px(rust) / pixels_per_mm)


def rim_px(rust: Mask) -> float:
    """Return the length of a mask's rims in pixels: sides between rust and none.

    A slanted rim is counted along its stairs, 4 / pi too long on the average of all directions, which is taken back.
    """
    plane = rust.view(np.uint8)
    sides = np.count_nonzero(plane[1:] ^ plane[:-1]) + np.count_nonzero(plane[:, 1:] ^ plane[:, :-1])
    return sides * np.pi / 4


def letter_of(spots: Spots, percent: float) -> str:
    """Return the distribution letter S, G, P or H; empty for grades 10 and 0, and where there is no spot."""
    if not spots.count or not carries_letter(grade_from_percent(percent)):
        return ""
    shares = spots.areas_mm2 / max(spots.total_mm2, 1e-12)
    diameters = spots.diameters_mm()
    few = float(shares[:FEW].sum())
    specks = float(shares[diameters < _SPECK_MM].sum())
    between = float(shares[(diameters >= _SPECK_MM) & (diameters < _LARGE_MM)].sum())
    if min(specks, 1 - specks - between) >= _PART_OF_A_MIX and between <= _BETWEEN_IN_A_MIX:
        return "H"
    if few >= _FEW_HOLD_MOST:
        return "S"
    if specks >= _SPECKS_HOLD_MOST and few <= _NO_SPECK_STANDS_OUT:
        return "P"
    # Where much is rusted specks have grown together, but they still lie everywhere alike.
    if percent >= _EVEN_PERCENT and spots.unevenness <= _EVEN:
        return "P"
    return "G"


def resolvable_percent(surface_mm2: float, photo_pixels_per_mm: float, blur_px: float = 0.0) -> float:
    """Return the least area that a photo could have shown, in percent of the significant surface.

    About 20 of the photo's own pixels (common practice, no source: the limit between a spot and noise), more by the
    square of the blur where it is wider than a sharp photo's.

    Args:
        surface_mm2: the significant surface.
        photo_pixels_per_mm: where the coupon is in the photo.
        blur_px: standard deviation of the photo's blur, in its pixels; 0 not known.
    """
    if surface_mm2 <= 0 or photo_pixels_per_mm <= 0:
        return 100.0
    wider = max(1.0, blur_px / _SHARP_PX)
    return min(100.0, 100 * _RESOLVED_PX * wider**2 / photo_pixels_per_mm**2 / surface_mm2)


def _unevenness(rust: Mask, surface: Mask) -> float:
    counted = float(np.count_nonzero(surface))
    if not counted:
        return 0.0
    side = max(1.0, (counted / _CELLS) ** 0.5)
    size = (max(1, round(rust.shape[1] / side)), max(1, round(rust.shape[0] / side)))
    rusty = _shrunk(rust & surface, size)
    there = _shrunk(surface, size)
    inside = there >= 127
    if not inside.any():
        return 0.0
    shares = rusty[inside] / there[inside]
    mean = float(shares.mean())
    return float(shares.std()) / mean if mean > 0 else 0.0


def _shrunk(mask: Mask, size: tuple[int, int]) -> NDArray[np.float32]:
    full = mask.view(np.uint8) * np.uint8(255)
    return np.asarray(cv2.resize(full, size, interpolation=cv2.INTER_AREA), np.float32)
