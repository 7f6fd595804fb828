"""Cost and work against protection."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil
from typing import Final

from openpyxl.worksheet.worksheet import Worksheet

from rustboard.report.across import put_heading
from rustboard.report.cells import Value, short
from rustboard.report.charts import HEIGHT_CM
from rustboard.report.findings_content import FindingsContent, ValueLine
from rustboard.report.findings_looks import (
    LAST_LETTER,
    NAME_LIMIT,
    ONE_DECIMAL,
    across,
    begin,
    break_before,
    columns,
    sentences,
)
from rustboard.report.more_charts import Line, points_chart
from rustboard.report.page_setup import PageStyle
from rustboard.report.styles import PLAIN, QUIET, TABLE_AMOUNT
from rustboard.report.tables import write_table_at
from rustboard.report.written import ChartText, Written

SHEET: Final = "Value"

_ROWS_A_CHART: Final = ceil(HEIGHT_CM * 28.3465 / 15) + 1
_LABEL_LIMIT: Final = 30
MOST_POINTS: Final = 12
"""In one chart, so that each has its name in the legend; of more the best are drawn, and the table has all."""

VALUE: Final = columns(
    ("Treatment", PLAIN),
    ("Nothing does as well for less", PLAIN),
    ("Cost of 1 m²", TABLE_AMOUNT),
    ("Minutes for 1 m²", ONE_DECIMAL),
    ("Mean", TABLE_AMOUNT),
    ("Lowest coupon", TABLE_AMOUNT),
    ("Highest coupon", TABLE_AMOUNT),
    ("Days above failing", ONE_DECIMAL),
    ("Cost of a month", TABLE_AMOUNT),
    ("How the days are known", PLAIN),
)
_WORDS: Final = (
    "Costs are in the money of who keeps the board; mean, lowest and highest are in {0}. Cost of a month: of 1 m² "
    "for each month (30.4 days) above the failing grade; where half have not failed yet it may come out cheaper."
)


def write_value(sheet: Worksheet, content: FindingsContent, page: PageStyle) -> Written:
    """Write the sheet."""
    row = begin(sheet, "Value", page)
    row = sentences(sheet, row, "What protection costs", content.value_words)
    row = put_heading(sheet, row, "Cost, work and protection")
    top = row
    row = write_table_at(sheet, row, "Value", VALUE, [_row(each) for each in content.value])
    row = across(sheet, row, _WORDS.format(content.measure), QUIET)
    texts: list[ChartText] = []
    break_before(sheet, row)  # a row above the chart, so that its frame is not drawn on both pages
    for column, name in ((2, "Cost"), (3, "Work")):
        row = _chart(sheet, row, content, (top, column, name), texts)
    sheet.print_area = f"A1:{LAST_LETTER}{row}"
    return Written(charts=texts)


def _row(each: ValueLine) -> tuple[Value, ...]:
    best = [name for name, is_best in (("money", each.best_for_money), ("work", each.best_for_time)) if is_best]
    known = (
        "" if each.days_above is None else "at least: half have not failed yet" if each.at_least else "half failed"
    )
    return (
        short(each.treatment, NAME_LIMIT),
        f"for its {' and '.join(best)}" if best else "",
        each.cost_per_m2,
        each.minutes_per_m2,
        each.mean,
        each.low,
        each.high,
        each.days_above,
        each.cost_of_month,
        known,
    )


def _chart(
    sheet: Worksheet, row: int, content: FindingsContent, which: tuple[int, int, str], texts: list[ChartText]
) -> int:
    """Draw cost, or work, against protection where two treatments at least have it; return the row after it."""
    top, column, name = which
    priced = [
        (at, each, price)
        for at, each in enumerate(content.value, start=top + 1)
        if (price := each.cost_per_m2 if column == 2 else each.minutes_per_m2) is not None
    ][:MOST_POINTS]
    if len(priced) < 2:
        return row
    letter = "CD"[column - 2]
    points = [
        Line(
            short(each.treatment, _LABEL_LIMIT),
            f"'{SHEET}'!$A${at}",
            f"'{SHEET}'!${letter}${at}",
            f"'{SHEET}'!$E${at}",
        )
        for at, each, _ in priced
    ]
    across_title = "Cost of 1 m²" if column == 2 else "Minutes of work for 1 m²"
    up = None if content.in_grades else [each.mean for _, each, _ in priced]
    title = f"{name} against protection"
    chart = points_chart(title, (across_title, _mean_of(content)), ([price for *_, price in priced], up), points)
    sheet.add_chart(chart, f"A{row + 1}")
    texts.append(ChartText(title, f"Points. {title}: {_told(priced)}."))
    return row + 1 + _ROWS_A_CHART


def _mean_of(content: FindingsContent) -> str:
    return "Mean grade" if content.in_grades else f"Mean, in {content.unit}"


def _told(priced: Sequence[tuple[int, ValueLine, float]]) -> str:
    return "; ".join(
        f"{short(each.treatment, NAME_LIMIT)} {price:g}, mean {each.mean:.1f}" for _, each, price in priced
    )
