"""The weather of a board day by day, for the report."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta
from typing import TYPE_CHECKING, Final

from rustboard.board.record import BoardRecord
from rustboard.session.exposure import board_time
from rustboard.session.jobs import Progress
from rustboard.session.weather import WeatherRequest, has_weather, work_out_track

if TYPE_CHECKING:
    from rustboard.report.content import DayReadings
    from rustboard.weather.track import WeatherTrack

MOST_DAYS: Final = 20_000
"""Some 55 years; of a logger with a wrong year in it the newest days count."""
_A_DAY: Final = timedelta(days=1)
_DAYS_A_STEP: Final = 100


def day_readings(
    record: BoardRecord, weather: WeatherRequest | None, progress: Progress | None = None
) -> tuple[DayReadings, ...]:
    """Return what each day was like, from the first to the last of which anything is known, by the board's clock.

    A day in between of which nothing is known is there, with nothing in it.

    Raises:
        InputError: the readings of a file are damaged.
        Cancelled: ``progress`` was asked to stop.
    """
    if weather is None or not has_weather(record):
        return ()
    telling = progress or Progress()
    return days_of(record, work_out_track(weather, Progress()), telling)


def days_of(record: BoardRecord, track: WeatherTrack, progress: Progress) -> tuple[DayReadings, ...]:
    """Do `day_readings` with a track that is worked out already."""
    span = track.span()
    if span is None:
        return ()
    moment = board_time(record)
    # What ends at midnight says nothing of the day that begins there.
    last = (moment(span[1]) - timedelta(microseconds=1)).date()
    first = max(moment(span[0]).date(), date.fromordinal(max(1, last.toordinal() - MOST_DAYS + 1)))
    count = (last - first).days + 1
    found = []
    for number in range(count):
        if number % _DAYS_A_STEP == 0:
            progress.step(number, count)
        found.append(_day(track, first + number * _A_DAY))
    return tuple(found)


def _day(track: WeatherTrack, day: date) -> DayReadings:
    from rustboard.report.content import DayReadings

    each = track.exposure(_midnight(day), _midnight(day + _A_DAY))
    return DayReadings(
        day,
        each.wet_hours,
        each.rain_mm,
        each.mean_temperature_c,
        each.lowest_temperature_c,
        each.highest_temperature_c,
        each.mean_rh_percent,
        each.coverage,
    )


def _midnight(day: date) -> datetime:
    return datetime.combine(day, time())
