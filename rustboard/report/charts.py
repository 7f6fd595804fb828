"""The history charts, drawn as steps and readable where lines lie on each other; and what other charts share."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final, Literal, TypeVar

from openpyxl.chart import ScatterChart
from openpyxl.chart.axis import ChartLines, NumericAxis, Scaling
from openpyxl.chart.data_source import AxDataSource, NumDataSource, NumFmt, NumRef, StrRef
from openpyxl.chart.layout import Layout, ManualLayout
from openpyxl.chart.legend import Legend
from openpyxl.chart.marker import DataPoint, Marker
from openpyxl.chart.series import SeriesLabel, XYSeries
from openpyxl.chart.shapes import GraphicalProperties
from openpyxl.chart.text import RichText, Text
from openpyxl.chart.title import Title
from openpyxl.drawing.line import LineProperties
from openpyxl.drawing.text import CharacterProperties, Font, Paragraph, ParagraphProperties, RegularTextRun

from rustboard.report.cells import lines_of, text_width
from rustboard.report.chart_data import ChartData, Track, steps
from rustboard.report.styles import FONT

MOST_LINES: Final = 8
"""Most lines in one chart, so that each has its name in the legend; more are shared out among several charts."""

LEGEND_LETTERS: Final = 16
"""Letters of a legend line before it wraps, about."""

MOST_MARKED: Final = 60
"""Beyond so many inspections the markers would touch; then only points that no line reaches get one."""

WIDTH_CM: Final = 17.0
HEIGHT_CM: Final = 6.85

COLOURS: Final = ("1F4E9C", "C85200", "00795A", "9B3F86", "101418", "8A6D00")
SYMBOLS: Final = ("circle", "square", "triangle", "diamond")
GRID: Final = "D5DADF"
POINT: Final = 12_700
"""One point of line width in the format's own unit."""

_Line = TypeVar("_Line")


def history_chart(data: ChartData, tracks: Sequence[Track], title: str, y_title: str) -> ScatterChart:
    """Return a chart of step histories: days of exposure across, grade 0 to 10 up with 10 at the top."""
    chart = scatter_frame(title, [track.label for track in tracks])
    least, most, unit = data.axis
    chart.x_axis = value_axis(10, 100, "b", data.x_title, Scaling(min=least, max=most), unit, "General")
    chart.y_axis = value_axis(100, 10, "l", y_title, Scaling(min=0, max=10), 1)
    for number, track in enumerate(tracks):
        chart.series.append(_series(data, track, number, len(tracks)))
    return chart


def scatter_frame(title: str, names: Sequence[str]) -> ScatterChart:
    """Return a chart without axes and series, its legend beside it with room for these names."""
    chart = ScatterChart()
    chart.scatterStyle = "lineMarker"
    chart.style = None
    chart.roundedCorners = False
    chart.display_blanks = "gap"
    # In centimetres; the stubs take openpyxl's own whole-numbered default for the type.
    chart.width, chart.height = WIDTH_CM, HEIGHT_CM  # type: ignore[assignment]
    chart.title = title_of(title, 1200, bold=True)
    # Explicit, because programs leave different rooms for long names, and charts below each other should line up.
    chart.layout = Layout(
        ManualLayout(layoutTarget="inner", xMode="edge", yMode="edge", x=0.08, y=0.16, w=0.63, h=0.62)
    )
    lines = sum(lines_of(each, LEGEND_LETTERS) for each in names)
    # Wider than its longest name needs, a legend would be set in two columns.
    wide = min(0.26, 0.1 + 0.0105 * max(text_width(each) for each in names))
    high = min(0.85, 0.04 + 0.06 * lines)
    beside = Layout(ManualLayout(xMode="edge", yMode="edge", x=0.735, y=0.13, w=wide, h=high))
    chart.legend = Legend(legendPos="r", overlay=False, txPr=text_of(800), layout=beside)
    return chart


def value_axis(
    number: int, other: int, side: Literal["b", "l"], title: str, scaling: Scaling, unit: float, shown: str = "0"
) -> NumericAxis:
    """Return an axis of numbers with its grid and title, in sight in every program."""
    axis = NumericAxis(
        axId=number,
        crossAx=other,
        axPos=side,
        scaling=scaling,
        majorUnit=unit,
        majorGridlines=ChartLines(GraphicalProperties(ln=LineProperties(solidFill=GRID, w=6_350))),
        title=title_of(title, 900),
        numFmt=NumFmt(shown, sourceLinked=False),
        majorTickMark="out",
        tickLblPos="low",
        crosses="min",
        txPr=text_of(900),
        spPr=GraphicalProperties(ln=LineProperties(solidFill="50565C", w=9_525)),
    )
    # Without this, recent spreadsheet programs hide axes that openpyxl wrote.
    axis.delete = False
    return axis


