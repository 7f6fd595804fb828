"""What the workbook says of the weather between the inspections."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from rustboard.board.record import BoardRecord
from rustboard.session.climate import climate_summary
from rustboard.session.exposure import InspectionExposure, cautions_by_time, inspection_exposures, named_gaps
from rustboard.session.jobs import Progress
from rustboard.session.weather import WeatherRequest, has_weather, work_out_track

if TYPE_CHECKING:
    from rustboard.report.choice import Writing
    from rustboard.report.exposure_sheet import ExposureContent, ExposureLine
    from rustboard.weather.exposure import Exposure

_MOST_GAPS = 60


def exposure_content(
    record: BoardRecord, weather: WeatherRequest | None, writing: Writing | None = None
) -> ExposureContent | None:
    """Return what to write of the weather; None where nothing is known of it.

    ``writing``: how numbers and days in sentences are written; None = the first way.

    Raises:
        InputError: the readings of a file are damaged.
    """
    if weather is None or not has_weather(record):
        return None
    from rustboard.report.choice import WRITINGS
    from rustboard.report.exposure_sheet import ExposureContent

    writing = writing or WRITINGS[0]
    track = work_out_track(weather, Progress())
    rows = inspection_exposures(record, track)
    climate = climate_summary(record, track)
    return ExposureContent(
        [_line(each.interval) for each in rows],
        [_line(each.since_start) for each in rows],
        () if climate is None else (*_figures_in_words(writing, climate.mean_temperature_c, climate.mean_rh_percent,
                                                       climate.wet_hours_per_year), *climate.words),
        list(_gaps_in_words(rows, writing)),
        list(_cautions(rows, writing)),
    )  # fmt: skip


def _figures_in_words(
    writing: Writing, temperature: float | None, humidity: float | None, wet: float | None
) -> Iterator[str]:
    parts = []
    if temperature is not None:
        parts.append(f"mean temperature {writing.number(temperature, 1)} °C")
    if humidity is not None:
        parts.append(f"mean relative humidity {writing.number(humidity, 0)} %")
    if wet is not None:
        parts.append(f"{writing.number(wet, 0)} hours wet a year")
    if parts:
        text = ", ".join(parts)
        yield f"{text[:1].upper()}{text[1:]}."


def _line(each: Exposure) -> ExposureLine:
    from rustboard.report.exposure_sheet import ExposureLine

    return ExposureLine(
        start=each.start,
        end=each.end,
        days=each.days,
        coverage=each.coverage,
        by_logger=each.coverage_by_logger,
        by_hand=each.coverage_by_hand,
        wet_hours=each.wet_hours,
        wet_hours_by_logger=each.wet_hours_by_logger,
        wet_hours_by_hand=each.wet_hours_by_hand,
        wet_spells=each.wet_spells,
        frost_hours=each.frost_hours,
        rain_mm=each.rain_mm,
        rain_coverage=each.rain_coverage,
        mean_temperature_c=each.mean_temperature_c,
        lowest_temperature_c=each.lowest_temperature_c,
        highest_temperature_c=each.highest_temperature_c,
        mean_rh_percent=each.mean_rh_percent,
        dew_hours=each.dew_hours,
        leaf_wet_hours=each.leaf_wet_hours,
    )


def _gaps_in_words(rows: Sequence[InspectionExposure], writing: Writing) -> Iterator[str]:
    named, more = named_gaps(rows, _MOST_GAPS)
    for gap in named:
        yield f"{writing.moment(gap.start)} to {writing.moment(gap.end)}, {gap.length}: nothing is known of wetness."
    if more:
        yield f"And {more} shorter gaps."


def _cautions(rows: Sequence[InspectionExposure], writing: Writing) -> Iterator[str]:
    for span, text in cautions_by_time(rows, from_start=False):
        yield text if span is None else f"{writing.moment(span[0])} to {writing.moment(span[1])}: {text}"
