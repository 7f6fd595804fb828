"""Draws another board's histories over the lines of the open one: dashed, with hollow points."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen, QTransform
from PySide6.QtWidgets import QGraphicsItem, QStyleOptionGraphicsItem, QWidget

from rustboard.board.grade import GRADES
from rustboard.board.series import BandSeries

_DASHES: Final = (5.0, 3.0)
_POINT_PX: Final = 3.5
_LOWER_PX: Final = 3.0
"""How far below its grade it is drawn, so that it hides no line of the open board."""


@dataclass(frozen=True, slots=True)
class GuestLine:
    """One history.

    Attributes:
        series: of the replicates. places: of all inspections of its board on the axis.
        ink: as the line it belongs to.
    """

    series: BandSeries
    places: tuple[float, ...]
    ink: QColor

    def point(self, at: int, grade: float | None = None) -> QPointF:
        """Return where a point lies, in the axis' own units and grades."""
        found = self.series.points[at]
        return QPointF(max(self.places[found.order], 0.0), found.median if grade is None else grade)


class GuestItem(QGraphicsItem):
    """The lines of the other board."""

    def __init__(self) -> None:
        """Build it empty."""
        super().__init__()
        self.lines: tuple[GuestLine, ...] = ()
        self._ground = QColor()
        self._bounds = QRectF()

    def show_lines(self, lines: Sequence[GuestLine], ground: QColor) -> None:
        """Draw these from now on; hollow points are filled with ``ground``."""
        self.prepareGeometryChange()
        self.lines, self._ground = tuple(lines), ground
        furthest = max((line.point(at).x() for line in lines for at in range(len(line.series.points))), default=0.0)
        self._bounds = QRectF(0.0, GRADES[0] - 1.0, furthest, GRADES[-1] + 2.0)
        self.update()

    def boundingRect(self) -> QRectF:
        """Return everything that can come into view; Qt calls this."""
        return self._bounds

    def paint(self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None = None) -> None:
        """Draw one frame; Qt calls this."""
        to_px = painter.worldTransform() * QTransform.fromTranslate(0, _LOWER_PX)
        painter.save()
        painter.setWorldTransform(QTransform())
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
        for line in self.lines:
            self._draw(painter, to_px, line)
        painter.restore()

    def _draw(self, painter: QPainter, to_px: QTransform, line: GuestLine) -> None:
        pen = QPen(line.ink, 1.8)
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
        pen.setDashPattern(_DASHES)
        painter.setPen(pen)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for first, last in line.series.runs:
            path = QPainterPath(to_px.map(line.point(first)))
            for at in range(first + 1, last + 1):
                path.lineTo(to_px.map(line.point(at, line.series.points[at - 1].median)))
                path.lineTo(to_px.map(line.point(at)))
            painter.drawPath(path)
        painter.setPen(QPen(line.ink, 1.5))
        painter.setBrush(self._ground)
        for at in range(len(line.series.points)):
            painter.drawEllipse(to_px.map(line.point(at)), _POINT_PX, _POINT_PX)
