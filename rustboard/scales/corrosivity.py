"""How corrosive a place is: categories, dose-response function and classes of ISO 9223.

Values are those of public copies and transcriptions of the standard; where only memory stands behind one, it says so.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal, NamedTuple

from rustboard.support.problems import InputError

Metal = Literal["carbon steel", "zinc"]
Quantity = Literal["um/y", "g/m2 y"]
"""What a first-year corrosion rate was told in: micrometres of thickness, or grams per square metre, in one year."""

CategoryName = Literal["C1", "C2", "C3", "C4", "C5", "CX", "beyond CX"]
CATEGORY_NAMES: Final[tuple[CategoryName, ...]] = ("C1", "C2", "C3", "C4", "C5", "CX", "beyond CX")

UPPER_LIMITS: Final[dict[tuple[Metal, Quantity], tuple[float, ...]]] = {
    ("carbon steel", "um/y"): (1.3, 25.0, 50.0, 80.0, 200.0, 700.0),
    ("carbon steel", "g/m2 y"): (10.0, 200.0, 400.0, 650.0, 1500.0, 5500.0),
    ("zinc", "um/y"): (0.1, 0.7, 2.1, 4.2, 8.4, 25.0),
    ("zinc", "g/m2 y"): (0.7, 5.0, 15.0, 30.0, 60.0, 180.0),
}
"""Highest first-year rate of C1 to CX (table of ISO 9223, seen in public copies; lower limit exclusive, upper
inclusive). The ceilings of CX are from memory, but for steel in um/y. Micrometres and grams were rounded each for
itself, so that a rate may be C3 by one and C2 by the other."""

_LONGEST_YEAR_HOURS: Final = 8784.0


@dataclass(frozen=True, slots=True)
class Category:
    """A category of ISO 9223, with the quantity that decided it.

    Attributes:
        value: the first-year rate, in ``quantity``.
    """

    name: CategoryName
    metal: Metal
    quantity: Quantity
    value: float


def category_of(value: float, quantity: Quantity = "um/y", metal: Metal = "carbon steel") -> Category:
    """Return the category of a first-year corrosion rate by the table of ISO 9223.

    Raises:
        InputError: below 0 or not a number.
    """
    if not (math.isfinite(value) and value >= 0):
        raise InputError("A corrosion rate is a number from 0 up.")
    name = CATEGORY_NAMES[bisect_left(UPPER_LIMITS[metal, quantity], value)]
    return Category(name, metal, quantity, value)


class ValidRange(NamedTuple):
    """The range over which the dose-response function was fitted.

    Attributes:
        name: the input in words. unit: of both limits.
    """

    name: str
    unit: str
    lowest: float
    highest: float


TEMPERATURE_RANGE: Final = ValidRange("mean temperature", "°C", -17.1, 28.7)
HUMIDITY_RANGE: Final = ValidRange("mean relative humidity", "%", 34.0, 93.0)
SULPHUR_RANGE: Final = ValidRange("sulphur dioxide deposition", "mg/(m² d)", 0.7, 150.4)
CHLORIDE_RANGE: Final = ValidRange("chloride deposition", "mg/(m² d)", 0.4, 760.5)
"""Ranges of ISO 9223's dose-response functions (five public transcriptions agree)."""

UNCERTAINTY: Final = (-0.33, 0.50)
"""How far a carbon steel rate by the function may be off, as parts of it (from memory, not certain: a third less to
half as much again; by a weighed coupon about 2 %)."""

LARGEST_DEPOSITION: Final = 10_000.0


@dataclass(frozen=True, slots=True)
class DoseResponse:
    """First-year corrosion of bare carbon steel as the dose-response function of ISO 9223 estimates it.

    Attributes:
        sulphur_term, chloride_term: the two parts of it, in um/y.
        outside: one sentence for each input outside the range of the function; empty = none is.
    """

    sulphur_term: float
    chloride_term: float
    outside: tuple[str, ...]

    @property
    def rate_um_y(self) -> float:
        """The estimated first-year rate, um/y."""
        return self.sulphur_term + self.chloride_term

    @property
    def extrapolated(self) -> bool:
        """Whether an input lies outside the range over which the function was fitted."""
        return bool(self.outside)

    @property
    def low_um_y(self) -> float:
        """The lower end of the estimate's band; see `UNCERTAINTY`."""
        return self.rate_um_y * (1 + UNCERTAINTY[0])

    @property
    def high_um_y(self) -> float:
        """The upper end of the estimate's band; see `UNCERTAINTY`."""
        return self.rate_um_y * (1 + UNCERTAINTY[1])

    @property
    def category(self) -> Category:
        """The category of the estimated rate. An estimate: a weighed coupon is far better."""
        return category_of(self.rate_um_y)


