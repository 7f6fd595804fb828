"""The findings: sentences first, then what each treatment came to, the comparisons, and what was left out and why."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from openpyxl.worksheet.worksheet import Worksheet

from rustboard.report.across import put_across, put_heading
from rustboard.report.cells import Value, put, set_widths, short
from rustboard.report.findings_content import FindingsContent, LeftOutLine
from rustboard.report.page_setup import PageStyle, set_page
from rustboard.report.styles import PLAIN, QUIET, SHEET_TITLE, TABLE_AMOUNT, TABLE_NUMBER, Look
from rustboard.report.tables import Column, write_table_at

SHEET: Final = "Findings"

_WIDTHS: Final = {1: 28, 2: 28, **dict.fromkeys(range(3, 10), 11.5), 10: 30}
_LAST: Final = max(_WIDTHS)
_WHOLE: Final = sum(_WIDTHS.values())
_NAME_LIMIT: Final = 120
_MOST_COMPARED: Final = 2_000
_REASON_LINES: Final = 24
"""The longest reason is printed whole."""

_CENTRED: Final = TABLE_NUMBER
_P: Final = replace(TABLE_NUMBER, number_format='[<0.0001]"< 0.0001";0.0000')
_P_OR_MORE: Final = replace(TABLE_NUMBER, number_format='0.0000" or more"')
_DAYS: Final = replace(TABLE_NUMBER, number_format="0.0")
_SIGNED: Final = replace(TABLE_NUMBER, number_format="+0.00;-0.00;0.00")
_WHEN: Final = Look(number_format="yyyy-mm-dd")  # the hour would be wider than the column, and nobody asks for it


def _columns(*headed: tuple[str, Look]) -> tuple[Column, ...]:
    return tuple(Column(heading, _WIDTHS[at], look) for at, (heading, look) in enumerate(headed, start=1))


RANKED: Final = _columns(
    ("Treatment", PLAIN),
    ("Letters", PLAIN),
    ("Coupons", _CENTRED),
    ("Mean", TABLE_AMOUNT),
    ("Standard deviation", TABLE_AMOUNT),
    ("Failed", _CENTRED),
    ("Median days to failure", _DAYS),
)
COMPARED: Final = _columns(
    ("First", PLAIN),
    ("Second", PLAIN),
    ("First less second", _SIGNED),
    ("95 % from", _SIGNED),
    ("to", _SIGNED),
    ("p by the model", _P),
    ("p, exact test", _P),
    ("Smallest p possible", _P),
    ("p, all together", _P),
    ("Standing", PLAIN),
)
_FAMILY: Final = 9
LEFT_OUT: Final = _columns(
    ("Coupon", PLAIN), ("Reason", PLAIN), ("Position", PLAIN), ("Left out by", PLAIN), ("When", _WHEN)
)

_RANKED_WORDS: Final = (
    "The best first. Treatments that share a letter cannot be told apart. Mean and standard deviation are of the "
    "coupons that count, in {0}. Median days to failure: when half of the coupons had "
    "fallen to grade {1} or below; empty where half have not, or nobody can know."
)
_COMPARED_WORDS: Final = (
    "In {0}; above 0, the first was better. The 95 % limits hold for all comparisons together, by a model of means "
    "with the rows of the board as blocks. The exact test asks in how many of the ways in which the lots could have "
    "fallen the difference would be as large; the smallest p possible is what this board could show at best; all "
    "together: after closed testing, so that the chance of any false difference among them stays within it. An empty "
    "cell: this cannot be had here, or was not worked out."
)
_FIRST_ANSWER: Final = "The exact tests had not been worked out when this was written; the standing may change."


def write_findings(sheet: Worksheet, content: FindingsContent, page: PageStyle) -> None:
    """Write the sheet."""
    sheet.sheet_view.showGridLines = False
    set_widths(sheet, _WIDTHS)
    set_page(sheet, page, landscape=True)
    put(sheet, 1, 1, "Findings", SHEET_TITLE)
    row = 2 if content.complete else _across(sheet, 2, _FIRST_ANSWER, QUIET)
    row = _sentences(sheet, row, "What this board shows", content.verdict)
    row = _ranked(sheet, row, content)
    row = _compared(sheet, row, content)
    row = _sentences(sheet, row, "What to know before trusting it", content.cautions)
    row = _left_out(sheet, row, content.left_out)
    sheet.print_area = f"A1:J{row}"


def _across(sheet: Worksheet, row: int, text: str, look: Look) -> int:
    return put_across(sheet, row, text, look, columns=_LAST, width=_WHOLE)


def _sentences(sheet: Worksheet, row: int, heading: str, sentences: Sequence[str]) -> int:
    if not sentences:
        return row
    row = put_heading(sheet, row, heading)
    for each in sentences:
        row = _across(sheet, row, each, PLAIN)
    return row


def _ranked(sheet: Worksheet, row: int, content: FindingsContent) -> int:
    if not content.ranked:
        return row
    row = put_heading(sheet, row, "What each treatment came to")
    rows: list[tuple[Value, ...]] = [
        (
            short(each.treatment, _NAME_LIMIT),
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
    return _across(sheet, row, _RANKED_WORDS.format(content.measure, content.failing_grade), QUIET)


def _compared(sheet: Worksheet, row: int, content: FindingsContent) -> int:
    if not content.compared:
        return row
    row = put_heading(sheet, row, "Comparisons")
    lines = content.compared[:_MOST_COMPARED]
    first = row + 1
    rows: list[tuple[Value, ...]] = [
        (short(each.a, _NAME_LIMIT), short(each.b, _NAME_LIMIT), *each[2:9], each.standing) for each in lines
    ]
    row = write_table_at(sheet, row, "FindingsCompared", COMPARED, rows)
    for at, each in enumerate(lines, start=first):
        if each.at_least and each.p_family is not None:
            put(sheet, at, _FAMILY, each.p_family, _P_OR_MORE)
    more = len(content.compared) - len(lines)
    if more:
        row = _across(sheet, row, f"And {more} more.", QUIET)
    return _across(sheet, row, _COMPARED_WORDS.format(content.measure), QUIET)


def _left_out(sheet: Worksheet, row: int, left_out: Sequence[LeftOutLine]) -> int:
    row = put_heading(sheet, row, "Left out of the findings")
    if not left_out:
        return _across(sheet, row, "No coupon was left out.", PLAIN)
    rows: list[tuple[Value, ...]] = [
        (short(each.coupon, _NAME_LIMIT), each.reason, each.position, short(each.who, _NAME_LIMIT), each.when)
        for each in left_out
    ]
    row = write_table_at(sheet, row, "FindingsLeftOut", LEFT_OUT, rows, most_lines=_REASON_LINES)
    return _across(sheet, row, "Their grades are in the other sheets of this workbook as ever.", QUIET)
