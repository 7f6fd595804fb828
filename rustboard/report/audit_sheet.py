"""The record of changes: every step that anybody took on the board."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from typing import Final

from openpyxl.worksheet.worksheet import Worksheet

from rustboard.report.cells import style_number
from rustboard.report.content import AuditLine, ReportContent
from rustboard.report.long_rows import LongRows
from rustboard.report.page_setup import PageStyle, set_page
from rustboard.report.styles import PLAIN, UNWRAPPED, WHEN
from rustboard.report.tables import Column, add_table, put_headings
from rustboard.report.tidy import guarded

SHEET: Final = "Changes"
COLUMNS: Final = (Column("When", 18, WHEN), Column("Who", 22, UNWRAPPED), Column("What", 84, PLAIN))


def write_audit(sheet: Worksheet, content: ReportContent, page: PageStyle) -> LongRows:
    """Set the sheet up and return its rows for `package.packed`, oldest first."""
    put_headings(sheet, COLUMNS)
    add_table(sheet, "Changes", [each.heading for each in COLUMNS], len(content.audit))
    set_page(sheet, page, repeat_rows="1:1")
    sheet.print_area = f"A1:C{max(len(content.audit), 1) + 1}"
    styles = [style_number(sheet, each.look) for each in COLUMNS]
    return LongRows(2, list(_rows(content.audit)), styles, len(content.audit))


def _rows(audit: tuple[AuditLine, ...]) -> Iterator[tuple[str | float | datetime | None, ...]]:
    for each in audit:
        yield _moment(each.at), guarded(each.who), guarded(each.what)


def _moment(recorded: str) -> str | float | datetime | None:
    try:
        return datetime.fromisoformat(recorded).replace(microsecond=0, tzinfo=None)
    except ValueError:  # a stranger's file holds any text here
        return guarded(recorded)
