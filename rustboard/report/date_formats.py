"""Dates in cells as the user chose to have them written."""

from __future__ import annotations

from typing import Final

from openpyxl import Workbook
from openpyxl.utils.indexed_list import IndexedList

from rustboard.report.choice import Writing

_PLAIN: Final = "yyyy-mm-dd"
"""As all looks in `styles` have it."""


def write_dates(workbook: Workbook, writing: Writing) -> None:
    """Write the dates of a finished workbook as chosen; the cells stay the dates they are."""
    formats = [each.replace(_PLAIN, writing.cell_date) for each in workbook._number_formats]  # type: ignore[attr-defined]
    workbook._number_formats = IndexedList(formats)  # type: ignore[attr-defined]
