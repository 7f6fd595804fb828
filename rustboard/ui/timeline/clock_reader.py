"""The clocks of a board, read when they are wanted and kept while nothing they are made from changed."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from rustboard.board.exposure_clock import (
    ClockKind,
    ExposureClock,
    control_clock,
    day_clock,
    has_graded_controls,
)
from rustboard.board.record import BoardRecord
from rustboard.board.series import Days
from rustboard.ui.clock_words import WhyNot

if TYPE_CHECKING:
    from rustboard.weather.track import WeatherTrack


@dataclass(slots=True)
class ClockReader:
    """Reads clocks.

    Attributes:
        track: the weather, or None. missing: why it is None.
    """

    track: WeatherTrack | None = None
    missing: WhyNot = "no weather"
    _kept: dict[ClockKind, tuple[Days, ExposureClock]] = field(default_factory=dict)

    def take_track(self, track: WeatherTrack | None, missing: WhyNot) -> None:
        """Read from another track from now on; without one, ``missing`` says why."""
        self.track, self.missing = track, missing
        self._kept.clear()

    def reasons(self, record: BoardRecord, days: Days) -> dict[ClockKind, WhyNot]:
        """Return for every clock why it cannot be had; an empty text for those that can."""
        if not days:
            return {"days": "", "wet hours": "no inspection", "rain": "no inspection", "controls": "no inspection"}
        return {
            "days": "",
            "wet hours": self._counted(record, days, "wet hours", "never wet"),
            "rain": self._counted(record, days, "rain", "no rain"),
            "controls": "" if has_graded_controls(record) else "no controls",
        }

    def _counted(self, record: BoardRecord, days: Days, kind: ClockKind, nothing: WhyNot) -> WhyNot:
        if self.track is None:
            return self.missing
        clock = self._weather_clock(self.track, record, days, kind)
        return "" if clock.values and clock.values[-1] > clock.values[0] else nothing

    def read(self, record: BoardRecord, days: Days, kind: ClockKind) -> ExposureClock:
        """Return a clock; that of days where the one that is wanted cannot be had."""
        if self.reasons(record, days)[kind]:
            return day_clock(days)
        if kind == "controls":
            return control_clock(record, days)
        if kind == "days" or self.track is None:
            return day_clock(days)
        return self._weather_clock(self.track, record, days, kind)

    def _weather_clock(self, track: WeatherTrack, record: BoardRecord, days: Days, kind: ClockKind) -> ExposureClock:
        from rustboard.session.timeline_clocks import weather_clock

        zero = record.day_zero()
        kept = self._kept.get(kind)
        if zero is None:
            return day_clock(days)
        if kept is None or kept[0] != days:
            kept = self._kept[kind] = (days, weather_clock(track, kind, zero, days))
        return kept[1]
