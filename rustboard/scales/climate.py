"""What corrosivity needs to know of the weather of a place: yearly means, and from where they are."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Climate:
    """The weather at a board, boiled down to what ISO 9223 asks for.

    Attributes:
        temperature_c, rh_percent: means over the time that is known, or None.
        wet_hours_per_year: hours with humidity above 80 % and temperature above 0 °C, scaled to a year; or None.
        days_known: how many days of weather stand behind them.
        source: from where they are, one plain sentence; empty = not said.
    """

    temperature_c: float | None = None
    rh_percent: float | None = None
    wet_hours_per_year: float | None = None
    days_known: float = 0.0
    source: str = ""
