"""Draws the shapes of a page with a painter whose unit is a fortieth of a millimetre."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QFont, QFontMetricsF, QPainter, QPainterPath, QPen, QPolygonF
from PySide6.QtWidgets import QApplication

from rustboard.report.paper.label_code import code_rows
from rustboard.report.paper.shapes import (
    SMALLEST_WORDS_MM,
    Area,
    Box,
    Cells,
    Code,
    Line,
    Polygon,
    Ring,
    Shape,
    Window,
    Words,
)

UNITS_PER_MM: Final = 40
"""Letters have whole heights in these units, so that they are of one width on every device."""

_DASH_MM: Final = 1.6
_LINE_TO_LETTER: Final = 0.8
"""Of the height of a line of text, what the size of its font is."""

_SHRINK: Final = 0.94
_READABLE: Final = 0.6
"""Of the wanted size: what a line is cut at that would not fit even at the smallest."""


def draw_shapes(painter: QPainter, shapes: Iterable[Shape]) -> None:
    """Draw shapes in order; the painter's unit is 1/40 mm, its origin the paper's corner."""
    for shape in shapes:
        match shape:
            case Words():
                _draw_words(painter, shape)
            case Window():
                _draw_window(painter, shape)
            case Cells():
                _draw_cells(painter, shape)
            case Code():
                rows = code_rows(shape.text)
                _draw_cells(painter, Cells(shape.area.left, shape.area.top, shape.area.width / len(rows), rows))
            case _:
                _draw_figure(painter, shape)


def _draw_figure(painter: QPainter, shape: Line | Box | Ring | Polygon) -> None:
    dashed = isinstance(shape, Line | Box) and shape.dashed
    painter.setPen(_pen(shape.line_mm, shape.ink, dashed=dashed))
    fill = "" if isinstance(shape, Line | Ring) else shape.fill
    painter.setBrush(QBrush(QColor(fill)) if fill else Qt.BrushStyle.NoBrush)
    match shape:
        case Line():
            painter.drawLine(QLineF(_point(shape.x, shape.y), _point(shape.to_x, shape.to_y)))
        case Box():
            painter.drawRect(_rect(shape.area))
        case Ring():
            painter.drawEllipse(_point(shape.x, shape.y), shape.radius * UNITS_PER_MM, shape.radius * UNITS_PER_MM)
        case Polygon():
            painter.drawPolygon(QPolygonF([_point(x, y) for x, y in shape.points]))


def _point(x: float, y: float) -> QPointF:
    return QPointF(x * UNITS_PER_MM, y * UNITS_PER_MM)


def _rect(area: Area) -> QRectF:
    return QRectF(*(value * UNITS_PER_MM for value in area))


def _pen(line_mm: float, ink: str, *, dashed: bool) -> QPen | Qt.PenStyle:
    if not line_mm:
        return Qt.PenStyle.NoPen
    pen = QPen(QColor(ink), line_mm * UNITS_PER_MM)
    pen.setCapStyle(Qt.PenCapStyle.FlatCap)  # a line is as long as it says
    pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
    if dashed:
        pen.setDashPattern([_DASH_MM / line_mm, _DASH_MM / line_mm])
    return pen


def _draw_window(painter: QPainter, window: Window) -> None:
    painter.save()
    painter.setClipRect(_rect(window.area), Qt.ClipOperation.IntersectClip)
    draw_shapes(painter, window.shapes)
    painter.restore()


def _draw_cells(painter: QPainter, cells: Cells) -> None:
    """Draw all dark squares as one figure: drawn one by one, they would show seams."""
    side = cells.cell_mm * UNITS_PER_MM
    left, top = cells.left * UNITS_PER_MM, cells.top * UNITS_PER_MM
    path = QPainterPath()
    path.setFillRule(Qt.FillRule.WindingFill)
    for number, row in enumerate(cells.rows):
        for start, length in _runs(row):
            path.addRect(QRectF(left + start * side, top + number * side, length * side, side))
    painter.fillPath(path, QBrush(QColor("#000000")))


def _runs(row: str) -> Iterable[tuple[int, int]]:
    """Yield start and length of every run of ``1``."""
    start = row.find("1")
    while start >= 0:
        end = row.find("0", start)
        end = len(row) if end < 0 else end
        yield start, end - start
        start = row.find("1", end)


_SIDES: Final = {
    "left": Qt.AlignmentFlag.AlignLeft,
    "middle": Qt.AlignmentFlag.AlignHCenter,
    "right": Qt.AlignmentFlag.AlignRight,
}


def _draw_words(painter: QPainter, words: Words) -> None:
    if not words.text.strip() or words.area.width <= 0 or words.area.height <= 0:
        return
    painter.save()
    # Marks above and below a letter may be stacked without end.
    painter.setClipRect(_rect(words.area), Qt.ClipOperation.IntersectClip)
    painter.setPen(QColor(words.ink))
    rect = _turned_rect(painter, words)
    font, text = fitted(words, rect)
    flags = _SIDES[words.side] | Qt.AlignmentFlag.AlignAbsolute
    flags |= Qt.AlignmentFlag.AlignTop if words.wrapped else Qt.AlignmentFlag.AlignVCenter
    wrap = Qt.TextFlag.TextWordWrap if words.wrapped else Qt.TextFlag.TextSingleLine
    painter.setFont(font)
    painter.drawText(rect, int(flags) | int(wrap), text)
    painter.restore()


def _turned_rect(painter: QPainter, words: Words) -> QRectF:
    """Turn the painter about the middle of the area; return the area as it is seen from there."""
    rect = _rect(words.area)
    if not words.turned:
        return rect
    painter.translate(rect.center())
    painter.rotate(words.turned)
    return QRectF(-rect.height() / 2, -rect.width() / 2, rect.height(), rect.width())


def fitted(words: Words, rect: QRectF) -> tuple[QFont, str]:
    """Return the font and the text with which words fit into a rectangle: smaller, and if need be cut."""
    least = min(words.size_mm, SMALLEST_WORDS_MM)
    size_mm = min(words.size_mm, rect.height() / UNITS_PER_MM)
    while True:
        font = _font(size_mm, bold=words.bold)
        metrics = QFontMetricsF(font)
        if _fits(words, metrics, rect):
            return font, words.text
        if size_mm <= least:
            return _cut_down(words, rect, least)
        size_mm = max(least, size_mm * _SHRINK)


def _cut_down(words: Words, rect: QRectF, least_mm: float) -> tuple[QFont, str]:
    """Return the start of a text that does not fit even when it is small; one line is then cut at a readable size."""
    readable = min(words.size_mm, rect.height() / UNITS_PER_MM) * _READABLE
    font = _font(least_mm if words.wrapped else max(least_mm, readable), bold=words.bold)
    return font, _cut(words, QFontMetricsF(font), rect)


def _font(size_mm: float, *, bold: bool) -> QFont:
    font = QFont(QApplication.font().family())
    font.setPixelSize(max(1, round(size_mm * _LINE_TO_LETTER * UNITS_PER_MM)))
    font.setWeight(QFont.Weight.Bold if bold else QFont.Weight.Normal)
    font.setHintingPreference(QFont.HintingPreference.PreferNoHinting)
    return font


def _fits(words: Words, metrics: QFontMetricsF, rect: QRectF) -> bool:
    if not words.wrapped:
        return metrics.horizontalAdvance(words.text) <= rect.width()
    return _wrapped_height(words.text, metrics, rect) <= rect.height()


def _wrapped_height(text: str, metrics: QFontMetricsF, rect: QRectF) -> float:
    wanted = metrics.boundingRect(QRectF(0, 0, rect.width(), 1e6), int(Qt.TextFlag.TextWordWrap), text)
    return wanted.height()


def _cut(words: Words, metrics: QFontMetricsF, rect: QRectF) -> str:
    if not words.wrapped:
        return metrics.elidedText(words.text, Qt.TextElideMode.ElideRight, rect.width())
    low, high = 0, len(words.text)
    while low < high:
        middle = (low + high + 1) // 2
        if _wrapped_height(words.text[:middle] + "…", metrics, rect) <= rect.height():
            low = middle
        else:
            high = middle - 1
    return words.text[:low].rstrip() + "…"
