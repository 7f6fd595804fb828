"""The workbook of one board: all sheets, written whole or not at all."""

from __future__ import annotations

import os
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Final

from openpyxl import Workbook

from rustboard.report.cells import short
from rustboard.report.content import ReportContent
from rustboard.report.contents_sheet import SHEET as CONTENTS
from rustboard.report.contents_sheet import link_back
from rustboard.report.date_formats import write_dates
from rustboard.report.making import Making
from rustboard.report.package import packed
from rustboard.report.page_setup import PageStyle
from rustboard.report.sheets import entries_for
from rustboard.report.styles import PLAIN
from rustboard.support.files import replace_file
from rustboard.support.writing_out import not_written

_NAME_LIMIT: Final = 200


def write_workbook(content: ReportContent, path: Path, last_look: Callable[[], None] | None = None) -> None:
    """Write the workbook of a board, replacing a file of that name only when the new one is complete.

    Args:
        content: what it says; the same content makes the same bytes.
        path: the .xlsx file to write; its folder must exist.
        last_look: called before the file is replaced; what it raises leaves the file as it was.

    Raises:
        InputError: the file cannot be written; the sentence names it and says how to mend it. Where it is open in
            another program that is a `CannotReplaceError`.
    """
    try:
        data = workbook_bytes(content)  # the library writes each sheet to a file of its own first
        if last_look is not None:
            last_look()
        replace_file(Path(os.path.realpath(path)), data)  # a link keeps pointing where it did
    except (OSError, ValueError) as error:
        raise not_written(error, path, "workbook") from error


def workbook_bytes(content: ReportContent) -> bytes:
    """Return the workbook as the bytes of an .xlsx file."""
    made = content.generated.replace(microsecond=0, tzinfo=None)
    content = replace(content, generated=made)
    workbook = Workbook()
    workbook.remove(workbook.worksheets[0])
    # Column widths count digits of this style's font; openpyxl has no other way to it.
    workbook._named_styles["Normal"].font = PLAIN.font  # type: ignore[attr-defined]
    board, choice = content.record.board, content.choice
    page = PageStyle(board.name, f"Made {choice.writing.day(made)}", choice.paper)
    entries = entries_for(content)
    making = Making(content, page, tuple(each.title for each in entries))
    # All of them first: links and formulas of one sheet name others.
    sheets = [workbook.create_sheet(each.title) for each in entries]
    written = {each.title: each.write(sheet, making) for each, sheet in zip(entries, sheets, strict=True)}
    for each, sheet in zip(entries, sheets, strict=True):
        if each.title != CONTENTS:
            link_back(sheet, each.back)
    write_dates(workbook, choice.writing)
    properties = workbook.properties
    properties.title = short(board.name, _NAME_LIMIT)
    properties.creator = short(content.shop.name or board.shop, _NAME_LIMIT)
    properties.created = properties.modified = made
    return packed(workbook, made, written)
