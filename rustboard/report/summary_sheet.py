"""The summary: sentences, ranks, the main picture, and tables that work themselves out again."""

from __future__ import annotations

from math import ceil
from typing import Final

from openpyxl.worksheet.worksheet import Worksheet

from rustboard.board.record import BoardRecord
from rustboard.report.across import put_heading
from rustboard.report.cells import Value, short
from rustboard.report.comparisons_sheet import FIRST_ANSWER
from rustboard.report.content import ReportContent
from rustboard.report.findings_content import FindingsContent
from rustboard.report.findings_looks import (
    CENTRED,
    LAST_LETTER,
    NAME_LIMIT,
    ONE_DECIMAL,
    across,
    begin,
    break_before,
    columns,
    sentences,
)
from rustboard.report.formulas import Formulas
from rustboard.report.live_figures import LiveBoard, live_board
from rustboard.report.live_tables import LiveTables, places_of, write_live
from rustboard.report.more_charts import bar_height, means_chart
from rustboard.report.page_setup import PageStyle
from rustboard.report.styles import PLAIN, QUIET, TABLE_AMOUNT
from rustboard.report.tables import write_table_at
from rustboard.report.written import ChartText, Written

SHEET: Final = "Summary"

_ROW_POINTS: Final = 15.0
_POINTS_A_CM: Final = 28.3465
_CHART_TITLE: Final = "Mean of the last grades of the coupons that count"
_MOST_TOLD: Final = 60

RANKED: Final = columns(
    ("Treatment", PLAIN),
    ("Family", PLAIN),
    ("Letters", CENTRED),
    ("Coupons", CENTRED),
    ("Mean", TABLE_AMOUNT),
    ("Standard deviation", TABLE_AMOUNT),
    ("Failed", CENTRED),
    ("Median days to failure", ONE_DECIMAL),
)
_RANKED_WORDS: Final = (
    "The best first. Treatments that share a letter cannot be told apart. Mean and standard deviation are of the "
    "coupons that count, in {0}. Median days to failure: when half of the coupons had "
    "fallen to grade {1} or below; empty where half have not, or nobody can know."
)
_NO_FINDINGS: Final = "Nothing was worked out: an inspection is being graded blind, and its grades are still hidden."


def has_summary(content: ReportContent) -> bool:
    """Return whether anything was graded."""
    return any(content.record.current.values())


def write_summary(sheet: Worksheet, content: ReportContent, page: PageStyle) -> Written:
    """Write the sheet."""
    row = begin(sheet, "Summary", page)
    findings = content.findings
    if findings is None:
        row = across(sheet, row, _NO_FINDINGS)
    else:
        if not findings.complete:
            row = across(sheet, row, FIRST_ANSWER, QUIET)
        row = sentences(sheet, row, "What this board shows", findings.verdict)
        row = _ranked(sheet, row, findings, content.record)
    board, formulas = live_board(content), Formulas(sheet)
    chart_row = row + 1
    places = places_of(board, chart_row + ceil(bar_height(len(board.groups)) * _POINTS_A_CM / _ROW_POINTS) + 1)
    break_before(sheet, row)  # a row above the chart, so that its frame is not drawn on both pages
    text = _chart(sheet, chart_row, board, places)
    end = write_live(sheet, board, places, formulas)
    sheet.print_area = f"A1:{LAST_LETTER}{end}"
    return Written(charts=[text], cached=formulas.values)


def _ranked(sheet: Worksheet, row: int, content: FindingsContent, record: BoardRecord) -> int:
    if not content.ranked:
        return row
    families = {each.id: each.family for each in record.treatments.values()}
    row = put_heading(sheet, row, "What each treatment came to")
    rows: list[tuple[Value, ...]] = [
        (
            short(each.treatment, NAME_LIMIT),
            "" if each.control else short(families.get(each.id, ""), NAME_LIMIT),
            each.letters,
            each.coupons,
            each.mean,
            each.sd,
            each.failed,
            each.median_days,
        )
        for each in content.ranked
    ]
    row = write_table_at(sheet, row, "FindingsRanked", RANKED, rows)
    return across(sheet, row, _RANKED_WORDS.format(content.measure, content.failing_grade), QUIET)


def _chart(sheet: Worksheet, row: int, board: LiveBoard, places: LiveTables) -> ChartText:
    names, means = (f"'{SHEET}'!{places.range(letter, places.treatments)}" for letter in "AE")
    head = f"'{SHEET}'!$E${places.treatments[0] - 1}"
    sheet.add_chart(means_chart(_CHART_TITLE, names, means, head, len(board.groups)), f"A{row}")
    counted = [each for each in board.coupons if each.counts]
    said = []
    for number, group in enumerate(board.groups, start=1):
        grades = [each.last_grade for each in counted if each.group == number]
        if grades:
            said.append(f"{short(group.name, NAME_LIMIT)} {sum(grades) / len(grades):.1f}")
    more = f"; and {len(said) - _MOST_TOLD} more" if len(said) > _MOST_TOLD else ""
    return ChartText("Means of treatments", f"Bar chart. {_CHART_TITLE}: {'; '.join(said[:_MOST_TOLD])}{more}.")
