"""Draws steps, bands, points and the upright lines of the inspections into the plot.

Everything is drawn in px, not in days and grades, so that lines keep their width, lie on whole px (level and upright
lines need no smoothing then, which is what makes a frame cheap) and equal grades can lie side by side.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPen, QPixmap, QTransform
from PySide6.QtWidgets import QGraphicsItem, QStyleOptionGraphicsItem, QWidget

from rustboard.board.grade import GRADES
from rustboard.ui.theme import Scheme
from rustboard.ui.timeline.drawing import MOST_SYMBOLS, Band, Drawing
from rustboard.ui.timeline.geometry import Floats, Integers, shifted
from rustboard.ui.timeline.line_styles import SYMBOL_PX, LineStyle, symbol_stamp
from rustboard.ui.timeline.plot_parts import draw_lines

LOWEST, HIGHEST = -0.45, 10.45
"""Grades at the lower and upper edge of the plot."""

OUTSIDE_PX: Final = 20.0
RUG_PX: Final = 5.0
FEW_LINES: Final = 3
HIGHLIGHT_PX: Final = 1.5
IN_VIEW_PX: Final = 7.0


@dataclass(frozen=True, slots=True)
class Frame:
    """Where days and grades lie in one frame.

    Attributes:
        transform: from days and grades to px of the view.
        area: the plot, px. offsets: grades added by row. ratio: device px per px.
    """

    transform: QTransform
    area: QRectF
    offsets: Floats
    ratio: float

    def x(self, days: Floats) -> Floats:
        """Return px from the left."""
        return self._snapped(days * self.transform.m11() + self.transform.dx())

    def y(self, grades: Floats) -> Floats:
        """Return px from the top, without offsets."""
        return self._snapped(grades * self.transform.m22() + self.transform.dy())

    def y_of(self, grades: Floats, rows: Integers) -> Floats:
        """Return px from the top with the offsets of the grades' rows."""
        return self.y(shifted(grades, self.offsets[rows]) if self.offsets.any() else grades)

    def _snapped(self, px: Floats) -> Floats:
        return (np.floor(px * self.ratio) + 0.5) / self.ratio

    def lines(self, lines: Floats, rows: Integers) -> Floats:
        """Return lines in px with their rows' offsets."""
        return np.column_stack(
            [
                self.x(lines[:, 0]),
                self.y_of(lines[:, 1], rows),
                self.x(lines[:, 2]),
                self.y_of(lines[:, 3], rows),
            ]
        )


