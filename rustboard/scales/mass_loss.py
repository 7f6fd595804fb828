"""Corrosion rate from mass loss (ASTM G1), and the area that was exposed."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, NamedTuple

from rustboard.board.model import Outline
from rustboard.board.outline import area_mm2, bounds
from rustboard.support.problems import InputError

HOURS_PER_YEAR: Final = 8760.0
"""A year of 365 days: what the constant 8.76e4 of ASTM G1 (mm/y from g, cm2, h and g/cm3) stands for."""

SMALLEST_AREA_CM2: Final = 1e-6
HIGHEST_G_M2_H: Final = 1e12
"""Beyond these stand slips of typing: a ten-thousandth of a square millimetre, a ton on a square metre in no time."""

_UM_PER_INCH: Final = 25_400.0
_MM2_PER_CM2: Final = 100.0


class Density(NamedTuple):
    """A metal's density. source: where the value is from."""

    metal: str
    g_cm3: float
    source: str


DENSITIES: Final = (
    Density("Carbon steel", 7.86, "ASTM G1, from memory"),
    Density("Low-alloy steel", 7.85, "ASTM G1, from memory"),
    Density("Steel 1010, 1018, 1020", 7.87, "public table of steel densities"),
    Density("Steel A36", 7.85, "public table of steel densities"),
    Density("Iron", 7.88, "public table of corrosion rate conversions"),
)


@dataclass(frozen=True, slots=True)
class CorrosionRate:
    """Mean corrosion rate over an exposure; every unit follows from one base.

    Attributes:
        g_m2_h: mass lost per area and time, g/(m2 h).
        density_g_cm3: of the metal, by which mass becomes thickness.
    """

    g_m2_h: float
    density_g_cm3: float

    @property
    def g_m2_d(self) -> float:
        """Grams per square metre and day."""
        return self.g_m2_h * 24

    @property
    def g_m2_y(self) -> float:
        """Grams per square metre and year of 8760 h."""
        return self.g_m2_h * HOURS_PER_YEAR

    @property
    def mdd(self) -> float:
        """Milligrams per square decimetre and day."""
        return self.g_m2_d * 10

    @property
    def ug_m2_s(self) -> float:
        """Micrograms per square metre and second."""
        return self.g_m2_h * 1e6 / 3600

    @property
    def um_y(self) -> float:
        """Micrometres per year of 8760 h: 1 g/m2 of a metal of 1 g/cm3 is 1 um thick."""
        return self.g_m2_y / self.density_g_cm3

    @property
    def mm_y(self) -> float:
        """Millimetres per year."""
        return self.um_y / 1000

    @property
    def mpy(self) -> float:
        """Thousandths of an inch per year; 25.4 um each, exactly."""
        return self.um_y * 1000 / _UM_PER_INCH

    @property
    def in_y(self) -> float:
        """Inches per year."""
        return self.um_y / _UM_PER_INCH

    @property
    def in_month(self) -> float:
        """Inches per month, a twelfth of a year."""
        return self.in_y / 12

    @property
    def pm_s(self) -> float:
        """Picometres per second."""
        return self.um_y * 1e6 / (HOURS_PER_YEAR * 3600)


def corrosion_rate(loss_g: float, area_cm2: float, hours: float, density_g_cm3: float) -> CorrosionRate:
    """Return the mean corrosion rate K W / (A T D) of ASTM G1.

    Args:
        loss_g: W, mass lost.
        area_cm2: A, exposed area.
        hours: T, time of exposure.
        density_g_cm3: D.

    Raises:
        InputError: a loss below 0, another value not above 0, or a rate that cannot be.
    """
    if not (math.isfinite(loss_g) and loss_g >= 0):
        raise InputError("The loss comes out below zero, so no corrosion rate follows; check the masses.")
    if not all(math.isfinite(each) and each > 0 for each in (area_cm2, hours, density_g_cm3)):
        raise InputError("Exposed area, time of exposure and density must be above 0; check them.")
    g_m2_h = loss_g / (area_cm2 * 1e-4) / hours if area_cm2 >= SMALLEST_AREA_CM2 else math.inf
    if not g_m2_h <= HIGHEST_G_M2_H:
        raise InputError("The rate comes out higher than any metal corrodes; check exposed area and dates.")
    return CorrosionRate(g_m2_h, density_g_cm3)


@dataclass(frozen=True, slots=True)
class ExposedArea:
    """The area of a sheet coupon that could corrode, and what it is made of, all in cm2.

    Attributes:
        faces: both faces, holes not taken off. edges: all around.
        holes: of both faces, taken off. hole_walls: of all holes, added. masked: covered, taken off.
    """

    faces: float
    edges: float
    holes: float
    hole_walls: float
    masked: float

    @property
    def cm2(self) -> float:
        """The exposed area."""
        return self.faces + self.edges - self.holes + self.hole_walls - self.masked


def exposed_area(
    outline: Outline, thickness_mm: float, holes: Sequence[Outline] = (), masked_cm2: float = 0.0
) -> ExposedArea:
    """Return the exposed area of a sheet coupon: both faces, the edges, the walls of its holes, less what was masked.

    Args:
        outline: corners in mm.
        thickness_mm: of the sheet; 0 leaves edges and walls out.
        holes: through holes, each in mm from the top left corner of the outline's bounding box. They are taken not to
            overlap.
        masked_cm2: covered area.

    Raises:
        InputError: no outline, a hole beyond the coupon, a value that cannot be, or nothing left exposed.
    """
    if len(outline) < 3:
        raise InputError("The coupon has no outline; outline it, or give its exposed area.")
    if not all(math.isfinite(each) and each >= 0 for each in (thickness_mm, masked_cm2)):
        raise InputError("Thickness and covered area are numbers from 0 up.")
    left, top, right, bottom = bounds(outline)
    for hole in holes:
        low_x, low_y, high_x, high_y = bounds(hole)
        if min(low_x, low_y) < 0 or high_x > right - left or high_y > bottom - top:
            raise InputError(
                "A hole reaches beyond the coupon's outline; mend one of them, or give the exposed area."
            )
    area = ExposedArea(
        faces=2 * area_mm2(outline) / _MM2_PER_CM2,
        edges=around_mm(outline) * thickness_mm / _MM2_PER_CM2,
        holes=2 * math.fsum(area_mm2(hole) for hole in holes) / _MM2_PER_CM2,
        hole_walls=math.fsum(around_mm(hole) for hole in holes) * thickness_mm / _MM2_PER_CM2,
        masked=masked_cm2,
    )
    if area.holes >= area.faces or area.cm2 <= 0:
        raise InputError("Holes and covered area leave nothing of the coupon exposed; check them.")
    return area


def around_mm(outline: Outline) -> float:
    """Return the length of a closed polygon's sides, mm."""
    return math.fsum(math.dist(here, there) for here, there in zip(outline, outline[1:] + outline[:1], strict=True))
