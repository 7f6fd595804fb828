"""The weather under the histories: marks of disturbances, rain, wet and dry, temperature, on the same axis."""

from __future__ import annotations

from math import ceil
from typing import Final

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QFont, QFontMetricsF, QImage, QPainter
from PySide6.QtWidgets import QGraphicsWidget, QStyleOptionGraphicsItem, QWidget

from rustboard.ui.theme import Scheme
from rustboard.ui.timeline.lane_content import LaneContent
from rustboard.ui.timeline.lane_painting import LanePainter, Rows

GAP_PX: Final = 5.0
LEAST_GRAPH_PX: Final = 24.0
MOST_GRAPH_PX: Final = 54.0
STRIP_PX: Final = 13.0
MOST_PART: Final = 0.42
"""Most of the height that the lane may take."""
LINES_NEED_PX: Final = 150.0
"""Height that the lines and their axis keep, whatever the weather."""


class WeatherLane(QGraphicsWidget):
    """The lane. It takes the whole width of the plot, axis numbers and names included, and draws what it is told."""

    def __init__(self) -> None:
        """Build it empty and without height."""
        super().__init__()
        self._content: LaneContent | None = None
        self._scheme: Scheme | None = None
        self._font = QFont()
        self._rows = Rows()
        self._plot = (0.0, 1.0)
        self._range = (0.0, 1.0)
        self._stretch: tuple[float, float] | None = None
        self._in_view: float | None = None
        self._lettering: tuple[tuple[object, ...], QImage] | None = None
        self._room(0.0)

    def dress(self, scheme: Scheme, font: QFont) -> None:
        """Take on the inks of a scheme."""
        self._scheme, self._font = scheme, QFont(font)
        self._font.setPointSizeF(font.pointSizeF() * 0.9)
        self.update()

    def show_content(self, content: LaneContent | None, height: float) -> None:
        """Show this; None hides the lane. ``height`` is that of plot and lane together, px."""
        self._content, self._lettering = content, None
        self.fit(height)
        self.update()

    def content(self) -> LaneContent | None:
        """Return what is shown, or None."""
        return self._content

    def fit(self, height: float) -> None:
        """Take a part of this height for what there is to show."""
        most = min(height * MOST_PART, height - LINES_NEED_PX)
        self._rows = Rows() if self._content is None else self._rows_for(self._content, most)
        self._room(self._rows.height)

    def has_room(self) -> bool:
        """Return whether what is to be shown is shown."""
        return self._content is None or self._rows.height > 0

    def show_range(self, left: float, right: float, low: float, high: float) -> None:
        """Draw from ``left`` to ``right`` (px of the view) what lies from ``low`` to ``high`` on the axis."""
        self._plot, self._range = (left, right), (low, high)
        self.update()

    def mark(self, in_view: float | None) -> None:
        """Mark the place of the inspection in view."""
        if in_view != self._in_view:
            self._in_view = in_view
            self.update()

    def point(self, stretch: tuple[float, float] | None) -> None:
        """Light the stretch that is pointed at; None for none."""
        if stretch != self._stretch:
            self._stretch = stretch
            self.update()

    def painter_for(self, ratio: float = 1.0) -> LanePainter | None:
        """Return what draws the lane as it is now, or None while it is hidden."""
        if self._content is None or self._scheme is None or not self._rows.height:
            return None
        offset = self.geometry().left()
        left, right = self._plot[0] - offset, self._plot[1] - offset
        area = QRectF(left, 0, max(1.0, right - left), self._rows.height)
        return LanePainter(self._content, self._scheme, self._font, self._rows, area, self._range, ratio)

    def paint(self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None = None) -> None:
        """Draw one frame; Qt calls this."""
        device = painter.device()
        drawing = self.painter_for(1.0 if device is None else float(device.devicePixelRatio()))
        if drawing is not None:
            drawing.draw(painter, self._stretch, self._in_view)
            key = drawing.lettering_key()
            if self._lettering is None or self._lettering[0] != key:
                self._lettering = (key, drawing.lettering())
            painter.drawImage(QPointF(0, 0), self._lettering[1])

    def _rows_for(self, content: LaneContent, most: float) -> Rows:
        """Return where each kind of picture lies; what nothing is known of, or has no room, is left out."""
        line = ceil(QFontMetricsF(self._font).height())
        needs = {"marks": line + 3.0 if content.marks else 0.0}
        weather = content.weather
        if weather is not None:
            needs |= {
                "strip": STRIP_PX,
                "rain": line + LEAST_GRAPH_PX if weather.has_rain else 0.0,
                "key": line + 1.0,
                "air": line + LEAST_GRAPH_PX if weather.temperatures is not None else 0.0,
            }
        room = most - GAP_PX
        kept = {}
        for name, need in needs.items():
            if need and need + GAP_PX <= room:
                kept[name] = need
                room -= need + GAP_PX
        graphs = [each for each in ("rain", "air") if each in kept]
        for each in graphs:
            kept[each] += min(MOST_GRAPH_PX - LEAST_GRAPH_PX, room / len(graphs))
        return _stacked(kept, line)

    def _room(self, height: float) -> None:
        self.setMinimumHeight(height)
        self.setMaximumHeight(height)


def _stacked(heights: dict[str, float], line: float) -> Rows:
    """Return rows one under another; names of graphs stand in a line above them, the key on the strip."""
    if not heights:
        return Rows()
    y = GAP_PX
    found: dict[str, tuple[float, float]] = {}
    for name in ("marks", "rain", "key", "strip", "air"):
        height = heights.get(name, 0.0)
        named = line if height and name in ("rain", "air") else 0.0
        found[name] = (y + named, height - named)
        y += height + (GAP_PX if height and name != "key" else 0.0)
    return Rows(**found, height=y)
