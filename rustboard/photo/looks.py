"""What the steps of measuring hand to each other: a coupon's grid, how it hangs on a photo, what a photo says of it.

Every photo of a coupon is cut onto one grid of pixels, the coupon's own, so that the same pixel is the same place on
the steel in every photo. Pixels are counted from the outer corner of the top left pixel, whose centre is (0.5, 0.5).
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, cos, radians, sin
from typing import Final

import numpy as np
from numpy.typing import NDArray

from rustboard.board.model import Outline
from rustboard.board.outline import bounds
from rustboard.photo.homography import Matrix

Rgb = NDArray[np.uint8]
Mask = NDArray[np.bool_]
Levels = NDArray[np.int8]

PAD_MM: Final = 8.0
"""How much of the board around the outline belongs to a coupon's grid."""


@dataclass(frozen=True, slots=True)
class CouponFrame:
    """One coupon as it is to be measured: outline, what does not count, and the grid its photos are cut onto.

    Attributes:
        coupon: key. name: what the maker wrote on it.
        outline_mm: on the board, where the record has it.
        excluded_mm: holes, labels and other areas that do not count, on the board.
        margin_mm: strip along the outline and along every hole that does not count.
        pixels_per_mm: of the grid.
    """

    coupon: int
    name: str
    outline_mm: Outline
    pixels_per_mm: float
    excluded_mm: tuple[Outline, ...] = ()
    margin_mm: float = 0.0

    @property
    def origin_mm(self) -> tuple[float, float]:
        """Place on the board of the outer corner of the grid's top left pixel."""
        left, top, _, _ = bounds(self.outline_mm)
        return left - PAD_MM, top - PAD_MM

    @property
    def shape(self) -> tuple[int, int]:
        """Height and width of the grid in pixels."""
        left, top, right, bottom = bounds(self.outline_mm)
        scale = self.pixels_per_mm
        return ceil((bottom - top + 2 * PAD_MM) * scale), ceil((right - left + 2 * PAD_MM) * scale)

    @property
    def box_mm(self) -> tuple[float, float, float, float]:
        """Left, top, right, bottom of the grid on the board."""
        (left, top), (height, width) = self.origin_mm, self.shape
        return left, top, left + width / self.pixels_per_mm, top + height / self.pixels_per_mm

    @property
    def middle_mm(self) -> tuple[float, float]:
        """Middle of the outline's bounding box, about which a coupon turns."""
        left, top, right, bottom = bounds(self.outline_mm)
        return (left + right) / 2, (top + bottom) / 2

    def grid_to_mm(self) -> Matrix:
        """Return the matrix from the grid's pixels to places on the board."""
        left, top = self.origin_mm
        step = 1 / self.pixels_per_mm
        return np.array([[step, 0, left], [0, step, top], [0, 0, 1.0]])

    def on_grid(self, outline_mm: Outline) -> list[tuple[float, float]]:
        """Return places on the board as places on the grid."""
        left, top = self.origin_mm
        return [((x - left) * self.pixels_per_mm, (y - top) * self.pixels_per_mm) for x, y in outline_mm]


@dataclass(frozen=True, slots=True)
class Motion:
    """How a coupon hangs on one photo against where the record has its outline: askew, shifted, nearer the camera.

    A place on the record's outline is turned about the outline's middle, scaled about it, then shifted.

    Attributes:
        dx_mm, dy_mm: shift, y downward.
        turn_deg: clockwise as seen facing the board (from x towards y).
        scale: 1 = as recorded; a coupon that stands off the board looks larger.
    """

    dx_mm: float = 0.0
    dy_mm: float = 0.0
    turn_deg: float = 0.0
    scale: float = 1.0

    def matrix(self, middle_mm: tuple[float, float]) -> Matrix:
        """Return the matrix from places on the record's outline to places on the board's plane in this photo."""
        x, y = middle_mm
        c, s = self.scale * cos(radians(self.turn_deg)), self.scale * sin(radians(self.turn_deg))
        return np.array(
            [[c, -s, x + self.dx_mm - c * x + s * y], [s, c, y + self.dy_mm - s * x - c * y], [0, 0, 1.0]]
        )


@dataclass(frozen=True, slots=True, eq=False)
class Evidence:
    """What one photo says of one coupon, pixel by pixel on the coupon's grid (all H x W).

    Attributes:
        rust: tenths of a natural logarithm of how much likelier the pixel's colour is on rust than on this coupon
            unrusted; above 0 speaks for rust, below for clean steel, 0 says nothing. Within -100 to 100.
        cover: 0-255, how much of the pixel rust covers if there is rust: less than 255 at the edges of spots.
        foreign: looks like neither rust nor this coupon (a dropping, a feather, a leaf's green): it hides the steel.
        unseen: cannot be judged: glare, drops, the edge of a shadow, too dark, beyond the picture.
    """

    rust: Levels
    cover: NDArray[np.uint8]
    foreign: Mask
    unseen: Mask


@dataclass(frozen=True, slots=True)
class CouponFinding:
    """The rust on one coupon at one photo, as the program measures it.

    Attributes:
        percent: of the significant surface rusted. low, high: its own 90 % range.
        spots: number of separate spots. largest_mm2: area of the largest.
        distribution: S, G, P or H; empty where none applies (grades 10 and 0).
        debris_percent, unseen_percent: of the significant surface.
        resolvable_percent: the least area that this photo could have shown.
        confident: whether it may be taken over without a closer look.
        newest: judged without a later photo, so that what lies on the coupon may still prove to be dirt.
        warnings: plain words, for people.
    """

    percent: float
    low: float
    high: float
    spots: int
    largest_mm2: float
    distribution: str
    debris_percent: float
    unseen_percent: float
    resolvable_percent: float
    confident: bool
    newest: bool
    warnings: tuple[str, ...] = ()
