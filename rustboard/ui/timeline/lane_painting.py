"""Draws the lane of the weather: one frame of it, from sums."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from math import ceil, floor, log10
from typing import Final

import numpy as np
from PySide6.QtCore import QCoreApplication, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QImage, QPainter, QPen

from rustboard.ui import wording
from rustboard.ui.theme import Scheme, weather_inks
from rustboard.ui.timeline.geometry import Floats
from rustboard.ui.timeline.lane_content import LaneContent, MarkGroup, grouped
from rustboard.ui.timeline.lane_data import Columns, LaneWeather, bin_edges, bin_length
from rustboard.ui.timeline.lane_strip import air_image, strip_image, swatch
from rustboard.ui.timeline.plot_parts import draw_lines

NUMBERS_GAP_PX: Final = 6.0
IN_VIEW_PX: Final = 7.0
BAR_LIMIT: Final = 4_000
"""More bars than this are not drawn in one frame; they would be narrower than a px."""


def _say(text: str) -> str:
    return QCoreApplication.translate("timeline", text)


@dataclass(frozen=True, slots=True)
class Rows:
    """Where each kind of picture lies in the lane: top and height, px; a height of 0 leaves it out.

    The names of rain and air stand in a line above theirs.
    """

    marks: tuple[float, float] = (0.0, 0.0)
    rain: tuple[float, float] = (0.0, 0.0)
    key: tuple[float, float] = (0.0, 0.0)
    strip: tuple[float, float] = (0.0, 0.0)
    air: tuple[float, float] = (0.0, 0.0)
    height: float = 0.0


@dataclass(frozen=True, slots=True)
class Scale:
    """An upright axis: from which value at the bottom to which at the top, and the numbers beside it."""

    low: float
    high: float
    numbers: tuple[float, ...]

    def y(self, values: Floats, row: tuple[float, float]) -> Floats:
        """Return px from the top."""
        top, height = row
        return top + height - (values - self.low) / (self.high - self.low) * height


def rain_scale(most: float) -> Scale:
    """Return the scale of rain, from 0 to a round number."""
    if most <= 0:
        return Scale(0.0, 1.0, (0.0, 1.0))
    step = 10.0 ** floor(log10(most))
    top = next(each * step for each in (1.0, 2.0, 5.0, 10.0) if each * step >= most)
    return Scale(0.0, top, (0.0, top))


def air_scale(low: float, high: float) -> Scale:
    """Return the scale of temperatures: whole fives around all there is."""
    bottom, top = 5.0 * floor(low / 5.0), 5.0 * ceil(high / 5.0)
    if top <= bottom:
        top = bottom + 5.0
    inner = (0.0,) if bottom < 0.0 < top else ()
    return Scale(bottom, top, (bottom, *inner, top))


class LanePainter:
    """One frame of the lane.

    Attributes:
        columns: the weather of each px from left to right, or None where none is known.
    """

    def __init__(
        self,
        content: LaneContent,
        scheme: Scheme,
        font: QFont,
        rows: Rows,
        area: QRectF,
        shown: tuple[float, float],
        ratio: float,
    ) -> None:
        """Read what is in view.

        Args:
            content: what to draw.
            scheme: whose inks to take.
            font: of numbers and names.
            rows: where each kind of picture lies.
            area: as broad as the plot, px of the lane.
            shown: from where to where on the axis.
            ratio: device px per px.
        """
        self._content, self._scheme, self._font, self._rows, self._area = content, scheme, font, rows, area
        self._ratio, self._low = ratio, shown[0]
        self._px = area.width() / (shown[1] - shown[0])
        count = max(1, round(area.width() * ratio))
        self._edges = np.linspace(shown[0], shown[1], count + 1)
        self.columns: Columns | None = None
        if content.weather is not None:
            self.columns = content.weather.columns(content.axis.day_at(self._edges))

    def x(self, places: Floats) -> Floats:
        """Return px from the left of the lane."""
        return self._area.left() + (places - self._low) * self._px

    def draw(self, painter: QPainter, stretch: tuple[float, float] | None, in_view: float | None) -> None:
        """Draw the frame; ``stretch`` is pointed at, ``in_view`` is the place of the inspection in view."""
        painter.setFont(self._font)
        painter.save()
        painter.setClipRect(self._area)
        self._draw_ground(painter, stretch, in_view)
        weather, columns = self._content.weather, self.columns
        if weather is not None and columns is not None:
            if self._rows.rain[1]:
                self._draw_rain(painter, weather)
            if self._rows.strip[1]:
                self._draw_strip(painter, columns)
            if self._rows.air[1] and weather.temperatures is not None:
                self._draw_air(painter, weather.temperatures, columns)
        self._draw_marks(painter)
        painter.restore()

    # ---- ground

    def _draw_ground(self, painter: QPainter, stretch: tuple[float, float] | None, in_view: float | None) -> None:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        height = self._rows.height
        if stretch is not None:
            left, right = self.x(np.array(stretch)).tolist()
            lit = QColor(self._scheme.accent)
            lit.setAlphaF(0.14)
            painter.fillRect(QRectF(left, 0, max(2.0, right - left), height), lit)
        faint = QColor(self._scheme.text)
        faint.setAlphaF(0.22)
        painter.setPen(QPen(faint, 1))
        ends = self._snapped(self.x(self._content.ends))
        seen = ends[(ends >= self._area.left()) & (ends <= self._area.right())]
        if len(seen) * 4 <= self._area.width():
            draw_lines(painter, np.column_stack([seen, np.zeros(len(seen)), seen, np.full(len(seen), height)]))
        if in_view is not None:
            pale = QColor(self._scheme.accent)
            pale.setAlphaF(0.28)
            x = float(self._snapped(self.x(np.array([in_view])))[0])
            painter.setPen(QPen(pale, IN_VIEW_PX, c=Qt.PenCapStyle.FlatCap))
            painter.drawLine(QPointF(x, 0), QPointF(x, height))

    def _snapped(self, px: Floats) -> Floats:
        return (np.floor(px * self._ratio) + 0.5) / self._ratio

    # ---- rain

    def bar_days(self) -> float:
        """Return how many days one bar stands for."""
        return bin_length(self._content.axis.days_a_unit() / self._px)

    def _draw_rain(self, painter: QPainter, weather: LaneWeather) -> None:
        length = self.bar_days()
        first, last = self._content.axis.day_at(self._edges[[0, -1]])
        edges = bin_edges(float(first), float(last), length)
        if len(edges) > BAR_LIMIT:
            return
        amounts = weather.rain(edges)
        scale = rain_scale(weather.most_rain(length))
        x = self._snapped(self.x(self._content.axis.at_day(edges)))
        top, height = self._rows.rain
        y = scale.y(np.minimum(amounts, scale.high), self._rows.rain)
        ink = QColor(weather_inks(self._scheme).rain)
        bottom = top + height
        y = np.minimum(y, bottom - 1.5)  # what was measured is seen, however little it is
        broad = np.maximum(1.0, np.diff(x) - 1.0)
        for at in np.flatnonzero(amounts > 0).tolist():
            painter.fillRect(QRectF(float(x[at]), float(y[at]), float(broad[at]), bottom - float(y[at])), ink)
        self._base_line(painter, bottom)

    def _base_line(self, painter: QPainter, y: float) -> None:
        painter.setPen(QPen(QColor(self._scheme.muted), 1))
        painter.drawLine(QPointF(self._area.left(), y), QPointF(self._area.right(), y))

    # ---- wet and dry

    def _draw_strip(self, painter: QPainter, columns: Columns) -> None:
        top, height = self._rows.strip
        origin = (self._low * self._px) * self._ratio
        image = strip_image(columns, round(height * self._ratio), self._scheme, origin, self._ratio)
        painter.drawImage(QRectF(self._area.left(), top, self._area.width(), height), image)
        painter.setPen(QPen(QColor(self._scheme.muted), 1))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(QRectF(self._area.left(), top, self._area.width() - 1, height))

    # ---- air

    def _draw_air(self, painter: QPainter, limits: tuple[float, float], columns: Columns) -> None:
        scale, (top, height) = air_scale(*limits), self._rows.air
        if scale.low < 0 < scale.high:
            zero = float(self._snapped(scale.y(np.zeros(1), self._rows.air))[0])
            painter.setPen(QPen(QColor(self._scheme.muted), 1, Qt.PenStyle.DashLine))
            painter.drawLine(QPointF(self._area.left(), zero), QPointF(self._area.right(), zero))
        tall = round(height * self._ratio)
        row = (0.0, float(tall))
        low, high, mean = (scale.y(each, row) for each in (columns.lowest, columns.highest, columns.mean))
        image = air_image(low, high, mean, tall, self._scheme, self._ratio)
        painter.drawImage(QRectF(self._area.left(), top, self._area.width(), height), image)

    # ---- marks

    def groups(self) -> list[MarkGroup]:
        """Return the marks in view as they are drawn."""
        marks = self._content.marks
        if not marks:
            return []
        places = self.x(np.array([each.place for each in marks]))
        seen = np.flatnonzero((places >= self._area.left() - 8) & (places <= self._area.right() + 8))
        return grouped([marks[each] for each in seen], places[seen])

    def _draw_marks(self, painter: QPainter) -> None:
        top, height = self._rows.marks
        for each in self.groups():
            stamp = mark_stamp(each.text, each.strong, height, self._scheme, self._font.key(), self._ratio)
            painter.drawImage(QPointF(each.x - stamp.deviceIndependentSize().width() / 2, top), stamp)

    # ---- numbers and names

    def lettering(self) -> QImage:
        """Return numbers, names and key as a picture of the whole lane; it stays the same while one pans."""
        size = (self._area.right() * self._ratio, self._rows.height * self._ratio)
        image = QImage(ceil(size[0]), ceil(size[1]), QImage.Format.Format_ARGB32_Premultiplied)
        image.setDevicePixelRatio(self._ratio)
        image.fill(Qt.GlobalColor.transparent)
        painter = QPainter(image)
        painter.setFont(self._font)
        self._draw_numbers(painter)
        painter.end()
        return image

    def lettering_key(self) -> tuple[object, ...]:
        """Return all that numbers, names and key are made from, but for the content itself."""
        area = (self._area.left(), self._area.width())
        return (self._rows, area, self._scheme, self._font.key(), self._ratio, self.bar_days())

    def _draw_numbers(self, painter: QPainter) -> None:
        weather = self._content.weather
        if weather is None:
            return
        line = QFontMetricsF(self._font).height()
        if self._rows.rain[1]:
            length = self.bar_days()
            self._numbers(painter, rain_scale(weather.most_rain(length)), self._rows.rain, line)
            self._name(painter, rain_title(length), self._rows.rain)
        if self._rows.air[1] and weather.temperatures is not None:
            self._numbers(painter, air_scale(*weather.temperatures), self._rows.air, line)
            self._name(painter, _say("air, °C: lowest to highest, mean"), self._rows.air)
        if self._rows.key[1]:
            self._draw_key(painter, line)

    def _numbers(self, painter: QPainter, scale: Scale, row: tuple[float, float], line: float) -> None:
        painter.setPen(QColor(self._scheme.text))
        top, height = row
        taken: list[float] = []
        # The ends first: a number between them gives way where the room is short.
        for value in (scale.low, scale.high, *scale.numbers):
            y = float(scale.y(np.array([value]), row)[0])
            if any(abs(y - each) < line * 0.8 for each in taken):
                continue
            taken.append(y)
            middle = min(max(y, top + line * 0.3), top + height - line * 0.3)
            box = QRectF(0, middle - line / 2, self._area.left() - NUMBERS_GAP_PX, line)
            painter.drawText(box, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter, wording.number(value))

    def _name(self, painter: QPainter, text: str, row: tuple[float, float]) -> None:
        metrics = QFontMetricsF(self._font)
        shown = metrics.elidedText(text, Qt.TextElideMode.ElideRight, self._area.width() - 8)
        box = QRectF(self._area.left() + 3, row[0] - metrics.height(), self._area.width(), metrics.height())
        painter.setPen(QColor(self._scheme.text))
        painter.drawText(box, Qt.AlignmentFlag.AlignVCenter, shown)

    def _draw_key(self, painter: QPainter, line: float) -> None:
        """Draw what the fills of the strip mean; with smaller samples, or fewer of them, where the room is short."""
        top, height = self._rows.key
        fills = (
            (_say("wet"), 1.0, 0.0, 0.0),
            (_say("dry"), 0.0, 1.0, 0.0),
            (_say("not known"), 0.0, 0.0, 0.0),
            (_say("by hand"), 0.5, 0.5, 1.0),
        )
        metrics = QFontMetricsF(self._font)
        side = line * 0.75
        words = sum(metrics.horizontalAdvance(text) for text, *_ in fills)
        roomy = words + len(fills) * (side * 1.6 + 14) <= self._area.width()
        broad, gap = (side * 1.6, 10.0) if roomy else (side, 5.0)
        x = self._area.left() + 3
        for text, wet, dry, by_hand in fills:
            width = metrics.horizontalAdvance(text)
            if x + broad + 4 + width > self._area.right():
                return
            size = (round(broad * self._ratio), round(side * self._ratio))
            box = QRectF(x, top + (height - side) / 2, broad, side)
            painter.drawImage(box, swatch(wet, dry, by_hand, size, self._scheme, self._ratio))
            painter.setPen(QPen(QColor(self._scheme.muted), 1))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(box)
            painter.setPen(QColor(self._scheme.text))
            place = QRectF(box.right() + 4, top, width + 2, height)
            painter.drawText(place, Qt.AlignmentFlag.AlignVCenter, text)
            x = place.right() + gap


@lru_cache(maxsize=256)
def mark_stamp(text: str, strong: bool, height: float, scheme: Scheme, font_key: str, ratio: float) -> QImage:
    """Return the sign of a disturbance as a picture; the foot of its stem is the middle of its lower edge."""
    font = QFont()
    font.fromString(font_key)
    width = max(height - 2, QFontMetricsF(font).horizontalAdvance(text) + 7)
    stamp = QImage(ceil((width + 2) * ratio), ceil((height + 3) * ratio), QImage.Format.Format_ARGB32_Premultiplied)
    stamp.setDevicePixelRatio(ratio)
    stamp.fill(Qt.GlobalColor.transparent)
    painter = QPainter(stamp)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    painter.setFont(font)
    box = QRectF(1, 1, width, height - 3)
    painter.setPen(QPen(QColor(scheme.text), 1))
    painter.setBrush(QColor(scheme.text if strong else scheme.base))
    painter.drawRoundedRect(box, 3, 3)
    painter.drawLine(QPointF(width / 2 + 1, height - 2), QPointF(width / 2 + 1, height + 2))
    painter.setPen(QColor(scheme.base if strong else scheme.text))
    painter.drawText(box, Qt.AlignmentFlag.AlignCenter, text)
    painter.end()
    return stamp


def rain_title(length: float) -> str:
    """Return what a bar of rain stands for."""
    if length == 1:
        return _say("rain, mm a day")
    if length < 1:
        return _say("rain, mm in {0} h").format(wording.number(length * 24, 0))
    return _say("rain, mm in {0} days").format(wording.number(length, 0))