def steel_dose_response(
    temperature_c: float,
    rh_percent: float,
    sulphur_dioxide: float,
    chloride: float,
    *,
    refuse_outside: bool = False,
) -> DoseResponse:
    """Return the dose-response function of ISO 9223 for carbon steel, um in the first year.

    r = 1.77 Pd^0.52 exp(0.020 RH + f) + 0.102 Sd^0.62 exp(0.033 RH + 0.040 T), with f = 0.150 (T - 10) up to 10 °C
    and -0.054 (T - 10) above (five public transcriptions of ISO 9223:2012 agree).

    Args:
        temperature_c: yearly mean.
        rh_percent: yearly mean of the relative humidity.
        sulphur_dioxide: yearly mean deposition, mg/(m2 d), Pd.
        chloride: yearly mean deposition, mg/(m2 d), Sd.
        refuse_outside: an input outside its range is an error; otherwise `DoseResponse.outside` says so.

    Raises:
        InputError: a value that cannot be, or one outside its range that is to be refused.
    """
    _check_possible(temperature_c, rh_percent, sulphur_dioxide, chloride)
    outside = tuple(
        f"The {valid.name} {value:g} {valid.unit} is outside {valid.lowest:g} to {valid.highest:g} {valid.unit}, "
        "where the dose-response function holds; the result is extrapolated."
        for valid, value in (
            (TEMPERATURE_RANGE, temperature_c),
            (HUMIDITY_RANGE, rh_percent),
            (SULPHUR_RANGE, sulphur_dioxide),
            (CHLORIDE_RANGE, chloride),
        )
        if not valid.lowest <= value <= valid.highest
    )
    if outside and refuse_outside:
        raise InputError(outside[0].replace("the result is extrapolated", "give another or weigh a bare coupon"))
    warmth = (0.150 if temperature_c <= 10 else -0.054) * (temperature_c - 10)
    return DoseResponse(
        1.77 * sulphur_dioxide**0.52 * math.exp(0.020 * rh_percent + warmth),
        0.102 * chloride**0.62 * math.exp(0.033 * rh_percent + 0.040 * temperature_c),
        outside,
    )


def _check_possible(temperature_c: float, rh_percent: float, sulphur_dioxide: float, chloride: float) -> None:
    if not -90 <= temperature_c <= 70:
        raise InputError("A yearly mean temperature is from -90 to 70 °C.")
    if not 0 <= rh_percent <= 100:
        raise InputError("A mean relative humidity is from 0 to 100 %.")
    if not all(0 <= each <= LARGEST_DEPOSITION for each in (sulphur_dioxide, chloride)):
        raise InputError(f"A deposition is from 0 to {LARGEST_DEPOSITION:g} mg/(m² d).")


WETNESS_UPPER_LIMITS_H: Final = (10.0, 250.0, 2500.0, 5500.0)
"""Most hours a year of wetness of classes t1 to t4; more is t5 (1992 edition of ISO 9223; the last from memory)."""

SULPHUR_UPPER_LIMITS: Final = (10.0, 35.0, 80.0, 200.0)
CHLORIDE_UPPER_LIMITS: Final = (3.0, 60.0, 300.0, 1500.0)
"""Most deposition, mg/(m2 d), of classes P0 to P3 and S0 to S3 (1992 edition of ISO 9223). That table names whole
numbers (0 to 10, 11 to 35); what lies between two classes counts to the heavier one here."""


def wetness_class(hours_per_year: float) -> str:
    """Return the class of time of wetness, ``t1`` to ``t5`` (lower limit exclusive, upper inclusive).

    Time of wetness is the hours with relative humidity above 80 % and temperature above 0 °C.

    Raises:
        InputError: below 0, or more hours than a year has.
    """
    if not 0 <= hours_per_year <= _LONGEST_YEAR_HOURS:
        raise InputError(f"Hours of wetness in a year are from 0 to {_LONGEST_YEAR_HOURS:g}.")
    return f"t{bisect_left(WETNESS_UPPER_LIMITS_H, hours_per_year) + 1}"


def sulphur_class(deposition: float) -> str:
    """Return the class of sulphur dioxide deposition, ``P0`` to ``P3`` or ``beyond P3``, of ISO 9223:1992.

    Raises:
        InputError: below 0 or not a number.
    """
    return _deposition_class("P", SULPHUR_UPPER_LIMITS, deposition)


def chloride_class(deposition: float) -> str:
    """Return the class of chloride deposition, ``S0`` to ``S3`` or ``beyond S3``, of ISO 9223:1992.

    Raises:
        InputError: below 0 or not a number.
    """
    return _deposition_class("S", CHLORIDE_UPPER_LIMITS, deposition)


def _deposition_class(letter: str, limits: Sequence[float], deposition: float) -> str:
    if not (math.isfinite(deposition) and deposition >= 0):
        raise InputError("A deposition is a number of mg/(m² d) from 0 up.")
    number = bisect_left(limits, deposition)
    return f"{letter}{number}" if number < len(limits) else f"beyond {letter}{number - 1}"