class StepsItem(QGraphicsItem):
    """The contents of the plot."""

    def __init__(self) -> None:
        """Build it empty."""
        super().__init__()
        self._drawing: Drawing | None = None
        self._scheme: Scheme | None = None
        self._in_view: float | None = None
        self._pointed_at: float | None = None
        self._strong: int | None = None
        self._bounds = QRectF()
        self._pens: list[QPen] = []
        self._stamps: dict[tuple[LineStyle, bool, float, float], QPixmap] = {}

    def show_drawing(self, drawing: Drawing, scheme: Scheme, first: float, last: float) -> None:
        """Draw this from now on; ``first`` and ``last`` are the outermost days that can come into view."""
        self.prepareGeometryChange()
        self._drawing, self._scheme = drawing, scheme
        self._strong = None
        self._stamps.clear()
        self._pens = [each.pen(scheme) for each in drawing.looks]
        self._bounds = QRectF(first, LOWEST, last - first, HIGHEST - LOWEST)
        self.update()

    def mark(self, in_view: float | None, pointed_at: float | None, strong: int | None) -> None:
        """Mark the day of the inspection in view and of the one pointed at, and the row of the line pointed at."""
        if (in_view, pointed_at, strong) != (self._in_view, self._pointed_at, self._strong):
            self._in_view, self._pointed_at, self._strong = in_view, pointed_at, strong
            self.update()

    def boundingRect(self) -> QRectF:
        """Return everything that can come into view; Qt calls this."""
        return self._bounds

    def paint(self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None = None) -> None:
        """Draw one frame; Qt calls this."""
        drawing, scheme = self._drawing, self._scheme
        if drawing is None or scheme is None:
            return
        frame = self._frame(painter, drawing)
        painter.save()
        painter.setWorldTransform(QTransform())
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        self._draw_ground(painter, frame, drawing, scheme)
        for band in drawing.bands:
            _draw_band(painter, frame, band, drawing.styles[band.row], scheme)
        self._draw_lines(painter, frame, drawing, scheme)
        self._draw_points(painter, frame, drawing, scheme)
        painter.restore()

    def _frame(self, painter: QPainter, drawing: Drawing) -> Frame:
        transform = painter.worldTransform()
        parent = self.parentItem()
        box = None if parent is None else parent.parentItem()
        area = self._bounds if box is None else self.mapRectFromItem(box, box.boundingRect())
        device = painter.device()
        ratio = 1.0 if device is None else float(device.devicePixelRatio())
        return Frame(transform, transform.mapRect(area), drawing.offsets(abs(transform.m22())), ratio)

    def _draw_ground(self, painter: QPainter, frame: Frame, drawing: Drawing, scheme: Scheme) -> None:
        area = frame.area
        faint = QColor(scheme.text)
        faint.setAlphaF(0.13)
        painter.setPen(QPen(faint, 1))
        heights = frame.y(np.array(GRADES, dtype=np.float64))
        draw_lines(painter, np.array([(area.left(), y, area.right(), y) for y in heights]))
        rug = frame.x(drawing.days)
        low = np.full(len(rug), area.bottom())
        painter.setPen(QPen(QColor(scheme.muted), 1))
        draw_lines(painter, np.column_stack([rug, low - RUG_PX, rug, low]))
        if self._pointed_at is not None:
            self._upright(painter, frame, self._pointed_at, QPen(QColor(scheme.muted), 1, Qt.PenStyle.DotLine))
        if self._in_view is not None:
            # Broad and pale, so that a step at this inspection stays to be seen on it.
            pale = QColor(scheme.accent)
            pale.setAlphaF(0.28)
            x = self._upright(painter, frame, self._in_view, QPen(pale, IN_VIEW_PX, c=Qt.PenCapStyle.FlatCap))
            _draw_flag(painter, x, area, scheme)

    def _upright(self, painter: QPainter, frame: Frame, day: float, pen: QPen) -> float:
        x = float(frame.x(np.array([day]))[0])
        painter.setPen(pen)
        painter.drawLine(QPointF(x, frame.area.top()), QPointF(x, frame.area.bottom()))
        return x

    def _draw_lines(self, painter: QPainter, frame: Frame, drawing: Drawing, scheme: Scheme) -> None:
        found = drawing.strokes
        lines = frame.lines(found.lines, found.line_rows)
        left, right = frame.area.left() - OUTSIDE_PX, frame.area.right() + OUTSIDE_PX
        seen = (lines[:, 2] >= left) & (lines[:, 0] <= right)
        lines, rows = lines[seen], found.line_rows[seen]
        looks = drawing.look_of_row[rows]
        # All are cut in one go and lie look by look: with many looks the arrays would cost more than the lines.
        order = np.argsort(looks, kind="stable")
        periods = np.array([each.dash_period for each in drawing.looks])
        cut = _cut(lines[order], left, right, periods[looks[order]])
        edges = np.searchsorted(looks[order], np.arange(len(drawing.looks) + 1)).tolist()
        for number, pen in enumerate(self._pens):
            painter.setPen(pen)
            draw_lines(painter, cut[edges[number] : edges[number + 1]])
        if self._strong is not None:
            style = drawing.styles[self._strong]
            mine = lines[rows == self._strong]
            own = _cut(mine, left, right, np.full(len(mine), style.dash_period))
            painter.setPen(QPen(QColor(scheme.base), style.width + 5, c=Qt.PenCapStyle.SquareCap))
            draw_lines(painter, own)
            painter.setPen(style.pen(scheme, wider=HIGHLIGHT_PX))
            draw_lines(painter, own)

    def _draw_points(self, painter: QPainter, frame: Frame, drawing: Drawing, scheme: Scheme) -> None:
        found = drawing.strokes
        x = frame.x(found.points[:, 0])
        y = np.where(found.aside, frame.y(found.points[:, 1]), frame.y_of(found.points[:, 1], found.point_rows))
        seen = (x >= frame.area.left() - OUTSIDE_PX) & (x <= frame.area.right() + OUTSIDE_PX)
        many = int(seen.sum()) > MOST_SYMBOLS
        if many:
            # A point without a line on either side would be lost with its symbol, so it keeps a small one; and so
            # does one of fewer coupons than the others, unless those are too many as well.
            hollow = seen & drawing.hollow
            seen &= found.alone
            if int(hollow.sum()) <= MOST_SYMBOLS:
                seen |= hollow
        size = SYMBOL_PX * 0.55 if many else _symbol_px(frame, drawing)
        x = x + found.aside * _aside_px(frame, drawing, size)
        stamps = []
        for each in drawing.styles:
            pair = [self._stamp(each, scheme, frame.ratio, size, hollow=hollow) for hollow in (False, True)]
            stamps.append([(stamp, stamp.width() / stamp.devicePixelRatio() / 2) for stamp in pair])
        drawn = zip(
            x[seen].tolist(),
            y[seen].tolist(),
            found.point_rows[seen].tolist(),
            drawing.hollow[seen].tolist(),
            strict=True,
        )
        for px, py, row, hollow in drawn:
            stamp, half = stamps[row][hollow]
            painter.drawPixmap(QPointF(px - half, py - half), stamp)

    def _stamp(self, style: LineStyle, scheme: Scheme, ratio: float, size: float, *, hollow: bool) -> QPixmap:
        key = (style, hollow, ratio, size)
        if key not in self._stamps:
            self._stamps[key] = symbol_stamp(style, scheme, ratio, size, hollow=hollow)
        return self._stamps[key]


