"""How weighed coupons are written on the screen: numbers, rates, areas, losses and doubts."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from typing import Final

from PySide6.QtCore import QT_TRANSLATE_NOOP, QCoreApplication, QLocale

from rustboard.scales.cleaning import Cleaning
from rustboard.scales.mass_loss import CorrosionRate
from rustboard.scales.pits import PitSummary
from rustboard.scales.weighed import Spread, Weighed
from rustboard.support.text import printable
from rustboard.ui.wording import number

DASH: Final = "–"

RATE_UNITS: Final[tuple[tuple[str, Callable[[CorrosionRate], float]], ...]] = (
    ("µm/y", lambda rate: rate.um_y),
    ("mm/y", lambda rate: rate.mm_y),
    ("mpy", lambda rate: rate.mpy),
    ("in/y", lambda rate: rate.in_y),
    ("in/month", lambda rate: rate.in_month),
    ("pm/s", lambda rate: rate.pm_s),
    ("g/(m² y)", lambda rate: rate.g_m2_y),
    ("g/(m² d)", lambda rate: rate.g_m2_d),
    ("g/(m² h)", lambda rate: rate.g_m2_h),
    ("mdd", lambda rate: rate.mdd),
    ("µg/(m² s)", lambda rate: rate.ug_m2_s),
)
"""The usual units of corrosion rates, as they are written, and how each is asked for."""

_AREA_FROM: Final = {
    "hand": QT_TRANSLATE_NOOP("weighing", "{0} cm², measured by hand, less what was covered"),
    "outline": QT_TRANSLATE_NOOP("weighing", "{0} cm², from outline and thickness"),
    "faces": QT_TRANSLATE_NOOP("weighing", "{0} cm², from the outline: both faces without edges"),
}
_LOSS_FROM: Final = {
    "break": QT_TRANSLATE_NOOP("weighing", "{0} g, read at the break, cleaning {1}"),
    "last": QT_TRANSLATE_NOOP("weighing", "{0} g, after the last cleaning"),
    "only": QT_TRANSLATE_NOOP("weighing", "{0} g, after the only cleaning"),
}


def say(text: str) -> str:
    """Return a text of these screens in the user's language."""
    return QCoreApplication.translate("weighing", text)


def told(sentence: str) -> str:
    """Return a sentence of the scales in the user's language, safe to show."""
    return printable(QCoreApplication.translate("scales", sentence))


def significant(value: float, digits: int = 4) -> str:
    """Return a number with so many digits that count, in the user's format, never with an exponent."""
    if value == 0 or not math.isfinite(value):
        return number(value, 0)
    decimals = max(0, digits - 1 - math.floor(math.log10(abs(value))))
    return number(value, min(decimals, 12))


def grams(mass_g: float) -> str:
    """Return a mass to a tenth of a milligram, as balances write it."""
    return QLocale().toString(float(mass_g), "f", 4)


def loss_sentences(cleaning: Cleaning) -> Iterator[str]:
    """Yield what the coupon lost and where that was read."""
    yield say(str(_LOSS_FROM[cleaning.loss_from])).format(grams(cleaning.loss_g), cleaning.break_at)
    if cleaning.at_zero_g is not None:
        yield say("{0} g by the later line followed back to no cleaning").format(grams(cleaning.at_zero_g))
    if cleaning.blank:
        yield say("What the blank lost is taken off.")


def area_sentences(weighed: Weighed) -> Iterator[str]:
    """Yield the exposed area, how it was got and what it is made of."""
    if weighed.area_cm2 is None:
        return
    yield say(str(_AREA_FROM[weighed.area_from])).format(number(weighed.area_cm2, 2))
    if weighed.area is not None:
        area = weighed.area
        parts = [(say("faces {0}"), area.faces), (say("edges {0}"), area.edges)]
        if area.holes:
            parts += [(say("holes −{0}"), area.holes), (say("their walls {0}"), area.hole_walls)]
        if area.masked:
            parts.append((say("covered −{0}"), area.masked))
        yield ", ".join(text.format(number(value, 2)) for text, value in parts)


def category_sentences(weighed: Weighed) -> Iterator[str]:
    """Yield the category of the place by each quantity."""
    if weighed.by_thickness is not None and weighed.by_mass is not None:
        yield say("{0} by thickness ({1} µm in the year)").format(
            weighed.by_thickness.name, significant(weighed.by_thickness.value)
        )
        yield say("{0} by mass ({1} g/m² in the year)").format(
            weighed.by_mass.name, significant(weighed.by_mass.value)
        )


def category_text(weighed: Weighed) -> str:
    """Return the category as a table shows it: ``C3``, or ``C3 / C2`` by thickness and mass where they differ."""
    if weighed.by_thickness is None or weighed.by_mass is None:
        return DASH
    names = dict.fromkeys((weighed.by_thickness.name, weighed.by_mass.name))
    return " / ".join(names)


def pit_sentences(pits: PitSummary | None) -> Iterator[str]:
    """Yield what the pits amount to."""
    if pits is None:
        return
    if pits.per_m2 is not None:
        yield say("{0} on a square metre").format(significant(pits.per_m2, 3))
    if pits.mean_opening_mm2 is not None and pits.largest_opening_mm2 is not None:
        yield say("openings {0} mm² on average, the largest {1} mm²").format(
            number(pits.mean_opening_mm2, 3), number(pits.largest_opening_mm2, 3)
        )
    if pits.deepest_um is not None and pits.ten_deepest_um is not None:
        yield say("deepest {0} µm; mean of the {1} deepest {2} µm").format(
            number(pits.deepest_um, 1), pits.of_deepest, number(pits.ten_deepest_um, 1)
        )
    if pits.factor is not None:
        yield say("pitting factor {0}: the deepest over the mean penetration").format(significant(pits.factor, 3))
    if pits.chart:
        yield say("nearest pictures of the chart of ASTM G46, from memory: {0}").format(pits.chart)


def pit_text(pits: PitSummary | None) -> str:
    """Return the pits as a table shows them: the deepest, else how many."""
    if pits is None:
        return DASH
    if pits.deepest_um is not None:
        return say("{0} µm deep").format(number(pits.deepest_um, 0))
    return DASH if pits.per_m2 is None else say("{0} per m²").format(significant(pits.per_m2, 3))


def spread_text(values: Spread) -> str:
    """Return a mean with its standard deviation: ``24.01 ± 1.20``; a single value stands alone."""
    mean = significant(values.mean)
    return mean if values.sd is None else f"{mean} ± {significant(values.sd, 3)}"


def range_text(values: Spread) -> str:
    """Return the least and the most of some values: ``22.8 to 25.2``."""
    return say("{0} to {1}").format(significant(values.least), significant(values.most))
