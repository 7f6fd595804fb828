"""The tidy data of a report: four tables, each a sheet with a real table object and a CSV file with the same rows."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, time
from math import ceil
from typing import Final

from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet

from rustboard.report.cells import style_number
from rustboard.report.content import DayReadings, ReportContent
from rustboard.report.long_rows import LongRows
from rustboard.report.page_setup import PageStyle, set_page
from rustboard.report.styles import (
    DATA_COARSE,
    DATA_FINE,
    DATA_FINER,
    DATA_WHOLE,
    QUIET_UNWRAPPED,
    UNWRAPPED,
    WHEN,
    WHICH_DAY,
)
from rustboard.report.tables import Column, add_table, put_headings
from rustboard.report.tidy import COLUMNS, TidyValue, csv_text, guarded, tidy_grades
from rustboard.report.tidy_measurements import MeasurementRow, tidy_measurements
from rustboard.report.tidy_treatments import TreatmentRow, tidy_treatments

_LOOKS: Final = {
    "inspected": WHEN,
    "taken": WHEN,
    "day": WHICH_DAY,
    **dict.fromkeys(("note", "warnings", "recipe", "coupon_ids"), QUIET_UNWRAPPED),
    **dict.fromkeys(("grade", "coats", "coupons", "spots", "recipe_steps", "recipe_version"), DATA_WHOLE),
    **dict.fromkeys(
        ("percent", "low", "high", "debris_percent", "unseen_percent", "resolvable_percent", "largest_mm2"), DATA_FINE
    ),
    **dict.fromkeys(
        (
            "wet_hours", "rain_mm", "mean_temperature_c", "lowest_temperature_c", "highest_temperature_c",
            "mean_rh_percent", "minutes_per_m2", "recipe_minutes_per_coupon", "recipe_minutes_per_m2",
            "recipe_waiting_minutes",
        ),
        DATA_COARSE,
    ),
    **dict.fromkeys(("coverage", "cost_per_m2", "recipe_cost_per_m2", "recipe_cost_per_coupon"), DATA_FINER),
}  # fmt: skip
"""Numbers are shown rounded; the cells hold all their digits."""
_WIDTHS: Final = {
    "coupon": 14.0, "treatment": 12.0, "role": 9.0, "position": 9.0, "inspected": 17.0, "taken": 17.0, "photo": 30.0,
    "grader": 18.0, "source": 16.0, "name": 28.0, "family": 12.0, "preparation": 34.0, "finish": 28.0,
    "protectant": 34.0, "batch": 14.0, "coupon_ids": 24.0, "recipe": 60.0, "note": 48.0, "warnings": 48.0,
    "day": 12.0, "percent": 12.0, "low": 12.0, "high": 12.0,
}  # fmt: skip
_ROOM_FOR_FILTER: Final = 4
_WIDTH_OF_A_PAGE: Final = 210.0
"""Characters across a landscape page that can still be read when it is shrunk to fit."""


@dataclass(frozen=True, slots=True)
class DataTable:
    """One table of data.

    Attributes:
        sheet: its title. name: of the table object. file: of the CSV.
        columns: headings, which every program can take for names.
        rows: makes the rows from what a report is written from.
    """

    sheet: str
    name: str
    file: str
    columns: tuple[str, ...]
    rows: Callable[[ReportContent], Iterable[Sequence[TidyValue]]] = field(repr=False)

    def csv(self, content: ReportContent) -> str:
        """Return the table as CSV, as `tidy.csv_text` writes it."""
        return csv_text(self.columns, self.rows(content))


GRADES: Final = DataTable("Grades", "Grades", "grades.csv", COLUMNS, lambda content: tidy_grades(content.record))
MEASUREMENTS: Final = DataTable(
    "Photo measurements",
    "PhotoMeasurements",
    "measurements.csv",
    MeasurementRow._fields,
    lambda content: tidy_measurements(content.record),
)
READINGS: Final = DataTable(
    "Readings per day", "ReadingsPerDay", "readings-per-day.csv", DayReadings._fields, lambda content: content.days
)
TREATMENTS: Final = DataTable(
    "Treatment data",
    "TreatmentData",
    "treatments.csv",
    TreatmentRow._fields,
    lambda content: tidy_treatments(content.record),
)
DATA_TABLES: Final = (GRADES, MEASUREMENTS, READINGS, TREATMENTS)


def has_rows(table: DataTable, content: ReportContent) -> bool:
    """Return whether a board has anything for a table."""
    return next(iter(table.rows(content)), None) is not None


def write_data_table(sheet: Worksheet, table: DataTable, content: ReportContent, page: PageStyle) -> LongRows:
    """Set the sheet of a table up and return its rows for `package.packed`."""
    columns = [Column(name, _width(name)) for name in table.columns]
    put_headings(sheet, columns)
    rows = [tuple(_in_cell(each) for each in row) for row in table.rows(content)]
    add_table(sheet, table.name, table.columns, len(rows))
    wide = ceil(sum(each.width for each in columns) / _WIDTH_OF_A_PAGE)
    set_page(
        sheet,
        page,
        landscape=True,
        repeat_rows="1:1",
        pages_wide=wide,
        repeat_columns="A:A" if wide > 1 else None,
    )
    # Else a long note running on would shrink every page.
    sheet.print_area = f"A1:{get_column_letter(len(columns))}{max(len(rows), 1) + 1}"
    styles = [style_number(sheet, _LOOKS.get(name, UNWRAPPED)) for name in table.columns]
    return LongRows(first_row=2, rows=rows, styles=styles, count=len(rows))


def _width(name: str) -> float:
    return max(_WIDTHS.get(name, 8.0), len(name) + _ROOM_FOR_FILTER)


def _in_cell(value: TidyValue) -> str | float | datetime | None:
    if isinstance(value, datetime):
        return value
    return datetime.combine(value, time()) if isinstance(value, date) else guarded(value)
