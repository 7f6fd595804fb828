"""What a board went through between two times: how long, how wet, how much rain, and how much of it is known."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime


@dataclass(frozen=True, slots=True)
class Exposure:
    """What is known of the time between two moments. Sums add up: two stretches in a row make the whole one.

    Shares are of the whole stretch, 0 to 1; a number is None where nothing of it is known.

    Attributes:
        start, end: by the board's clock.
        days: between them.
        coverage: share in which it is known whether the surface was wet (humidity and temperature by a logger, or a
            day noted by hand). coverage_by_logger, coverage_by_hand: its two parts; the rest is ``gap``.
        wet_hours: hours wet, by loggers (RH > 80 % and T > 0 C, ISO 9223) and by hand together, of what is covered.
        wet_hours_by_logger, wet_hours_by_hand: its two parts; by hand means noted hours, or the site's assumption.
        wet_hours_90: hours with RH >= 90 % and T > 0 C, by loggers: a threshold of leaf wetness practice; indicative.
        leaf_wet_hours: hours wet by the decision tree for leaves (indicative), or None without wind or humidity.
        dew_hours: hours at night in which a surface cooling to a clear sky would have been below a dew point
            above 0 C: estimated, an upper figure; by loggers.
        rain_mm: by loggers and by hand together. rain_mm_by_logger, rain_mm_by_hand: its parts.
            rain_coverage: share in which rain is known.
        wet_spells: wet spells by loggers that ended, each a cycle of wetting and drying.
        mean_temperature_c, lowest_temperature_c, highest_temperature_c: air; the mean weighted by time, loggers and
            days by hand together. temperature_coverage: share in which it is known.
        mean_rh_percent, mean_dew_point_c: weighted by time, by loggers. humidity_coverage: share.
        frost_hours: hours at or below 0 C, by loggers.
        stuck_hours: hours in which humidity stood still at its highest value for a day or longer (counted or left
            out as the site says).
        cautions: what to know before trusting the figures, plain sentences.
    """

    start: datetime
    end: datetime
    days: float
    coverage: float
    coverage_by_logger: float
    coverage_by_hand: float
    wet_hours: float | None
    wet_hours_by_logger: float | None
    wet_hours_by_hand: float | None
    wet_hours_90: float | None
    leaf_wet_hours: float | None
    dew_hours: float | None
    rain_mm: float | None
    rain_mm_by_logger: float | None
    rain_mm_by_hand: float | None
    rain_coverage: float
    wet_spells: int | None
    mean_temperature_c: float | None
    lowest_temperature_c: float | None
    highest_temperature_c: float | None
    temperature_coverage: float
    mean_rh_percent: float | None
    mean_dew_point_c: float | None
    humidity_coverage: float
    frost_hours: float | None
    stuck_hours: float
    cautions: tuple[str, ...] = ()

    @property
    def gap(self) -> float:
        """Share in which nothing is known of wetness."""
        return max(0.0, 1.0 - self.coverage)
