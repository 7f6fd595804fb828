"""``rustboard exposure``: the weather between the inspections of a board, or since its start."""

from __future__ import annotations

import argparse
from collections.abc import Iterator, Sequence
from datetime import datetime
from pathlib import Path
from typing import Final

from rustboard.app.commands.opening import existing
from rustboard.app.commands.outcome import Outcome, Tell
from rustboard.app.commands.plain_table import plain_table
from rustboard.board.record import BoardRecord
from rustboard.session.exposure import (
    InspectionExposure,
    cautions_by_time,
    exposed_moments,
    inspection_exposures,
    inspections_before_start,
    named_gaps,
)
from rustboard.session.jobs import Progress
from rustboard.session.looking import look_at_weather
from rustboard.session.weather import has_weather, work_out_track
from rustboard.weather.exposure import Exposure

_DECIMALS: Final = 6
"""Of numbers for scripts: beyond any logger, and short of the noise of sums."""
_MOST_GAPS: Final = 6

_TITLES: Final = (
    "From", "To", "Days", "Wet h", "by logger", "by hand", "Rain mm", "Mean °C", "Lowest °C", "Highest °C",
    "Mean RH %", "Known %", "Dew h, est.",
)  # fmt: skip
_LEGEND: Final = (
    "Wet h: hours with RH over 80 % and air above 0 °C by loggers (ISO 9223), and hours noted by hand, of what is "
    "known. Known %: share of the time in which it is known whether the coupons were wet; nothing is filled in.",
    "Dew h, est.: hours at night in which a surface cooling to a clear sky would have been below the dew point; "
    "estimated, an upper figure.",
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Say what the command takes."""
    parser.add_argument("board", metavar="BOARD", type=Path, help="the board's folder or its board.rustboard file")
    parser.add_argument(
        "--from-start",
        action="store_true",
        help="sums since the start of exposure, instead of inspection by inspection",
    )
    parser.add_argument("--json", action="store_true", help="print JSON, for scripts")


def carry_out(arguments: argparse.Namespace, tell: Tell) -> Outcome:
    """Tell what the weather was from each inspection to the next. Works while a window has the board open.

    Raises:
        InputError: there is no sound board, or the readings on it are damaged.
    """
    record, request = look_at_weather(existing(arguments.board))
    from_start: bool = arguments.from_start
    rows = inspection_exposures(record, work_out_track(request, Progress())) if exposed_moments(record) else []
    text = "\n".join(_lines(record, rows, from_start=from_start))
    return Outcome(text, [_data(each, from_start=from_start) for each in rows])


# ---- for people


def _lines(record: BoardRecord, rows: Sequence[InspectionExposure], *, from_start: bool) -> Iterator[str]:
    if not rows:
        yield _why_none(record)
        return
    shown = [each.exposure(from_start=from_start) for each in rows]
    yield plain_table(_TITLES, [_cells(each) for each in shown], right=frozenset(_TITLES[2:]))
    if not has_weather(record):
        yield ""
        yield (
            "Nothing is known of this board's weather: add a logger's file, or note the weather of days by hand "
            "(Weather menu)."
        )
        return
    yield ""
    yield _LEGEND[0]
    if any(each.dew_hours is not None for each in shown):
        yield _LEGEND[1]
    yield from _told(record, rows, from_start=from_start)


def _why_none(record: BoardRecord) -> str:
    if not record.inspections:
        return "This board has no inspection yet, so there is no time between inspections; add one in the window."
    if len(record.inspections) == 1 or record.board.started is None:
        return "This board has no inspection after its start, so no time has passed between inspections yet."
    return "All inspections of this board lie before its stated start; check the start in the window."


def _told(record: BoardRecord, rows: Sequence[InspectionExposure], *, from_start: bool) -> Iterator[str]:
    notes = [f"Not known: {each}" for each in _gap_texts(rows)]
    for span, text in cautions_by_time(rows, from_start=from_start):
        notes.append(text if span is None else f"{_when(span[0])} to {_when(span[1])}: {text}")
    before = inspections_before_start(record)
    if before:
        notes.append(f"{len(before)} inspection{'s' * (len(before) > 1)} before the stated start are left out.")
    if notes:
        yield ""
        yield from notes


def _gap_texts(rows: Sequence[InspectionExposure]) -> Iterator[str]:
    named, more = named_gaps(rows, _MOST_GAPS)
    for gap in named:
        yield f"{_when(gap.start)} to {_when(gap.end)} ({gap.length})."
    if more:
        yield f"{more} shorter gap{'s' * (more > 1)}."


def _when(moment: datetime) -> str:
    return f"{moment:%Y-%m-%d %H:%M}"


def _cells(each: Exposure) -> tuple[str, ...]:
    return (
        _when(each.start),
        _when(each.end),
        f"{each.days:.1f}",
        _number(each.wet_hours),
        _number(each.wet_hours_by_logger),
        _number(each.wet_hours_by_hand),
        _number(each.rain_mm),
        _number(each.mean_temperature_c),
        _number(each.lowest_temperature_c),
        _number(each.highest_temperature_c),
        _number(each.mean_rh_percent, 0),
        f"{100 * each.coverage:.0f}",
        _number(each.dew_hours),
    )


def _number(value: float | None, decimals: int = 1) -> str:
    return "–" if value is None else f"{value:.{decimals}f}"


# ---- for scripts


def _data(row: InspectionExposure, *, from_start: bool) -> dict[str, object]:
    each = row.exposure(from_start=from_start)
    return {
        "from": _iso(each.start),
        "to": _iso(each.end),
        "days": _rounded(each.days),
        "wet_hours": _rounded(each.wet_hours),
        "rain_mm": _rounded(each.rain_mm),
        "mean_temperature_c": _rounded(each.mean_temperature_c),
        "mean_rh_percent": _rounded(each.mean_rh_percent),
        "coverage": _rounded(each.coverage),
        "coverage_by_logger": _rounded(each.coverage_by_logger),
        "coverage_by_hand": _rounded(each.coverage_by_hand),
        "wet_hours_by_logger": _rounded(each.wet_hours_by_logger),
        "wet_hours_by_hand": _rounded(each.wet_hours_by_hand),
        "wet_hours_rh_90": _rounded(each.wet_hours_90),
        "wet_spells": each.wet_spells,
        "rain_mm_by_logger": _rounded(each.rain_mm_by_logger),
        "rain_mm_by_hand": _rounded(each.rain_mm_by_hand),
        "rain_coverage": _rounded(each.rain_coverage),
        "lowest_temperature_c": _rounded(each.lowest_temperature_c),
        "highest_temperature_c": _rounded(each.highest_temperature_c),
        "temperature_coverage": _rounded(each.temperature_coverage),
        "humidity_coverage": _rounded(each.humidity_coverage),
        "mean_dew_point_c": _rounded(each.mean_dew_point_c),
        "frost_hours": _rounded(each.frost_hours),
        "stuck_hours": _rounded(each.stuck_hours),
        "dew_hours": _rounded(each.dew_hours),
        "leaf_wet_hours": _rounded(each.leaf_wet_hours),
        "gaps": [
            {"from": _iso(gap.start), "to": _iso(gap.end), "hours": _rounded(gap.hours)}
            for gap in row.gaps_of(from_start=from_start)
        ],
        "cautions": list(each.cautions),
    }


def _rounded(value: float | None) -> float | None:
    return None if value is None else round(value, _DECIMALS)


def _iso(when: datetime) -> str:
    return when.replace(microsecond=0).isoformat()
