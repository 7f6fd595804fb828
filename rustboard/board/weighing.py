"""A coupon weighed before and after exposure, its pits, and what of it was bare."""

from __future__ import annotations

from datetime import datetime
from typing import Final, NamedTuple

MOST_WEIGHINGS: Final = 50_000
MOST_CYCLES: Final = 50
MOST_PITS: Final = 1_000
HEAVIEST_G: Final = 100_000.0
LARGEST_AREA_CM2: Final = 100_000.0
LARGEST_MM: Final = 1_000.0
LARGEST_PIT_MM2: Final = 10_000.0
LARGEST_PIT_UM: Final = 50_000.0
DENSITIES_G_CM3: Final = (1.0, 25.0)
CARBON_STEEL_G_CM3: Final = 7.86
"""Density that ASTM G1 lists for carbon steel (from memory)."""


class Weighing(NamedTuple):
    """One coupon weighed: what it lost, over which time, from which area.

    Attributes:
        coupon: key.
        exposed_from: when its exposure began; None = as the board says. exposed_to: when it was taken down.
        before_g: mass before exposure.
        after_g: masses after the first, second ... equal cleaning, by number.
        blank_before_g: mass of an unexposed companion before the same cleaning, or None. blank_after_g: its masses
            after each, as many as ``after_g`` at most.
        thickness_mm: of the sheet, or None. area_cm2: exposed area measured by hand, which takes the place of the one
            from outline and thickness; or None. masked_cm2: covered area that could not corrode.
        density_g_cm3: of the metal.
        bare: whether it was bare metal, so that its loss says how corrosive the place was.
        pits: how many pits were counted, or None. pits_on_cm2: the area they were counted on, or None.
        pit_openings_mm2, pit_depths_um: as measured, in any order.
        recorded: when it was written down, ISO date and time.
        state: ``current``, ``superseded`` or ``withdrawn``. replaces: key of what this one corrects, or None.
    """

    key: int
    coupon: int
    exposed_from: datetime | None
    exposed_to: datetime
    before_g: float
    after_g: tuple[float, ...]
    blank_before_g: float | None
    blank_after_g: tuple[float, ...]
    thickness_mm: float | None
    area_cm2: float | None
    masked_cm2: float
    density_g_cm3: float
    bare: bool
    pits: int | None
    pits_on_cm2: float | None
    pit_openings_mm2: tuple[float, ...]
    pit_depths_um: tuple[float, ...]
    note: str
    recorded: str
    state: str = "current"
    replaces: int | None = None
