"""Exposure and weather, on pages: what the weather was between the inspections, its gaps and cautions."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from rustboard.report.content import ReportContent
from rustboard.report.exposure_sheet import ExposureLine
from rustboard.report.pages.blocks import Book, Cell, Head

MOST_ROWS: Final = 120
_MOST_SENTENCES: Final = 40


def write_exposure(book: Book, content: ReportContent) -> None:
    """Write the weather; nothing where nothing is known of it."""
    found = content.exposure
    if found is None:
        return
    book.part("Exposure and weather")
    book.list(found.climate)
    if found.intervals:
        book.heading("Between the inspections")
        _table(book, found.intervals[:MOST_ROWS])
        more = len(found.intervals) - MOST_ROWS
        if more > 0:
            book.quiet(f"And {more} later intervals, which the workbook lists.")
    if found.since_start:
        book.heading("Since the start")
        _table(book, found.since_start[-1:])
    book.quiet(
        "Known: share of the time in which wetness is known, by logger or by hand. Wet hours: time of wetness, ISO "
        "9223. A dash: not known; a gap is never filled silently."
    )
    if found.not_known:
        book.heading("What is not known")
        book.list(found.not_known[:_MOST_SENTENCES])
    if found.cautions:
        book.heading("Beware")
        book.list(found.cautions[:_MOST_SENTENCES])


def _table(book: Book, lines: Sequence[ExposureLine]) -> None:
    heads = [
        Head("From", 3.1), Head("To", 3.1), Head("Days", 1.1, "right"), Head("Known", 1.3, "right"),
        Head("Wet hours", 1.4, "right"), Head("Rain mm", 1.3, "right"), Head("Mean °C", 1.3, "right"),
        Head("Lowest to highest °C", 2.5, "right"), Head("Humidity %", 1.6, "right"),
    ]  # fmt: skip
    rows: list[list[Cell]] = []
    for each in lines:
        low, high = each.lowest_temperature_c, each.highest_temperature_c
        ends = "–" if low is None or high is None else f"{book.number(low)} to {book.number(high)}"
        rows.append(
            [
                book.when(each.start), book.when(each.end), book.number(each.days),
                f"{book.number(each.coverage * 100, 0)} %", book.number(each.wet_hours), book.number(each.rain_mm),
                book.number(each.mean_temperature_c), ends, book.number(each.mean_rh_percent, 0),
            ]
        )  # fmt: skip
    book.table(heads, rows, size=8)
