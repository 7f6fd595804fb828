"""The demo's invented weather: one kind of day after the other, and what a logger writes down of it.

Nothing here was measured. Every day has a kind; air temperature swings about the season's mean, and the dew point
stays nearly where the kind of day puts it, so that nights are damp and afternoons dry, as they are.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from math import cos, exp, pi
from typing import Final, Literal, NamedTuple

from rustboard.scales.noise import uniform

DayKind = Literal["dry", "fair", "dew", "rain", "showers", "fog", "frost", "spray"]

STEP: Final = timedelta(minutes=30)
_WARMEST_HOUR: Final = 15
_NOISE: Final = 0.35


class Air(NamedTuple):
    """One line of the logger; the rain is what fell since the line before."""

    at: datetime
    temperature_c: float
    humidity_percent: float
    rain_mm: float
    wind_m_s: float


class _Kind(NamedTuple):
    """How a kind of day goes: half its swing (K), dew point under the mean (K), wind (m/s), hours and mm of rain."""

    swing: float
    depression: float
    wind: float
    wet_from: int = 0
    wet_until: int = 0
    rain_mm: float = 0.0


_KINDS: Final[Mapping[DayKind, _Kind]] = {
    "dry": _Kind(4.2, 6.5, 3.5),
    "fair": _Kind(3.6, 4.6, 3.0),
    "dew": _Kind(5.0, 4.0, 0.8),
    "rain": _Kind(1.2, 0.9, 4.5, 6, 22, 9.5),
    "showers": _Kind(2.2, 2.4, 5.5, 11, 17, 3.4),
    "fog": _Kind(1.5, 0.6, 0.6),
    "frost": _Kind(4.8, 4.4, 0.9),
    "spray": _Kind(2.0, 2.0, 9.0),
}


@dataclass(frozen=True, slots=True)
class Climate:
    """The weather of a place over one run.

    Attributes:
        first_c, last_c: mean air temperature on the first and on the last day.
        kinds: what kind of day it was; days not named are ``usual``.
        indoors: under a roof: no rain reaches the logger and less wind.
        seed: which weather.
        silent: from when until when the logger wrote nothing.
    """

    first_c: float
    last_c: float
    kinds: Mapping[date, DayKind]
    usual: DayKind = "fair"
    indoors: bool = False
    seed: int = 1
    silent: tuple[tuple[datetime, datetime], ...] = field(default=())

    def readings(self, first: datetime, last: datetime) -> Iterator[Air]:
        """Yield what the logger wrote from one time until another, by a clock without summer time."""
        count = int((last - first) / STEP) + 1
        dice = uniform(self.seed, 77, count, 3)
        for number in range(count):
            at = first + number * STEP
            if any(begun <= at < ended for begun, ended in self.silent):
                continue
            part = number / max(1, count - 1)
            mean = self.first_c + (self.last_c - self.first_c) * part
            yield self._air(at, mean, [float(each) for each in dice[number]])

    def kind_of(self, day: date) -> DayKind:
        """Return what kind of day it was."""
        return self.kinds.get(day, self.usual)

    def _air(self, at: datetime, mean: float, dice: list[float]) -> Air:
        kind_name = self.kind_of(at.date())
        kind = _KINDS[kind_name]
        if kind_name == "frost":
            mean = min(mean, 2.5)
        hour = at.hour + at.minute / 60
        swing = kind.swing * (0.6 if self.indoors else 1.0)
        temperature = mean + swing * cos(2 * pi * (hour - _WARMEST_HOUR) / 24) + _NOISE * (dice[0] - 0.5)
        dew_point = mean - kind.depression + _NOISE * (dice[1] - 0.5)
        humidity = min(100.0, 100 * exp(_magnus(dew_point) - _magnus(temperature)))
        raining = kind.wet_from <= hour < kind.wet_until and not self.indoors
        share = 1 / max(1, (kind.wet_until - kind.wet_from) * 2)
        rain = round(kind.rain_mm * share * (0.4 + 1.2 * dice[2]) / 0.2) * 0.2 if raining else 0.0
        wind = kind.wind * (0.6 + 0.8 * dice[2]) * (0.3 if self.indoors else 1.0)
        return Air(at, round(temperature, 1), round(humidity, 1), round(rain, 1), round(wind, 1))


def _magnus(temperature_c: float) -> float:
    """Return the exponent of the vapour pressure over water (coefficients of the WMO guide)."""
    return 17.62 * temperature_c / (243.12 + temperature_c)


def as_logger_file(readings: Iterator[Air], title: str) -> bytes:
    """Return readings as a logger's own file: heading, day first, semicolons and decimal commas."""
    lines = [title, "Date;Time;Temp. (°C);RH (%);Rain (mm);Wind (m/s)"]
    lines.extend(_line(each) for each in readings)
    return ("\r\n".join(lines) + "\r\n").encode("cp1252")


def _line(each: Air) -> str:
    numbers = (each.temperature_c, each.humidity_percent, each.rain_mm, each.wind_m_s)
    cells = ";".join(f"{number:.1f}".replace(".", ",") for number in numbers)
    return f"{each.at:%d.%m.%Y;%H:%M};{cells}"
