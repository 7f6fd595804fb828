"""The weather of one stretch of time in sentences, in the user's language and format."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication

from rustboard.session.exposure import Gap
from rustboard.ui.weather.details import Section
from rustboard.ui.wording import date_time, number

if TYPE_CHECKING:
    from rustboard.weather.exposure import Exposure

_MOST_GAPS = 12
_HOURS_A_DAY = 24


def say(text: str) -> str:
    """Return a text of this module's kind in the user's language."""
    return QCoreApplication.translate("exposure", text)


def percent(share: float) -> str:
    """Return a share as percent; what is not all and not nothing never reads as such."""
    rounded = round(100 * share)
    if (rounded == 100 and share < 1 - 1e-9) or (rounded == 0 and share > 1e-9):
        return say("{0} %").format(number(100 * share))
    return say("{0} %").format(number(rounded, 0))


def exposure_sections(each: Exposure, gaps: Sequence[Gap], *, is_open: bool, from_start: bool) -> list[Section]:
    """Return all that is known of a stretch of time.

    Args:
        each: what is known.
        gaps: what is not.
        is_open: whether it ends at the last reading, and not at an inspection.
        from_start: whether it begins with the exposure.
    """
    span = say("{0} to {1}, {2} days").format(date_time(each.start), date_time(each.end), number(each.days))
    lines = [say("Since the start of exposure.")] if from_start else []
    if is_open:
        lines.append(say("It ends at the last moment of which the weather is known; there is no inspection yet."))
    return [
        (span, [*lines, _known(each)]),
        (say("Wetness"), list(_wetness(each))),
        (say("Rain and air"), [*_rain(each), *_air(each)]),
        (say("Estimated"), list(_estimated(each))),
        (say("Not known"), list(_gaps(gaps))),
        (say("Beware"), list(each.cautions)),
    ]


def _known(each: Exposure) -> str:
    if each.coverage <= 0:
        return say("Nothing is known of wetness in this time.")
    if each.coverage_by_hand <= 0:
        return say("Wetness is known of {0} of the time, by loggers.").format(percent(each.coverage))
    if each.coverage_by_logger <= 0:
        return say("Wetness is known of {0} of the time, by hand.").format(percent(each.coverage))
    return say("Wetness is known of {0} of the time: {1} by loggers, {2} by hand.").format(
        percent(each.coverage), percent(each.coverage_by_logger), percent(each.coverage_by_hand)
    )


def _wetness(each: Exposure) -> Iterator[str]:
    if each.wet_hours is None:
        return
    yield say("Wet for {0} h of the {1} h known.").format(
        number(each.wet_hours), number(each.coverage * each.days * _HOURS_A_DAY)
    )
    if each.wet_hours_by_logger is not None and each.coverage_by_logger > 0:
        yield say("By loggers {0} h: relative humidity above 80 % and air above 0 °C (ISO 9223).").format(
            number(each.wet_hours_by_logger)
        )
    if each.wet_hours_by_hand is not None and each.coverage_by_hand > 0:
        yield say("By hand {0} h: as noted, or as assumed for a day with dew or rain (Site and clock).").format(
            number(each.wet_hours_by_hand)
        )
    if each.wet_spells is not None:
        yield say("Wet spells that ended, by loggers: {0}.").format(number(each.wet_spells, 0))
    if each.frost_hours:
        yield say("At or below 0 °C for {0} h, which count as dry.").format(number(each.frost_hours))
    if each.wet_hours_90 is not None:
        yield say("Relative humidity at 90 % and above for {0} h; indicative.").format(number(each.wet_hours_90))


def _rain(each: Exposure) -> Iterator[str]:
    if each.rain_mm is None:
        yield say("Nothing is known of rain.")
        return
    yield say("Rain {0} mm, known of {1} of the time.").format(number(each.rain_mm), percent(each.rain_coverage))
    if each.rain_mm_by_logger is not None and each.rain_mm_by_hand is not None:
        yield say("Of it {0} mm by loggers and {1} mm by hand.").format(
            number(each.rain_mm_by_logger), number(each.rain_mm_by_hand)
        )


def _air(each: Exposure) -> Iterator[str]:
    if each.mean_temperature_c is not None:
        yield say("Air {0} °C in the mean, known of {1} of the time.").format(
            number(each.mean_temperature_c), percent(each.temperature_coverage)
        )
    if each.lowest_temperature_c is not None and each.highest_temperature_c is not None:
        yield say("From {0} °C to {1} °C.").format(
            number(each.lowest_temperature_c), number(each.highest_temperature_c)
        )
    if each.mean_rh_percent is not None:
        yield say("Relative humidity {0} % in the mean, by loggers.").format(number(each.mean_rh_percent))
    if each.mean_dew_point_c is not None:
        yield say("Dew point {0} °C in the mean, by loggers.").format(number(each.mean_dew_point_c))


def _estimated(each: Exposure) -> Iterator[str]:
    if each.dew_hours is not None:
        yield say(
            "Dew for up to {0} h: at night a surface that cools to a clear sky would have been below the dew point. "
            "Nobody saw the sky, so this is an upper figure."
        ).format(number(each.dew_hours))
    if each.leaf_wet_hours is not None:
        yield say("Leaves would have been wet for {0} h, by a decision tree made for leaves; indicative.").format(
            number(each.leaf_wet_hours)
        )


def _gaps(gaps: Sequence[Gap]) -> Iterator[str]:
    longest = sorted(gaps, key=lambda each: each.hours, reverse=True)[:_MOST_GAPS]
    for gap in sorted(longest, key=lambda each: each.start):
        yield gap_text(gap)
    if len(gaps) > len(longest):
        yield say("And {0} shorter ones.").format(number(len(gaps) - len(longest), 0))


def gap_text(gap: Gap) -> str:
    """Return from when to when nothing is known, and how long that is."""
    if gap.hours < 2 * _HOURS_A_DAY:
        length = say("{0} h").format(number(gap.hours, 0))
    else:
        length = say("{0} days").format(number(gap.hours / _HOURS_A_DAY))
    return say("{0} to {1} ({2})").format(date_time(gap.start), date_time(gap.end), length)
