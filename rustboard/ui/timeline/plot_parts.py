"""The parts of the plotting library that the timeline uses, given the types that it does not state itself.

The names with capitals are the library's.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, cast

import numpy as np
import pyqtgraph
import shiboken6
from PySide6.QtCore import QLineF
from PySide6.QtGui import QFont, QPainter, QPen
from PySide6.QtWidgets import QGraphicsGridLayout, QGraphicsItem, QGraphicsView, QGraphicsWidget

from rustboard.ui.timeline.geometry import Floats

if TYPE_CHECKING:

    class PlotView(QGraphicsView):
        """A view whose central item always fills it."""

        centralLayout: QGraphicsGridLayout  # noqa: N815 the library's name

        def setBackground(self, background: str) -> None:
            """Paint the ground in a colour."""

    class DayBox(QGraphicsWidget):
        """The area of the lines: days to the right, grades upward."""

        def __init__(self, **options: Any) -> None: ...
        def addItem(self, item: QGraphicsItem, **options: Any) -> None:
            """Add something drawn in days and grades."""

        def setXRange(self, low: float, high: float, padding: float) -> None:
            """Bring days into view."""

        def setYRange(self, low: float, high: float, padding: float) -> None:
            """Bring grades into view."""

        def disableAutoRange(self) -> None:
            """Never choose a range by itself."""

    class Axis(QGraphicsWidget):
        """An axis with ticks, numbers and a title."""

        def __init__(self, orientation: str, **options: Any) -> None: ...
        def linkToView(self, view: DayBox) -> None:
            """Follow the range of a box."""

        def enableAutoSIPrefix(self, enable: bool) -> None:
            """Shorten numbers by prefixes, or write them as they are."""

        def tickSpacing(self, low: float, high: float, size: float) -> list[tuple[float, float]]:
            """Return distances between ticks with where they start, broadest first."""
            return []

        def setLabel(self, text: str, **style: Any) -> None:
            """Set the title."""

        def showLabel(self, show: bool) -> None:
            """Show or hide the title."""

        def setTicks(self, ticks: list[list[tuple[float, str]]] | None) -> None:
            """Set the numbers instead of having them chosen."""

        def setTickFont(self, font: QFont) -> None:
            """Set the font of the numbers."""

        def setPen(self, pen: QPen) -> None:
            """Set the ink of line and title."""

        def setTextPen(self, pen: QPen) -> None:
            """Set the ink of the numbers."""

        def setWidth(self, width: int | None = None) -> None:
            """Fix the room beside the box."""

        def setHeight(self, height: int | None = None) -> None:
            """Fix the room below the box."""

else:
    PlotView = pyqtgraph.GraphicsView
    DayBox = pyqtgraph.ViewBox
    Axis = pyqtgraph.AxisItem


def draw_lines(painter: QPainter, lines: Floats) -> None:
    """Draw (n, 4) lines x0, y0, x1, y1 in one call.

    The array is handed over as it lies in memory: a QLineF is four doubles, and making n of them in Python would cost
    more than drawing them.
    """
    if len(lines):
        held = np.ascontiguousarray(lines, dtype=np.float64)
        first = cast(QLineF, shiboken6.wrapInstance(held.ctypes.data, QLineF))
        painter.drawLines(first, len(held))
