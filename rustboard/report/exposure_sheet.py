"""The weather between the inspections and since the start: figures with their sources, gaps and cautions."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Final, NamedTuple

from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet

from rustboard.report.across import put_across, put_heading
from rustboard.report.cells import put, set_widths
from rustboard.report.page_setup import PageStyle, set_page
from rustboard.report.styles import (
    CELL_NUMBER,
    CELL_WHEN,
    COLUMN_HEAD,
    COLUMN_HEAD_CENTRED,
    COLUMN_HEAD_RIGHT,
    PLAIN,
    QUIET,
    SHEET_TITLE,
    Look,
)

SHEET: Final = "Exposure"

_MOST_ROWS: Final = 5_000
_MOST_SENTENCES: Final = 400
_ONE_DECIMAL: Final = replace(CELL_NUMBER, number_format="0.0")
_PERCENT: Final = replace(CELL_NUMBER, number_format="0%")


class ExposureLine(NamedTuple):
    """The weather of one stretch of time; None where it is not known.

    Attributes:
        start, end: by the board's clock.
        coverage, by_logger, by_hand: shares in which wetness is known, 0 to 1. rain_coverage: the same of rain.
        dew_hours, leaf_wet_hours: estimated. The others as `rustboard.weather.exposure.Exposure` has them.
    """

    start: datetime
    end: datetime
    days: float
    coverage: float
    by_logger: float
    by_hand: float
    wet_hours: float | None
    wet_hours_by_logger: float | None
    wet_hours_by_hand: float | None
    wet_spells: int | None
    frost_hours: float | None
    rain_mm: float | None
    rain_coverage: float
    mean_temperature_c: float | None
    lowest_temperature_c: float | None
    highest_temperature_c: float | None
    mean_rh_percent: float | None
    dew_hours: float | None
    leaf_wet_hours: float | None


@dataclass(frozen=True, slots=True)
class ExposureContent:
    """What the sheet says.

    Attributes:
        intervals: one line for each interval that ends at an inspection. since_start: sums from the start to each.
        climate, not_known, cautions: sentences on what the weather adds up to, its gaps, and what to beware of.
    """

    intervals: Sequence[ExposureLine]
    since_start: Sequence[ExposureLine]
    climate: Sequence[str] = ()
    not_known: Sequence[str] = ()
    cautions: Sequence[str] = ()


class _Column(NamedTuple):
    heading: str
    width: float
    look: Look
    value: Callable[[ExposureLine], datetime | float | None]


_GROUPS: Final[tuple[tuple[str, tuple[_Column, ...]], ...]] = (
    (
        "Time",
        (
            _Column("From", 16, CELL_WHEN, lambda each: each.start),
            _Column("To", 16, CELL_WHEN, lambda each: each.end),
            _Column("Days", 7, _ONE_DECIMAL, lambda each: each.days),
        ),
    ),
    (
        "Wetness known",
        (
            _Column("In all", 7.5, _PERCENT, lambda each: each.coverage),
            _Column("by logger", 7.5, _PERCENT, lambda each: each.by_logger),
            _Column("by hand", 7.5, _PERCENT, lambda each: each.by_hand),
        ),
    ),
    (
        "Time of wetness",
        (
            _Column("Wet h", 8, _ONE_DECIMAL, lambda each: each.wet_hours),
            _Column("by logger h", 8, _ONE_DECIMAL, lambda each: each.wet_hours_by_logger),
            _Column("by hand h", 8, _ONE_DECIMAL, lambda each: each.wet_hours_by_hand),
            _Column("Wet spells", 7.5, CELL_NUMBER, lambda each: each.wet_spells),
            _Column("Frost h", 7.5, _ONE_DECIMAL, lambda each: each.frost_hours),
        ),
    ),
    (
        "Rain",
        (
            _Column("Rain mm", 8, _ONE_DECIMAL, lambda each: each.rain_mm),
            _Column("known", 7.5, _PERCENT, lambda each: each.rain_coverage),
        ),
    ),
    (
        "Air",
        (
            _Column("Mean °C", 7.5, _ONE_DECIMAL, lambda each: each.mean_temperature_c),
            _Column("Lowest °C", 8, _ONE_DECIMAL, lambda each: each.lowest_temperature_c),
            _Column("Highest °C", 8, _ONE_DECIMAL, lambda each: each.highest_temperature_c),
            _Column("Mean RH %", 7.5, _ONE_DECIMAL, lambda each: each.mean_rh_percent),
        ),
    ),
    (
        "Estimated",
        (
            _Column("Dew h", 8, _ONE_DECIMAL, lambda each: each.dew_hours),
            _Column("Leaf wet h", 8, _ONE_DECIMAL, lambda each: each.leaf_wet_hours),
        ),
    ),
)
_COLUMNS: Final = tuple(column for _, columns in _GROUPS for column in columns)
_WHOLE: Final = sum(each.width for each in _COLUMNS)
_EXPLAINED: Final = (
    "An empty cell is not known; nothing is filled in. Amounts are of the part that is known: where less than all is "
    "known they are too low by what fell in the gaps. The group Estimated is worked out from air temperature, "
    "humidity and wind and was not measured; the sheet Method and cautions says how."
)


def write_exposure(sheet: Worksheet, content: ExposureContent, page: PageStyle) -> None:
    """Write the sheet."""
    sheet.sheet_view.showGridLines = False
    set_widths(sheet, {number: each.width for number, each in enumerate(_COLUMNS, start=1)})
    set_page(sheet, page, landscape=True)
    put(sheet, 1, 1, "Exposure: the weather between the inspections", SHEET_TITLE)
    row = _across(sheet, 2, _EXPLAINED, QUIET)
    for heading, lines, none in (
        ("By inspection", content.intervals, "There is no inspection after the start of exposure yet."),
        ("Since the start of exposure", content.since_start, ""),
    ):
        if lines or none:
            row = _figures(sheet, put_heading(sheet, row, heading), lines, none)
    for heading, sentences in (
        ("Climate", content.climate),
        ("Not known", content.not_known),
        ("Cautions", content.cautions),
    ):
        row = _sentences(sheet, row, heading, sentences)
    sheet.print_area = f"A1:{get_column_letter(len(_COLUMNS))}{row}"


def _across(sheet: Worksheet, row: int, text: str, look: Look) -> int:
    return put_across(sheet, row, text, look, columns=len(_COLUMNS), width=_WHOLE)


def _sentences(sheet: Worksheet, row: int, heading: str, sentences: Sequence[str]) -> int:
    if not sentences:
        return row
    row = put_heading(sheet, row, heading)
    for each in sentences[:_MOST_SENTENCES]:
        row = _across(sheet, row, each, PLAIN)
    more = len(sentences) - _MOST_SENTENCES
    return row if more <= 0 else _across(sheet, row, f"And {more} more.", QUIET)


def _figures(sheet: Worksheet, row: int, lines: Sequence[ExposureLine], none: str) -> int:
    if not lines:
        return _across(sheet, row, none, PLAIN)
    row = _heads(sheet, row)
    for line in lines[:_MOST_ROWS]:
        for number, column in enumerate(_COLUMNS, start=1):
            put(sheet, row, number, column.value(line), column.look)
        row += 1
    more = len(lines) - _MOST_ROWS
    return row if more <= 0 else _across(sheet, row, f"And {more} more.", QUIET)


def _heads(sheet: Worksheet, row: int) -> int:
    number = 1
    for group, columns in _GROUPS:
        for place, each in enumerate(columns):
            put(sheet, row, number + place, group if place == 0 else None, COLUMN_HEAD_CENTRED)
            look = COLUMN_HEAD if each.look is CELL_WHEN else COLUMN_HEAD_RIGHT
            put(sheet, row + 1, number + place, each.heading, look)
        sheet.merge_cells(start_row=row, end_row=row, start_column=number, end_column=number + len(columns) - 1)
        number += len(columns)
    sheet.row_dimensions[row].height, sheet.row_dimensions[row + 1].height = 18, 32
    return row + 2