def _series(data: ChartData, track: Track, number: int, count: int) -> XYSeries:
    series, marker = line_series(
        data.name_cell(track), data.points(1), data.points(track.column), number=number, count=count
    )
    usual, exceptions = markers(track.values)
    series.marker = marker if usual else Marker(symbol="none")
    series.dPt = [
        DataPoint(idx=point, marker=Marker(symbol="none") if usual else marker, spPr=series.spPr)
        for point in exceptions
    ]
    return series


def line_series(name: str, across: str, up: str, *, number: int, count: int) -> tuple[XYSeries, Marker]:
    """Return the line of so many with this number in its own colour, dash and breadth, and the marker that suits it.

    ``name`` is the cell of its name; ``across`` and ``up`` are the ranges of its points.
    """
    colour = COLOURS[number % len(COLOURS)]
    series = XYSeries(
        idx=number,
        order=number,
        tx=SeriesLabel(strRef=StrRef(name)),
        xVal=AxDataSource(numRef=NumRef(across)),
        yVal=NumDataSource(numRef=NumRef(up)),
        smooth=False,
    )
    # Equal grades lie on each other. Each next line is broader, half clear (see `package`) and its markers hollow, so
    # that all of them show: some programs draw the first line on top, others the last.
    share = number / (count - 1) if count > 1 else 0.25
    width = 1.25 + 2.75 * share
    marker = Marker(symbol=SYMBOLS[number % len(SYMBOLS)], size=round(5 + 4 * share))
    marker.spPr = GraphicalProperties(noFill=True, ln=LineProperties(solidFill=colour, w=round(1.25 * POINT)))
    dash: Literal["sysDash", "solid"] = "sysDash" if number >= len(COLOURS) else "solid"
    series.spPr = GraphicalProperties(ln=LineProperties(solidFill=colour, w=round(width * POINT), prstDash=dash))
    return series, marker


def markers(values: Sequence[float | None]) -> tuple[bool, list[int]]:
    """Return whether points carry a marker, and the numbers of the points that do the opposite.

    Markers stand at inspections, not at the corners of steps. A held point that lies on the inspection's own point
    needs no exception. With many inspections only points without a line on either side keep their marker.
    """
    points = steps(values)
    lonely = [
        at
        for at in range(0, len(points), 2)
        if points[at] is not None
        and (at == 0 or points[at - 1] is None)
        and (at + 1 >= len(points) or points[at + 1] is None)
    ]
    if len(values) > MOST_MARKED >= len(lonely):
        return False, lonely
    corners = [at for at in range(1, len(points), 2) if points[at] is not None and points[at] != points[at + 1]]
    return True, corners


def shared_out(tracks: Sequence[_Line]) -> list[Sequence[_Line]]:
    """Return tracks in as few charts as `MOST_LINES` allows, about equally many in each."""
    charts = max(1, math.ceil(len(tracks) / MOST_LINES))
    size = math.ceil(len(tracks) / charts)
    return [tracks[at : at + size] for at in range(0, len(tracks), size)]


def _characters(size: int, *, bold: bool = False) -> CharacterProperties:
    return CharacterProperties(latin=Font(typeface=FONT), sz=size, b=bold, solidFill="101418")


def text_of(size: int) -> RichText:
    """Return how the text of an axis or legend looks, ``size`` in hundredths of a point."""
    properties = ParagraphProperties(defRPr=_characters(size))
    return RichText(p=[Paragraph(pPr=properties, endParaRPr=_characters(size))])


def title_of(text: str, size: int, *, bold: bool = False) -> Title:
    """Return the title of a chart or an axis, ``size`` in hundredths of a point."""
    run = RegularTextRun(rPr=_characters(size, bold=bold), t=text)
    paragraph = Paragraph(pPr=ParagraphProperties(defRPr=_characters(size, bold=bold)), r=[run])
    return Title(tx=Text(rich=RichText(p=[paragraph])), overlay=False)
