"""The columns of figures in the table of exposures: what they are about, their titles with units, their values."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Final, NamedTuple

from PySide6.QtCore import QT_TRANSLATE_NOOP

from rustboard.ui.weather.exposure_words import say
from rustboard.ui.wording import number

if TYPE_CHECKING:
    from rustboard.weather.exposure import Exposure


class Figure(NamedTuple):
    """A column of figures: its group, its title, the title in full, and its value (None = not known)."""

    group: str
    title: str
    meaning: str
    value: Callable[[Exposure], float | str | None]
    decimals: int = 1


WET = str(QT_TRANSLATE_NOOP("exposure", "Time of wetness"))
RAIN = str(QT_TRANSLATE_NOOP("exposure", "Rain"))
AIR = str(QT_TRANSLATE_NOOP("exposure", "Air"))
ESTIMATED = str(QT_TRANSLATE_NOOP("exposure", "Estimated"))


def _range(each: Exposure) -> str | None:
    if each.lowest_temperature_c is None or each.highest_temperature_c is None:
        return None
    return say("{0} to {1}").format(number(each.lowest_temperature_c), number(each.highest_temperature_c))


FIGURES: Final[tuple[Figure, ...]] = (
    Figure(
        WET,
        str(QT_TRANSLATE_NOOP("exposure", "all, h")),
        str(QT_TRANSLATE_NOOP("exposure", "Hours wet, by loggers and by hand together, of what is known")),
        lambda each: each.wet_hours,
    ),
    Figure(
        WET,
        str(QT_TRANSLATE_NOOP("exposure", "logger, h")),
        str(QT_TRANSLATE_NOOP("exposure", "Hours wet by loggers: RH above 80 % and air above 0 °C (ISO 9223)")),
        lambda each: each.wet_hours_by_logger,
    ),
    Figure(
        WET,
        str(QT_TRANSLATE_NOOP("exposure", "by hand, h")),
        str(QT_TRANSLATE_NOOP("exposure", "Hours wet by hand: as noted, or as assumed for a day with dew or rain")),
        lambda each: each.wet_hours_by_hand,
    ),
    Figure(
        WET,
        str(QT_TRANSLATE_NOOP("exposure", "spells")),
        str(QT_TRANSLATE_NOOP("exposure", "Wet spells that ended, by loggers: cycles of wetting and drying")),
        lambda each: each.wet_spells,
        0,
    ),
    Figure(
        RAIN,
        str(QT_TRANSLATE_NOOP("exposure", "mm")),
        str(QT_TRANSLATE_NOOP("exposure", "Rain, by loggers and by hand together, of what is known")),
        lambda each: each.rain_mm,
    ),
    Figure(
        RAIN,
        str(QT_TRANSLATE_NOOP("exposure", "known, %")),
        str(QT_TRANSLATE_NOOP("exposure", "Share of the time in which rain is known")),
        lambda each: 100 * each.rain_coverage,
        0,
    ),
    Figure(
        AIR,
        str(QT_TRANSLATE_NOOP("exposure", "mean, °C")),
        str(QT_TRANSLATE_NOOP("exposure", "Mean air temperature, by loggers and by hand together")),
        lambda each: each.mean_temperature_c,
    ),
    Figure(
        AIR,
        str(QT_TRANSLATE_NOOP("exposure", "range, °C")),
        str(QT_TRANSLATE_NOOP("exposure", "Lowest and highest air temperature")),
        _range,
    ),
    Figure(
        AIR,
        str(QT_TRANSLATE_NOOP("exposure", "RH, %")),
        str(QT_TRANSLATE_NOOP("exposure", "Mean relative humidity, by loggers")),
        lambda each: each.mean_rh_percent,
        0,
    ),
    Figure(
        ESTIMATED,
        str(QT_TRANSLATE_NOOP("exposure", "dew, h")),
        str(QT_TRANSLATE_NOOP("exposure", "Estimated hours of dew under a clear sky at night, an upper figure")),
        lambda each: each.dew_hours,
    ),
    Figure(
        ESTIMATED,
        str(QT_TRANSLATE_NOOP("exposure", "leaf, h")),
        str(QT_TRANSLATE_NOOP("exposure", "Estimated hours in which leaves would have been wet; indicative")),
        lambda each: each.leaf_wet_hours,
    ),
)
