"""What speaks against the findings, what was left out and why, and what happened to the board."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from openpyxl.worksheet.worksheet import Worksheet

from rustboard.board.record import BoardRecord
from rustboard.report.across import put_heading
from rustboard.report.cells import Value, put, row_height, short
from rustboard.report.content import ReportContent
from rustboard.report.findings_content import DoubtLine, LeftOutLine
from rustboard.report.findings_looks import (
    DAY,
    LAST,
    LAST_LETTER,
    NAME_LIMIT,
    WIDTHS,
    across,
    begin,
    break_where_cut,
    columns,
    sentences,
)
from rustboard.report.page_setup import PageStyle
from rustboard.report.styles import CELL, COLUMN_HEAD, PLAIN, QUIET
from rustboard.report.tables import Column, write_table_at

SHEET: Final = "Doubts"

_REASON_LINES: Final = 24
"""The longest reason is printed whole."""
_MOST_DOUBTS: Final = 500
_MOST_NAMED: Final = 200
LEFT_OUT: Final = columns(
    ("Coupon", PLAIN), ("Reason", PLAIN), ("Position", PLAIN), ("Left out by", PLAIN), ("When", DAY)
)
DISTURBED: Final = (
    Column("About", WIDTHS[1]), Column("What happened, and the note", WIDTHS[2]), Column("When", WIDTHS[3], DAY)
)  # fmt: skip
_WEIGHTS: Final = {"serious": "may turn it round", "caution": "weakens it", "note": "good to know"}


def has_doubts(content: ReportContent) -> bool:
    """Return whether the sheet would say anything."""
    return content.findings is not None or bool(content.record.disturbances)


def write_doubts(sheet: Worksheet, content: ReportContent, page: PageStyle) -> None:
    """Write the sheet."""
    row = begin(sheet, "Doubts and disturbances", page)
    findings = content.findings
    if findings is not None:
        row = _doubts(sheet, row, findings.doubts)
        row = sentences(sheet, row, "What to know before trusting it", findings.cautions)
        row = sentences(sheet, row, "What more exposure could still settle", findings.more_days)
    first = row
    row = _disturbances(sheet, row, content.record)
    break_where_cut(sheet, first, row)
    if findings is not None:
        row = _left_out(sheet, row, findings.left_out)
    sheet.print_area = f"A1:{LAST_LETTER}{row}"


def _doubts(sheet: Worksheet, row: int, doubts: Sequence[DoubtLine]) -> int:
    row = put_heading(sheet, row, "What speaks against it")
    if not doubts:
        return across(sheet, row, "Nothing that the program looks for.")
    spans = ((1, 1), (2, 6), (7, LAST - 1), (LAST, LAST))
    heads = ("Weight", "Doubt", "What that means", "Coupons")
    _spanned(sheet, row, spans, [(each, True) for each in heads])
    for each in doubts[:_MOST_DOUBTS]:
        row += 1
        named = short(", ".join(each.coupons), _MOST_NAMED)
        _spanned(sheet, row, spans, [(text, False) for text in (_WEIGHTS[each.weight], each.doubt, each.why, named)])
    more = len(doubts) - _MOST_DOUBTS
    return across(sheet, row + 1, f"And {more} more.", QUIET) if more > 0 else row + 1


def _spanned(sheet: Worksheet, row: int, spans: Sequence[tuple[int, int]], cells: Sequence[tuple[str, bool]]) -> None:
    """Write cells over several columns each; true = a heading."""
    widths: list[tuple[Value, float]] = []
    for (first, last), (text, is_head) in zip(spans, cells, strict=True):
        for column in range(first, last + 1):
            put(sheet, row, column, text if column == first else None, COLUMN_HEAD if is_head else CELL)
        if last > first:
            sheet.merge_cells(start_row=row, end_row=row, start_column=first, end_column=last)
        widths.append((text, sum(WIDTHS[column] for column in range(first, last + 1))))
    sheet.row_dimensions[row].height = row_height(widths) + 2


def _disturbances(sheet: Worksheet, row: int, record: BoardRecord) -> int:
    if not record.disturbances:
        return row
    row = put_heading(sheet, row, "What happened to the board")
    rows: list[tuple[Value, ...]] = []
    for each in sorted(record.disturbances.values(), key=lambda each: (each.at, each.key)):
        coupon = record.coupons.get(each.coupon or 0)
        about = "the whole board" if coupon is None else short(coupon.id, NAME_LIMIT)
        rows.append((about, f"{each.kind}: {each.note}" if each.note else str(each.kind), each.at))
    return write_table_at(sheet, row, "Disturbances", DISTURBED, rows)


def _left_out(sheet: Worksheet, row: int, left_out: Sequence[LeftOutLine]) -> int:
    row = put_heading(sheet, row, "Left out of the findings")
    if not left_out:
        return across(sheet, row, "No coupon was left out.")
    rows: list[tuple[Value, ...]] = [
        (short(each.coupon, NAME_LIMIT), each.reason, each.position, short(each.who, NAME_LIMIT), each.when)
        for each in left_out
    ]
    row = write_table_at(sheet, row, "FindingsLeftOut", LEFT_OUT, rows, most_lines=_REASON_LINES)
    return across(sheet, row, "Their grades are in the other sheets of this workbook as ever.", QUIET)
