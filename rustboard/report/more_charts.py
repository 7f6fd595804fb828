"""Charts of the findings: means as bars, time to the failing grade as steps, cost against protection as points."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, NamedTuple

from openpyxl.chart import BarChart, ScatterChart
from openpyxl.chart.axis import Scaling, TextAxis
from openpyxl.chart.data_source import AxDataSource, NumDataSource, NumRef, StrRef
from openpyxl.chart.label import DataLabelList
from openpyxl.chart.layout import Layout, ManualLayout
from openpyxl.chart.marker import Marker
from openpyxl.chart.series import Series, SeriesLabel
from openpyxl.chart.shapes import GraphicalProperties
from openpyxl.drawing.line import LineProperties

from rustboard.report.axis_steps import round_axis
from rustboard.report.charts import COLOURS, SYMBOLS, line_series, scatter_frame, text_of, title_of, value_axis

MOST_BARS_CM: Final = 16.0
_BAR_CM: Final = 0.62
_ROOM_CM: Final = 2.6
_WIDTH_CM: Final = 24.0
_UP: Final = Scaling(min=0, max=1)


class Line(NamedTuple):
    """One line or point of a chart: its name, the cell of it, and the ranges of its points."""

    label: str
    name: str
    across: str
    up: str


def bar_height(bars: int) -> float:
    """Return how high a chart with so many bars is, in centimetres."""
    return min(MOST_BARS_CM, _ROOM_CM + _BAR_CM * bars)


def means_chart(title: str, names: str, means: str, head: str, bars: int) -> BarChart:
    """Return bars across, the first at the top, on a scale of grades.

    ``names``, ``means``: ranges; ``head``: the cell that names what is drawn.
    """
    chart = BarChart()
    chart.barDir, chart.grouping, chart.gapWidth, chart.style = "bar", "clustered", 45, None
    chart.roundedCorners = False
    chart.width, chart.height = _WIDTH_CM, bar_height(bars)  # type: ignore[assignment]
    chart.title = title_of(title, 1200, bold=True)
    chart.legend = None
    chart.layout = Layout(
        ManualLayout(layoutTarget="inner", xMode="edge", yMode="edge", x=0.26, y=0.15, w=0.7, h=0.62)
    )
    chart.x_axis = TextAxis(
        axId=10, crossAx=100, axPos="l", scaling=Scaling(orientation="maxMin"), tickLblPos="low",
        majorTickMark="none", txPr=text_of(900), crosses="min",
        spPr=GraphicalProperties(ln=LineProperties(solidFill="50565C", w=9_525)),
    )  # fmt: skip
    chart.x_axis.delete = False
    chart.y_axis = value_axis(100, 10, "b", "Mean last grade", Scaling(min=0, max=10), 1)
    # The first bar is at the top, so the end of the names is at the bottom, where the numbers belong.
    chart.y_axis.crosses, chart.y_axis.tickLblPos = "max", "nextTo"
    series = Series(
        idx=0,
        order=0,
        tx=SeriesLabel(strRef=StrRef(head)),
        cat=AxDataSource(strRef=StrRef(names)),
        val=NumDataSource(numRef=NumRef(means)),
    )
    series.spPr = GraphicalProperties(solidFill=COLOURS[0])
    series.invertIfNegative = False
    series.dLbls = DataLabelList(
        showVal=True, showSerName=False, showCatName=False, showLegendKey=False, showPercent=False,
        numFmt="0.0", txPr=text_of(900), dLblPos="outEnd",
    )  # fmt: skip
    chart.series.append(series)
    return chart


def falling_chart(title: str, x_title: str, until: float, lines: Sequence[Line]) -> ScatterChart:
    """Return how many of the coupons stood above the failing grade, by place on the clock."""
    chart = scatter_frame(title, [each.label for each in lines])
    # Percentages are wider than grades, and the axis' title stands left of them.
    chart.layout = Layout(
        ManualLayout(layoutTarget="inner", xMode="edge", yMode="edge", x=0.11, y=0.16, w=0.6, h=0.62)
    )
    least, most, unit = round_axis([until])
    chart.x_axis = value_axis(10, 100, "b", x_title, Scaling(min=least, max=most), unit, "General")
    chart.y_axis = value_axis(100, 10, "l", "Share still above", _UP, 0.2, "0%")
    for number, each in enumerate(lines):
        series, marker = line_series(each.name, each.across, each.up, number=number, count=len(lines))
        series.marker = marker
        chart.series.append(series)
    return chart


def points_chart(
    title: str, titles: tuple[str, str], axes: tuple[Sequence[float], Sequence[float] | None], points: Sequence[Line]
) -> ScatterChart:
    """Return one point each, named in the legend.

    Args:
        title: of the chart.
        titles: of the axis across and of the one up.
        axes: what each has to hold; None = grades, 0 to 10.
        points: each of one cell across and one up.
    """
    chart = scatter_frame(title, [each.label for each in points])
    least, most, unit = round_axis(axes[0])
    chart.x_axis = value_axis(10, 100, "b", titles[0], Scaling(min=least, max=most), unit, "General")
    least, most, unit = (0, 10, 1) if axes[1] is None else round_axis(axes[1])
    chart.y_axis = value_axis(100, 10, "l", titles[1], Scaling(min=least, max=most), unit, "General")
    for number, each in enumerate(points):
        series, _ = line_series(each.name, each.across, each.up, number=number, count=1)
        colour = COLOURS[number % len(COLOURS)]
        # Another symbol for the second use of a colour, so that no two points look alike up to 24.
        marker = Marker(symbol=SYMBOLS[number // len(COLOURS) % len(SYMBOLS)], size=9)
        marker.spPr = GraphicalProperties(solidFill=colour, ln=LineProperties(solidFill=colour))
        series.marker = marker
        series.spPr = GraphicalProperties(ln=LineProperties(noFill=True))
        chart.series.append(series)
    return chart
