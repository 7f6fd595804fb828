"""Reading a finished workbook back: cells through openpyxl, the rest from its XML parts."""

from __future__ import annotations

import io
from dataclasses import dataclass
from xml.etree import ElementTree
from zipfile import ZipFile

from openpyxl import Workbook, load_workbook
from openpyxl.worksheet.worksheet import Worksheet
from report_boards import MADE

from rustboard.board.record import BoardRecord
from rustboard.report.content import ReportContent
from rustboard.report.workbook import workbook_bytes

SHEETS = (
    "Cover",
    "Contents",
    "Summary",
    "Board map",
    "History",
    "By inspection",
    "Treatments",
    "Coupons",
    "Method and cautions",
    "Grades",
    "Treatment data",
    "Summary data",
    "Chart data",
)
"""Of a workbook for which nothing was worked out and nothing but grades is known."""

C = "{http://schemas.openxmlformats.org/drawingml/2006/chart}"
A = "{http://schemas.openxmlformats.org/drawingml/2006/main}"
XDR = "{http://schemas.openxmlformats.org/drawingml/2006/spreadsheetDrawing}"


def opened(record: BoardRecord, by: str = "") -> Workbook:
    return load_workbook(io.BytesIO(workbook_bytes(ReportContent(record, MADE, by=by))))


def texts(sheet: Worksheet) -> list[str]:
    """All texts of a sheet, row by row."""
    return [cell.value for row in sheet.iter_rows() for cell in row if isinstance(cell.value, str)]


def rows(sheet: Worksheet) -> list[tuple[object, ...]]:
    return [tuple(row) for row in sheet.iter_rows(values_only=True)]


@dataclass
class Axis:
    title: str
    least: float
    most: float
    unit: float
    hidden: bool


@dataclass
class Chart:
    """What the XML of a chart says."""

    title: str
    series: list[ElementTree.Element]
    axes: list[Axis]
    blanks_as: str

    @property
    def references(self) -> list[tuple[str, str, str]]:
        """(name cell, days, grades) of each series."""
        return [
            (
                each.findtext(f"{C}tx/{C}strRef/{C}f", ""),
                each.findtext(f"{C}xVal/{C}numRef/{C}f", ""),
                each.findtext(f"{C}yVal/{C}numRef/{C}f", ""),
            )
            for each in self.series
        ]


def value(parent: ElementTree.Element, path: str) -> str:
    found = parent.find("/".join(f"{C}{name}" for name in path.split("/")))
    assert found is not None, path
    return found.get("val", "")


def title_of(parent: ElementTree.Element) -> str:
    title = parent.find(f"{C}title")
    return "" if title is None else "".join(each.text or "" for each in title.iter(f"{A}t"))


def chart_parts(content: bytes) -> list[Chart]:
    """The charts of a workbook file in the order of their parts."""
    with ZipFile(io.BytesIO(content)) as package:
        names = [name for name in package.namelist() if name.startswith("xl/charts/chart")]
        names.sort(key=lambda name: int("".join(filter(str.isdigit, name))))
        return [_chart(ElementTree.fromstring(package.read(name))) for name in names]


def _chart(root: ElementTree.Element) -> Chart:
    chart = root.find(f"{C}chart")
    assert chart is not None
    axes = [
        Axis(
            title_of(axis),
            float(value(axis, "scaling/min")),
            float(value(axis, "scaling/max")),
            float(value(axis, "majorUnit")),
            value(axis, "delete") not in {"0", "false"},
        )
        for axis in chart.iter(f"{C}valAx")
    ]
    return Chart(title_of(chart), list(chart.iter(f"{C}ser")), axes, value(chart, "dispBlanksAs"))


def histories(content: bytes) -> list[Chart]:
    """The charts of histories: those of two axes with numbers; the picture of the summary has one."""
    return [each for each in chart_parts(content) if len(each.axes) == 2]


def charts_of(record: BoardRecord) -> list[Chart]:
    return histories(workbook_bytes(ReportContent(record, MADE)))


def drawing_of(content: bytes) -> ElementTree.Element:
    with ZipFile(io.BytesIO(content)) as package:
        return ElementTree.fromstring(package.read("xl/drawings/drawing2.xml"))
