"""Painting shapes over the board: quiet ones, the chosen one with its handles, the strip that does not count."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPainterPath, QPainterPathStroker, QPen

from rustboard.board.model import Outline
from rustboard.ui.outlines.drawing import Drawing
from rustboard.ui.outlines.handles import handle_points, knob_at, room_px
from rustboard.ui.outlines.parts import Part
from rustboard.ui.outlines.shapes import ShapeKind, centre_of
from rustboard.ui.zooming.ink import closed_path, handle, stroke, tag
from rustboard.ui.zooming.magnifier import paint_magnifier
from rustboard.ui.zooming.view import ZoomView

_COUPON_INK: Final = "#7fe3ff"
_AREA_INK: Final = "#ff9ad5"
_CARD_INK: Final = "#ffffff"
_CHOSEN_INK: Final = "#ffd23f"
_SMALL_PX: Final = 60.0
_INKS: Final = {"outline": _COUPON_INK, "area": _AREA_INK, "card": _CARD_INK}


class ShapesView(ZoomView):
    """A view that holds shapes, one of them chosen; what it does with them is told by whoever inherits."""

    shapes: dict[Part, Outline]
    chosen: Part | None
    point: int
    editable: bool

    def outline(self) -> Outline:
        """Return the chosen shape."""
        raise NotImplementedError

    def tool(self) -> ShapeKind | None:
        """Return what is drawn with."""
        raise NotImplementedError


class ShapesPainter:
    """Paints what a view of shapes holds.

    Attributes:
        names: what to write beside each part. margin_mm: strip along every outline that does not count.
        size_mm: of the board. lines: between positions: places across and down.
    """

    def __init__(self) -> None:
        """Start without names and margin."""
        self.names: dict[Part, str] = {}
        self.margin_mm = 0.0
        self.size_mm = (0.0, 0.0)
        self.lines: tuple[tuple[float, ...], tuple[float, ...]] = ((), ())

    def paint(self, painter: QPainter, view: ShapesView, area: QRectF) -> None:
        """Paint all shapes."""
        self._paint_board(painter, view)
        for part, outline in view.shapes.items():
            if part != view.chosen:
                self._paint_quiet(painter, view, part, outline)
        for part, outline in view.shapes.items():
            # The chosen one is named beside the board, and its handles stand where its name would.
            if part != view.chosen and part.kind != "area":
                self._paint_name(painter, view, part, outline, area)
        chosen = view.outline()
        if view.chosen is not None and chosen:
            self._paint_chosen(painter, view, chosen)

    def _paint_name(self, painter: QPainter, view: ZoomView, part: Part, outline: Outline, area: QRectF) -> None:
        points = [view.to_widget(*each) for each in outline]
        left, top = min(each.x() for each in points), min(each.y() for each in points)
        right, bottom = max(each.x() for each in points), max(each.y() for each in points)
        seen = QRectF(left, top, right - left, bottom - top) & area
        name = self.names.get(part, "")
        height = painter.fontMetrics().height() + 14
        if name and seen.height() > height * 1.5 and seen.width() > painter.fontMetrics().horizontalAdvance(name):
            tag(painter, QPointF(seen.left() - 10, seen.top() + height), name, seen)

    def _paint_board(self, painter: QPainter, view: ZoomView) -> None:
        wide, high = self.size_mm
        painter.setOpacity(0.5)
        for x in self.lines[0]:
            self._line(painter, view, (x, 0.0), (x, high))
        for y in self.lines[1]:
            self._line(painter, view, (0.0, y), (wide, y))
        painter.setOpacity(1.0)
        edge = closed_path([view.to_widget(*each) for each in ((0, 0), (wide, 0), (wide, high), (0, high))])
        stroke(painter, edge, _CARD_INK, 1.0)

    def _line(self, painter: QPainter, view: ZoomView, start: tuple[float, float], end: tuple[float, float]) -> None:
        path = QPainterPath(view.to_widget(*start))
        path.lineTo(view.to_widget(*end))
        stroke(painter, path, _CARD_INK, 0.8, Qt.PenStyle.DotLine)

    def _paint_quiet(self, painter: QPainter, view: ZoomView, part: Part, outline: Outline) -> None:
        path = _path(view, outline)
        if part.kind == "area":
            _hatch(painter, path, _AREA_INK)
        stroke(painter, path, _INKS[part.kind], 1.6)

    def _paint_chosen(self, painter: QPainter, view: ShapesView, outline: Outline) -> None:
        path = _path(view, outline)
        chosen = view.chosen
        if chosen is not None and chosen.kind == "area":
            _hatch(painter, path, _AREA_INK)
        elif chosen is not None and chosen.kind == "outline" and self.margin_mm > 0:
            strip = QPainterPathStroker()
            strip.setWidth(2 * self.margin_mm * view.px_per_unit())
            strip.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
            _hatch(painter, strip.createStroke(path).intersected(path), _CHOSEN_INK)
        stroke(painter, path, _CHOSEN_INK, 2.2)
        if not view.editable or view.tool() is not None:
            return
        knob = knob_at(view, outline)
        if knob is not None:
            x, y = centre_of(outline)
            stem = QPainterPath(view.to_widget(x, y) * 0.15 + knob * 0.85)
            stem.lineTo(knob)
            stroke(painter, stem, _CHOSEN_INK, 1.2)
            handle(painter, knob, _CARD_INK)
        small = room_px(view, outline) < _SMALL_PX
        for number in handle_points(outline):
            here = number == view.point and view.hasFocus()
            handle(painter, view.to_widget(*outline[number]), _CHOSEN_INK, chosen=here, square=True, small=small)
        if view.point < 0 and view.hasFocus():
            x, y = centre_of(outline)
            handle(painter, view.to_widget(x, y), _CHOSEN_INK, chosen=not small, small=small)

    def paint_drawing(self, painter: QPainter, view: ZoomView, drawing: Drawing) -> None:
        """Paint a shape on its way."""
        points = [view.to_widget(*each) for each in drawing.seen()]
        if not points:
            return
        path = closed_path(points) if drawing.kind != "polygon" else QPainterPath(points[0])
        for each in points[1:] if drawing.kind == "polygon" else []:
            path.lineTo(each)
        stroke(painter, path, _CHOSEN_INK, 2.0, Qt.PenStyle.DashLine)
        if drawing.kind == "polygon":
            for number, each in enumerate(points):
                handle(painter, each, _CHOSEN_INK, chosen=number == 0 and len(points) >= 3, square=True)

    def paint_nearer(self, painter: QPainter, view: ZoomView, place: tuple[float, float]) -> None:
        """Paint the magnifier over the point that is being dragged."""
        paint_magnifier(painter, view, QPointF(*place))


def _path(view: ZoomView, outline: Outline) -> QPainterPath:
    return closed_path([view.to_widget(*each) for each in outline])


def _hatch(painter: QPainter, path: QPainterPath, colour: str) -> None:
    ink = QColor(colour)
    ink.setAlpha(150)
    painter.setPen(QPen(Qt.PenStyle.NoPen))
    painter.setBrush(QBrush(ink, Qt.BrushStyle.BDiagPattern))
    painter.drawPath(path)
