"""Weighed coupons: from what was noted of one to its loss, area, rate, category and pits; means over replicates."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from statistics import fmean, stdev
from typing import Final, Literal

from rustboard.board.measured import ExcludedArea
from rustboard.board.model import Coupon, Outline
from rustboard.board.record import BoardRecord
from rustboard.board.weighing import Weighing
from rustboard.scales.cleaning import Cleaning, corrosion_loss
from rustboard.scales.corrosivity import Category, category_of
from rustboard.scales.mass_loss import CorrosionRate, ExposedArea, corrosion_rate, exposed_area
from rustboard.scales.pits import PitSummary, pit_summary
from rustboard.support.problems import InputError

FIRST_YEAR_DAYS: Final = (330.0, 400.0)
"""Exposures that are taken for the one year of ISO 9223 (own choice, no source)."""

CARBON_STEEL_DENSITIES: Final = (7.8, 7.9)
"""Densities, g/cm3, of what the categories of carbon steel are used for (own choice around the known values)."""

AreaFrom = Literal["hand", "outline", "faces", ""]
"""How the exposed area was got: measured by hand; from outline and thickness; from the faces alone, for want of a
thickness; not at all."""


@dataclass(frozen=True, slots=True)
class Weighed:
    """One weighed coupon, worked out.

    Attributes:
        coupon: key. coupon_id: as the maker wrote it. treatment: key, or None.
        days: time of exposure, or None where its beginning is not known.
        area_cm2: exposed area, or None. area: what it is made of where it is from the outline.
        cleaning: the loss and where it was read, or None.
        rate: mean rate over the exposure, or None.
        first_year: whether the exposure counts as the one year of ISO 9223.
        by_thickness, by_mass: category of the place by each quantity, of bare carbon steel after one year; or None.
        pits: what the pits amount to, or None where none were noted.
        problems: one plain sentence each, of what could not be worked out, or is doubtful.
    """

    coupon: int
    coupon_id: str
    treatment: int | None
    bare: bool
    days: float | None
    area_cm2: float | None
    area_from: AreaFrom
    area: ExposedArea | None
    cleaning: Cleaning | None
    rate: CorrosionRate | None
    first_year: bool
    by_thickness: Category | None
    by_mass: Category | None
    pits: PitSummary | None
    problems: tuple[str, ...]


def weigh_up(
    weighing: Weighing, coupon: Coupon, excluded: Iterable[ExcludedArea] = (), day_zero: datetime | None = None
) -> Weighed:
    """Return what a weighed coupon says. Whatever cannot be worked out is None, with a sentence in the problems.

    Args:
        weighing: as noted.
        coupon: with its outline, if it has one.
        excluded: areas that do not count; those of other coupons are passed over.
        day_zero: when exposure began on the board, for a coupon without a date of its own.
    """
    problems: list[str] = []
    days = _days(weighing, day_zero, problems)
    own = [each for each in excluded if each.coupon == coupon.key]
    area_cm2, area_from, area = _area(weighing, coupon.outline_mm, own, problems)
    cleaning = _cleaning(weighing, problems)
    rate = None
    if cleaning is not None and cleaning.loss_g >= 0 and area_cm2 is not None and days is not None:
        try:
            rate = corrosion_rate(cleaning.loss_g, area_cm2, days * 24, weighing.density_g_cm3)
        except InputError as error:
            problems.append(str(error))
    first_year = days is not None and FIRST_YEAR_DAYS[0] <= days <= FIRST_YEAR_DAYS[1]
    by_thickness, by_mass = _categories(weighing, rate, days, first_year, problems)
    return Weighed(
        coupon.key,
        coupon.id,
        coupon.treatment,
        weighing.bare,
        days,
        area_cm2,
        area_from,
        area,
        cleaning,
        rate,
        first_year,
        by_thickness,
        by_mass,
        _pits(weighing, rate, days, problems),
        tuple(problems),
    )


def _days(weighing: Weighing, day_zero: datetime | None, problems: list[str]) -> float | None:
    began = weighing.exposed_from or day_zero
    if began is None:
        problems.append("It is not known when the exposure began; give its first day, or the board's start.")
        return None
    days = (weighing.exposed_to - began).total_seconds() / 86_400
    if days <= 0:
        problems.append("The coupon was taken down before its exposure began; check the dates.")
        return None
    return days


def _area(
    weighing: Weighing, outline: Outline, excluded: Sequence[ExcludedArea], problems: list[str]
) -> tuple[float | None, AreaFrom, ExposedArea | None]:
    if weighing.area_cm2 is not None:
        left = weighing.area_cm2 - weighing.masked_cm2
        if left > 0:
            return left, "hand", None
        problems.append("The covered area leaves nothing exposed; check it.")
        return None, "", None
    holes = [each.outline_mm for each in excluded if each.kind == "hole"]
    try:
        area = exposed_area(outline, weighing.thickness_mm or 0.0, holes, weighing.masked_cm2)
    except InputError as error:
        problems.append(str(error))
        return None, "", None
    if any(each.kind != "hole" for each in excluded) and not weighing.masked_cm2:
        problems.append("A label or other area marked on the coupon counts as exposed; give it as covered if it was.")
    if weighing.thickness_mm is None:
        problems.append("Without a thickness the edges are left out of the exposed area, so the rate is too high.")
        return area.cm2, "faces", area
    return area.cm2, "outline", area


def _cleaning(weighing: Weighing, problems: list[str]) -> Cleaning | None:
    try:
        cleaning = corrosion_loss(
            weighing.before_g, weighing.after_g, weighing.blank_before_g, weighing.blank_after_g
        )
    except InputError as error:
        problems.append(str(error))
        return None
    problems.extend(cleaning.doubts)
    return cleaning


def _categories(
    weighing: Weighing, rate: CorrosionRate | None, days: float | None, first_year: bool, problems: list[str]
) -> tuple[Category | None, Category | None]:
    if not weighing.bare or rate is None or days is None:
        return None, None
    low, high = CARBON_STEEL_DENSITIES
    if not low <= weighing.density_g_cm3 <= high:
        problems.append(
            "The density is not that of carbon steel, whose categories are the only ones given for weighed coupons."
        )
        return None, None
    if not first_year:
        problems.append(
            f"Exposed {days:.0f} days: a category of ISO 9223 takes one year ({FIRST_YEAR_DAYS[0]:.0f} to "
            f"{FIRST_YEAR_DAYS[1]:.0f} days), because corrosion slows down, so none is given."
        )
        return None, None
    by_thickness, by_mass = category_of(rate.um_y, "um/y"), category_of(rate.g_m2_y, "g/m2 y")
    if by_thickness.name != by_mass.name:
        problems.append(
            f"{by_thickness.name} by thickness and {by_mass.name} by mass: the standard rounds the two limits each "
            "for itself, so say which was used."
        )
    return by_thickness, by_mass


def _pits(
    weighing: Weighing, rate: CorrosionRate | None, days: float | None, problems: list[str]
) -> PitSummary | None:
    if weighing.pits is None and not weighing.pit_openings_mm2 and not weighing.pit_depths_um:
        return None
    depth = None if rate is None or days is None else rate.um_y * days / 365
    try:
        return pit_summary(
            weighing.pits, weighing.pits_on_cm2, weighing.pit_openings_mm2, weighing.pit_depths_um, depth
        )
    except InputError as error:
        problems.append(str(error))
        return None


def weighed_coupons(record: BoardRecord) -> list[Weighed]:
    """Return what every weighed coupon of a board says, as one reads the board."""
    current = {each.coupon: each for each in record.weighings.values() if each.state == "current"}
    holes = tuple(record.excluded_areas.values())
    zero = record.day_zero()
    return [
        weigh_up(current[coupon.key], coupon, holes, zero)
        for coupon in record.coupons_in_order()
        if coupon.key in current
    ]


@dataclass(frozen=True, slots=True)
class Spread:
    """Some values of one thing: how many, mean, standard deviation of the sample (None for one), least, most."""

    n: int
    mean: float
    sd: float | None
    least: float
    most: float


def spread(values: Sequence[float]) -> Spread:
    """Return mean and spread of one value or more.

    Raises:
        InputError: no value, or one that is not a finite number.
    """
    if not values or not all(math.isfinite(each) for each in values):
        raise InputError("A mean takes at least one finite number.")
    return Spread(len(values), fmean(values), stdev(values) if len(values) > 1 else None, min(values), max(values))


@dataclass(frozen=True, slots=True)
class Replicates:
    """The weighed coupons of one treatment that have a rate.

    Attributes:
        treatment: key, or None for coupons without one.
        um_y, g_m2_y: their rates. days: their times of exposure.
    """

    treatment: int | None
    um_y: Spread
    g_m2_y: Spread
    days: Spread


def replicates(weighed: Iterable[Weighed]) -> list[Replicates]:
    """Return the means by treatment, in the order in which the treatments come first."""
    by_treatment: dict[int | None, list[tuple[CorrosionRate, float]]] = {}
    for each in weighed:
        if each.rate is not None and each.days is not None:
            by_treatment.setdefault(each.treatment, []).append((each.rate, each.days))
    return [
        Replicates(
            treatment,
            spread([rate.um_y for rate, _ in rated]),
            spread([rate.g_m2_y for rate, _ in rated]),
            spread([days for _, days in rated]),
        )
        for treatment, rated in by_treatment.items()
    ]


@dataclass(frozen=True, slots=True)
class MeasuredCorrosivity:
    """How corrosive the place was by bare carbon steel coupons weighed after one year.

    Attributes:
        um_y, g_m2_y: first-year rates. by_thickness, by_mass: category of the mean rate by each quantity.
    """

    um_y: Spread
    g_m2_y: Spread
    by_thickness: Category
    by_mass: Category


def measured_corrosivity(weighed: Iterable[Weighed]) -> MeasuredCorrosivity | None:
    """Return what the bare coupons say of the place, or None where none of them was out for one year."""
    rates = [each.rate for each in weighed if each.by_thickness is not None and each.rate is not None]
    if not rates:
        return None
    thickness, mass = spread([rate.um_y for rate in rates]), spread([rate.g_m2_y for rate in rates])
    return MeasuredCorrosivity(thickness, mass, category_of(thickness.mean, "um/y"), category_of(mass.mean, "g/m2 y"))
