"""The sheet of history charts, three on a page."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from openpyxl.worksheet.pagebreak import Break
from openpyxl.worksheet.worksheet import Worksheet

from rustboard.report.cells import put, set_widths, short
from rustboard.report.chart_data import ChartData, Track
from rustboard.report.charts import history_chart, shared_out
from rustboard.report.page_setup import PageStyle, set_page
from rustboard.report.styles import PLAIN, QUIET_UNWRAPPED, SHEET_TITLE
from rustboard.report.written import ChartText

ROW_POINTS: Final = 15
HEAD_ROWS: Final = 3
ROWS_A_CHART: Final = 14
CHARTS_A_PAGE: Final = 3
COLUMNS: Final = 40
COLUMN_WIDTH: Final = 2.0
"""Narrow, so that the column that holds a chart's right edge still fits on the page in programs with wider digits."""

TITLE_LIMIT: Final = 70
NOTHING_YET: Final = (
    "No grade has been given yet, so there is nothing to draw. Add an inspection, grade the coupons, and write the "
    "workbook again."
)


def write_history(sheet: Worksheet, data: ChartData, page: PageStyle) -> list[ChartText]:
    """Write the charts: the means of all treatments, then each treatment's coupons.

    Returns:
        What each chart is called and shows, in the order of the charts.
    """
    sheet.sheet_view.showGridLines = False
    sheet.sheet_format.defaultRowHeight = ROW_POINTS
    sheet.sheet_format.customHeight = True
    set_widths(sheet, dict.fromkeys(range(1, COLUMNS + 1), COLUMN_WIDTH))
    # Printed at full size with breaks of its own, because shrinking to a page's width ignores breaks and could cut
    # a chart in two; the charts are as wide as the page already.
    set_page(sheet, page, pages_wide=None)
    put(sheet, 1, 1, "History of grades", SHEET_TITLE)
    sheet.row_dimensions[1].height = 21
    put(
        sheet,
        2,
        1,
        "A grade is held until the next inspection; a line breaks where a coupon was not graded.",
        QUIET_UNWRAPPED,
    )
    texts: list[ChartText] = []
    for title, y_title, tracks in _wanted(data):
        row = HEAD_ROWS + 1 + len(texts) * ROWS_A_CHART
        if texts and len(texts) % CHARTS_A_PAGE == 0:
            # One row above the chart, so that its frame is not drawn on both pages.
            sheet.row_breaks.append(Break(id=row - 2))
        sheet.add_chart(history_chart(data, tracks, title, y_title), f"A{row}")
        texts.append(ChartText(f"History {len(texts) + 1}: {title}", _in_words(data, title, tracks)))
    if not texts:
        sheet.merge_cells(start_row=HEAD_ROWS + 1, end_row=HEAD_ROWS + 3, start_column=1, end_column=COLUMNS)
        put(sheet, HEAD_ROWS + 1, 1, NOTHING_YET, PLAIN)
    return texts


def _wanted(data: ChartData) -> Iterator[tuple[str, str, Sequence[Track]]]:
    yield from _charts("All treatments, mean of the coupons graded", "Mean rust grade", data.means)
    for family, means in _families(data):
        yield from _charts(f"Family {family}, mean of the coupons graded", "Mean rust grade", means)
    for group, tracks in data.replicates:
        yield from _charts(group.title, "Rust grade", tracks)


def _families(data: ChartData) -> Iterator[tuple[str, list[Track]]]:
    """Yield the families of several treatments with their means, where not all treatments are of one family."""
    found: dict[str, list[Track]] = {}
    for (group, _), mean in zip(data.replicates, data.means, strict=True):
        if group.family:
            found.setdefault(group.family, []).append(mean)
    yield from ((family, means) for family, means in found.items() if 1 < len(means) < len(data.means))


def _charts(title: str, y_title: str, tracks: Sequence[Track]) -> Iterator[tuple[str, str, Sequence[Track]]]:
    drawn = [each for each in tracks if each.has_values]
    if not drawn:
        return
    parts = shared_out(drawn)
    for number, part in enumerate(parts, start=1):
        share = f" ({number} of {len(parts)})" if len(parts) > 1 else ""
        yield short(title, TITLE_LIMIT) + share, y_title, part


def _in_words(data: ChartData, title: str, tracks: Sequence[Track]) -> str:
    """Say what a chart shows to someone who hears it read."""
    said = []
    for track in tracks:
        graded = [
            (place, value)
            for place, value in zip(data.across, track.values, strict=True)
            if value is not None and place is not None
        ]
        if graded:
            (first_place, first), (last_place, last) = graded[0], graded[-1]
            said.append(f"{track.label}: {first:g} {_at(data, first_place)}, {last:g} {_at(data, last_place)}")
    return f"Step chart of rust grade against {data.x_title.lower()}, {title}. {'; '.join(said)}."


def _at(data: ChartData, place: float) -> str:
    return f"on day {place:.0f}" if data.clock == "days" else f"at {place:.1f}"