def _cut(lines: Floats, left: float, right: float, periods: Floats) -> Floats:
    """Return lines cut off beyond the plot; dashed ones by whole dashes, so that they do not crawl while panning."""
    start = np.maximum(lines[:, 0], left)
    dashed = periods > 0
    whole = np.where(dashed, periods, 1.0)
    start = np.where(dashed, lines[:, 0] + np.floor((start - lines[:, 0]) / whole) * whole, start)
    return np.column_stack([start, lines[:, 1], np.minimum(lines[:, 2], right), lines[:, 3]])


def _symbol_px(frame: Frame, drawing: Drawing) -> float:
    """Return how large symbols can be without touching the next inspection's; never too small to be told apart."""
    days = drawing.days
    most = SYMBOL_PX if len(drawing.styles) <= FEW_LINES else SYMBOL_PX - 1.5
    if len(days) < 2:
        return most
    apart = float(np.median(np.diff(days))) * frame.transform.m11()
    return float(round(min(most, max(5.0, apart * 0.8))))


def _aside_px(frame: Frame, drawing: Drawing, size: float) -> float:
    """Return how far apart points in a row can be without coming near another inspection's."""
    furthest = float(np.abs(drawing.strokes.aside).max(initial=0.0))
    if not furthest:
        return 0.0
    days = drawing.days
    apart = float(np.diff(days).min()) * frame.transform.m11() if len(days) > 1 else frame.area.width() / 2
    return min(size + 1, 0.4 * apart / furthest)


def _draw_band(painter: QPainter, frame: Frame, band: Band, style: LineStyle, scheme: Scheme) -> None:
    ground = style.colour(scheme)
    ground.setAlphaF(0.22)
    painter.fillPath(frame.transform.map(band.ground), QBrush(ground))
    rim = style.colour(scheme)
    rim.setAlphaF(0.6)
    painter.setPen(QPen(rim, 1))
    draw_lines(painter, frame.lines(band.rims, np.full(len(band.rims), band.row)))


def _draw_flag(painter: QPainter, x: float, area: QRectF, scheme: Scheme) -> None:
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(scheme.accent))
    top = area.top()
    painter.drawPolygon([QPointF(x - 6, top), QPointF(x + 6, top), QPointF(x, top + 8)])
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
