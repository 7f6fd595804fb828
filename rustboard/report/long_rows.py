"""The rows of sheets with many thousand cells, written straight as sheet XML.

openpyxl makes an object and an XML element for each cell. The two long sheets of a big board (the grades, and the
points of the charts) have some 460,000 cells, for which that takes several times as long as joining text. Everything
else about these sheets (widths, table, print set-up) is openpyxl's work; `package` puts the rows in.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final
from xml.sax.saxutils import escape

from openpyxl.utils import get_column_letter

from rustboard.report.cells import FIRST_YEAR
from rustboard.report.tidy import iso

DAY_ZERO: Final = datetime(1899, 12, 30)
"""Day 0 of the format's dates from March 1900 on."""


@dataclass(frozen=True, slots=True)
class LongRows:
    """Rows that follow what openpyxl writes into a sheet.

    Attributes:
        first_row: row number of the first of them.
        rows: values in column order, text already through `tidy.guarded`; None and empty text leave the cell out.
        styles: the style number of each column.
        count: how many rows there are.
    """

    first_row: int
    rows: Iterable[Sequence[str | float | datetime | None]]
    styles: Sequence[int]
    count: int

    @property
    def dimension(self) -> str:
        """The range of the whole sheet, rows above included."""
        last = max(self.first_row + self.count - 1, 1)
        return f"A1:{get_column_letter(len(self.styles))}{last}"

    def xml(self) -> Iterator[str]:
        """Yield one ``row`` element a row."""
        heads = [(f'<c r="{get_column_letter(number)}', style) for number, style in enumerate(self.styles, start=1)]
        times: dict[datetime, str] = {}
        for at, row in enumerate(self.rows, start=self.first_row):
            parts = [f'<row r="{at}">']
            for (head, style), value in zip(heads, row, strict=True):
                if value is None or value == "":
                    continue
                if isinstance(value, datetime):
                    if value not in times:
                        times[value] = _time_content(value)
                    content = times[value]
                else:
                    content = _text_content(value) if isinstance(value, str) else _number_content(value)
                parts.append(f'{head}{at}" s="{style}"{content}')
            parts.append("</row>")
            yield "".join(parts)


def _text_content(text: str) -> str:
    space = ' xml:space="preserve"' if text != text.strip() or "\n" in text else ""
    return f' t="inlineStr"><is><t{space}>{escape(text)}</t></is></c>'


def _number_content(number: float) -> str:
    # The format has no infinite number, and a file with one needs repair.
    return f"><v>{number!r}</v></c>" if math.isfinite(number) else _text_content(str(number))


def _time_content(when: datetime) -> str:
    """Return a time as the spreadsheet counts it: days since the end of 1899."""
    if when.year < FIRST_YEAR:
        return _text_content(iso(when))
    return f"><v>{(when - DAY_ZERO) / timedelta(days=1)!r}</v></c>"
