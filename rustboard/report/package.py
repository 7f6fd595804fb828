"""The zipped parts of a workbook: what openpyxl cannot write is put in as each part passes.

Adds the rows of long sheets, the values of formulas and the alternative text of charts, and gives every
part the same date, so that the same board at the same time makes the same bytes.
"""

from __future__ import annotations

import io
import os
import re
from collections.abc import Mapping, Sequence
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, cast
from xml.etree import ElementTree
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

from openpyxl import Workbook
from openpyxl.writer.excel import ExcelWriter

from rustboard.report.formulas import with_cached_values
from rustboard.report.long_rows import LongRows
from rustboard.report.written import ChartText, Written

if TYPE_CHECKING:
    from _typeshed import SizedBuffer


_DRAWING = "http://schemas.openxmlformats.org/drawingml/2006/spreadsheetDrawing"
_CHART = "http://schemas.openxmlformats.org/drawingml/2006/chart"
_MAIN = "http://schemas.openxmlformats.org/drawingml/2006/main"
_ROWS_END = b"</sheetData>"
_DIMENSION = re.compile(rb'<dimension ref="[^"]*"')

LINE_OPACITY = "60000"
"""In thousandths of a percent, as the format counts."""


class _Package(ZipFile):
    """A zip file that completes the parts on their way in."""

    def __init__(
        self, out: io.BytesIO, when: datetime, sheets: Mapping[str, Written], drawings: Mapping[str, Written]
    ) -> None:
        super().__init__(out, "w", ZIP_DEFLATED)
        self._when = max(when, datetime(1980, 1, 1))  # the zip format begins in 1980
        self._sheets = sheets
        self._drawings = drawings

    def write(
        self,
        filename: str | os.PathLike[str],
        arcname: str | os.PathLike[str] | None = None,
        compress_type: int | None = None,
        compresslevel: int | None = None,
    ) -> None:
        """Add a file: openpyxl hands every sheet over this way."""
        name = str(filename if arcname is None else arcname)
        content = Path(filename).read_bytes()
        sheet = self._sheets.get(name)
        if sheet is not None and sheet.cached:
            content = with_cached_values(content, sheet.cached)
        if sheet is not None and sheet.long_rows is not None:
            self._write_long(name, content, sheet.long_rows)
        else:
            super().writestr(self._info(name), content)

    def writestr(
        self,
        zinfo_or_arcname: str | ZipInfo,
        data: SizedBuffer | str,
        compress_type: int | None = None,
        compresslevel: int | None = None,
    ) -> None:
        """Add a part from memory: openpyxl hands everything but sheets over this way."""
        name = zinfo_or_arcname.filename if isinstance(zinfo_or_arcname, ZipInfo) else zinfo_or_arcname
        content = data.encode() if isinstance(data, str) else bytes(data)
        if name in self._drawings:
            content = with_chart_texts(content, self._drawings[name].charts)
        elif name.startswith("xl/charts/"):
            content = with_clear_lines(content)
        super().writestr(self._info(name), content)

    def _info(self, name: str) -> ZipInfo:
        info = ZipInfo(name, self._when.timetuple()[:6])
        info.compress_type = ZIP_DEFLATED
        info.external_attr = 0o600 << 16
        return info

    def _write_long(self, name: str, sheet: bytes, long: LongRows) -> None:
        head, end, tail = sheet.partition(_ROWS_END)
        if not end:
            raise ValueError(f"{name} has no place for rows: its header row is missing")
        head = _DIMENSION.sub(f'<dimension ref="{long.dimension}"'.encode(), head, count=1)
        with self.open(self._info(name), "w") as part:
            part.write(head)
            for row in long.xml():
                part.write(row.encode())
            part.write(end + tail)


def with_chart_texts(drawing: bytes, charts: Sequence[ChartText]) -> bytes:
    """Return a drawing part in which each chart, in order, carries its name and description.

    Pictures on the same sheet have theirs already.
    """
    root = ElementTree.fromstring(drawing)
    frames = root.iterfind(f".//{{{_DRAWING}}}graphicFrame//{{{_DRAWING}}}cNvPr")
    for frame, text in zip(frames, charts, strict=True):
        frame.set("name", text.name)
        frame.set("descr", text.description)
    return cast(bytes, ElementTree.tostring(root, encoding="utf-8", xml_declaration=True))


def with_clear_lines(chart: bytes) -> bytes:
    """Return a chart part whose series lines let what lies under them show, whichever is drawn first."""
    root = ElementTree.fromstring(chart)
    for line in root.iterfind(f".//{{{_CHART}}}ser/{{{_CHART}}}spPr/{{{_MAIN}}}ln//{{{_MAIN}}}srgbClr"):
        ElementTree.SubElement(line, f"{{{_MAIN}}}alpha", val=LINE_OPACITY)
    return cast(bytes, ElementTree.tostring(root, encoding="utf-8", xml_declaration=True))


def packed(workbook: Workbook, when: datetime, written: Mapping[str, Written]) -> bytes:
    """Return the bytes of the .xlsx file.

    Args:
        workbook: finished but for what follows.
        when: the date given to every part.
        written: what the sheets handed back, by title.
    """
    sheets = {
        f"xl/worksheets/sheet{number}.xml": written[sheet.title]
        for number, sheet in enumerate(workbook.worksheets, start=1)
        if sheet.title in written
    }
    # openpyxl numbers the drawings by the sheets that have any.
    drawn = [each for each in workbook.worksheets if each._charts or each._images]  # type: ignore[attr-defined]
    drawings = {f"xl/drawings/drawing{at}.xml": written[sheet.title] for at, sheet in enumerate(drawn, start=1)}
    out = io.BytesIO()
    with _Package(out, when, sheets, drawings) as package:
        ExcelWriter(workbook, package).write_data()
    return out.getvalue()
