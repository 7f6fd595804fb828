"""The climate that the weather of a board adds up to: yearly means, and how far they may be trusted."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import TYPE_CHECKING, Final

from rustboard.board.record import BoardRecord
from rustboard.session.exposure import board_time

if TYPE_CHECKING:
    from rustboard.weather.exposure import Exposure
    from rustboard.weather.track import WeatherTrack

DAYS_A_YEAR: Final = 365.25
_WHOLE_YEAR: Final = 365.0
_WELL_KNOWN: Final = 0.9
"""Share of a year that must be known for its means to be called those of a year (own choice, no source)."""
_EDGE: Final = timedelta(hours=2)
_MONTHS: Final = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November",
    "December",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class ClimateSummary:
    """What the weather known of a board adds up to. A number is None where nothing of it is known.

    Attributes:
        start, end: what it was taken from, by the board's clock: the last whole years where there is a year, else
            all that is known.
        days: between them. days_known: of those, in which temperature and humidity are known.
        mean_temperature_c, mean_rh_percent: means over what is known.
        wet_hours_per_year: hours wet (RH > 80 % and T > 0 C, and noted by hand), of what is known, as if it went on
            like that for a year. rain_mm_per_year: the same of rain.
        whole_year: whether these are means of whole years, well known.
        words: what they are means of, and what that means, plain sentences.
    """

    start: datetime
    end: datetime
    days: float
    days_known: float
    mean_temperature_c: float | None
    mean_rh_percent: float | None
    wet_hours_per_year: float | None
    rain_mm_per_year: float | None
    whole_year: bool
    words: tuple[str, ...]


def climate_summary(record: BoardRecord, track: WeatherTrack) -> ClimateSummary | None:
    """Return the climate that a track adds up to; None where nothing is known."""
    span = track.span()
    if span is None:
        return None
    time = board_time(record)
    start, end = time(span[0]), time(span[1])
    years = int((end - start) / timedelta(days=_WHOLE_YEAR))
    if years:
        # Whole years only, or the seasons at both ends would count twice.
        start = max(start, end - timedelta(days=DAYS_A_YEAR * years))
    exposure = track.exposure(start, end)
    known = min(exposure.temperature_coverage, exposure.humidity_coverage)
    whole = bool(years) and known >= _WELL_KNOWN
    return ClimateSummary(
        start,
        end,
        exposure.days,
        known * exposure.days,
        exposure.mean_temperature_c,
        exposure.mean_rh_percent,
        _per_year(exposure.wet_hours, exposure.coverage * exposure.days),
        _per_year(exposure.rain_mm, exposure.rain_coverage * exposure.days),
        whole,
        _words(exposure, known * exposure.days, years, whole=whole),
    )


def _per_year(amount: float | None, days: float) -> float | None:
    return None if amount is None or days <= 0 else amount / days * DAYS_A_YEAR


def _words(exposure: Exposure, known: float, years: int, *, whole: bool) -> tuple[str, ...]:
    # A reading stands for half a step on both sides: a month does not begin with five minutes of the one before.
    edge = min(_EDGE, (exposure.end - exposure.start) / 3)
    when = _months(exposure.start + edge, exposure.end - edge)
    if whole:
        what = "a year" if years == 1 else f"{years} years"
        if round(known) < round(exposure.days):
            return (f"Means of {what}, {when}, of which {_days(known)} are known.",)
        return (f"Means of {what}, {when}.",)
    if years:
        return (
            f"Means of {_days(known)} out of {round(exposure.days)} {when}, and not of a whole year.",
            "A season that is missing shifts the means, so take them with care.",
        )
    if known < 0.5:
        return (f"Temperature and humidity together are not known of any day {when}, so there are no means.",)
    return (
        f"Means of {_days(known)} {when}, not of a year.",
        "Seasons differ; what holds for a year cannot be told from part of one. The hours per year are scaled up "
        "from these days.",
    )


def _days(days: float) -> str:
    return "1 day" if round(days) == 1 else f"{round(days)} days"


def _months(start: datetime, end: datetime) -> str:
    first, last = _MONTHS[start.month - 1], _MONTHS[end.month - 1]
    if start.year != end.year:
        return f"from {first} {start.year} to {last} {end.year}"
    return f"in {first} {end.year}" if first == last else f"from {first} to {last} {end.year}"
