"""What to know before trusting the figures of an exposure, in plain sentences."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import TYPE_CHECKING, Final

import numpy as np

from rustboard.weather.exposure import Exposure
from rustboard.weather.readings import BoardWeather, Seconds

if TYPE_CHECKING:
    from rustboard.weather.sums import Sums

ENOUGH: Final = 0.8
"""Share of a stretch that should be known before its sums are compared with another's (own rule)."""
_PERCENT: Final = 100


def cautions_of(exposure: Exposure, weather: BoardWeather, sums: Sums, low: float, high: float) -> Exposure:
    """Return an exposure with what is to be said of it; ``low``, ``high``: true seconds of its start and end."""
    return replace(exposure, cautions=tuple(_sentences(exposure, weather, sums, low, high)))


def _sentences(exposure: Exposure, weather: BoardWeather, sums: Sums, low: float, high: float) -> Iterator[str]:
    site = weather.site
    assumed = sums.assumed.between(low, high)
    if exposure.coverage < ENOUGH and exposure.days > 0:
        # Rounded down, so that a little less than enough is not told as enough.
        known = int(exposure.coverage * _PERCENT)
        yield (
            f"Whether it was wet is known for {known} % of this time only; the wet hours are of that part, and "
            "nothing was filled in."
        )
    if exposure.coverage_by_hand > 0:
        yield _by_hand(exposure, weather, assumed)
    if exposure.stuck_hours >= 0.5:
        what = "left out" if site.leave_out_stuck else "counted as wet"
        yield (
            f"Humidity stood still at its highest for {exposure.stuck_hours:.0f} hours, a day or longer at a time: "
            f"fog, or a wet sensor. They are {what} (Site and clock)."
        )
    if 0 < sums.leaf_known.between(low, high) < sums.growth["by logger"].between(low, high):
        yield "Wind is known for some of this time only; the hours of wet leaves are of that part."
    yield from _of_loggers(weather, sums, low, high)


def _by_hand(exposure: Exposure, weather: BoardWeather, assumed: float) -> str:
    share = f"{round(exposure.coverage_by_hand * _PERCENT)} % of this time is from the day log"
    if assumed <= 0:
        return f"{share}."
    return (
        f"{share}; where no hours were noted, a day with dew counts as {weather.site.dew_day_hours:g} hours wet, one "
        f"with rain, fog or snow as {weather.site.wet_day_hours:g}: an assumption."
    )


def _of_loggers(weather: BoardWeather, sums: Sums, low: float, high: float) -> Iterator[str]:
    skipped = sum(_count(each.skipped, low, high) for each in sums.loggers)
    if skipped:
        yield (
            f"{skipped} readings lie in an hour that the clock never showed: the logger seems to keep the same time "
            "all year; check its clock."
        )
    if any(_count(each.guessed, low, high) for each in sums.loggers):
        yield (
            "In the hour that clocks show twice in autumn the warmer readings were taken for the first pass: a "
            "guess, since nights grow colder."
        )
    conflicts = sum(_count(each.conflicts, low, high) for each in sums.loggers)
    if conflicts:
        yield f"At {conflicts} moments the files of one logger say different things; the mean was taken."
    clocks = {each.clock for each in weather.files}
    if not weather.site.zone and len(clocks | {""}) > 1:
        yield (
            "The files tell the time by different clocks, and the zone of the board is not known: every clock was "
            "taken as it is (Site and clock)."
        )


def _count(seconds: Seconds, low: float, high: float) -> int:
    first, behind = np.searchsorted(seconds, [low, high])
    return max(0, int(behind - first))
