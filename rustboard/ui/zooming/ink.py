"""Lines and words that are seen on any picture: a light line on a dark one."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPainterPath, QPen, QPolygonF

HANDLE_PX: Final = 7.0
GRAB_PX: Final = 22.0
"""How near a finger or pointer must come to a point to take hold of it."""

_DARK: Final = "#101418"


def stroke(
    painter: QPainter,
    path: QPainterPath,
    colour: str,
    width: float = 2.0,
    style: Qt.PenStyle = Qt.PenStyle.SolidLine,
) -> None:
    """Stroke a path in a colour, with a dark rim."""
    painter.setBrush(Qt.BrushStyle.NoBrush)
    rim = QColor(_DARK)
    rim.setAlpha(170)
    painter.setPen(QPen(rim, width + 2.4))
    painter.drawPath(path)
    painter.setPen(QPen(QColor(colour), width, style))
    painter.drawPath(path)


def handle(
    painter: QPainter, at: QPointF, colour: str, *, chosen: bool = False, square: bool = False, small: bool = False
) -> None:
    """Paint a point that can be dragged; a ``small`` one where many are close together."""
    radius = (HANDLE_PX / 2 if small else HANDLE_PX) + (3 if chosen else 0)
    painter.setPen(QPen(QColor(_DARK), 2))
    painter.setBrush(QColor(colour))
    if square:
        painter.drawRect(QRectF(at.x() - radius, at.y() - radius, 2 * radius, 2 * radius))
    else:
        painter.drawEllipse(at, radius, radius)
    painter.setBrush(QColor("#ffffff") if chosen else Qt.BrushStyle.NoBrush)
    if chosen:
        painter.drawEllipse(at, 3, 3)


def tag(painter: QPainter, at: QPointF, text: str, area: QRectF) -> None:
    """Write a few words beside a point, inside an area."""
    metrics = QFontMetricsF(painter.font())
    width, height = metrics.horizontalAdvance(text) + 10, metrics.height() + 4
    left = min(max(at.x() + 14, area.left() + 2), max(area.left(), area.right() - width - 2))
    top = min(max(at.y() - height - 10, area.top() + 2), max(area.top(), area.bottom() - height - 2))
    box = QRectF(left, top, width, height)
    ground = QColor(_DARK)
    ground.setAlpha(215)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(ground)
    painter.drawRoundedRect(box, 4, 4)
    painter.setPen(QColor("#ffffff"))
    painter.drawText(box, Qt.AlignmentFlag.AlignCenter, text)


def closed_path(points: list[QPointF]) -> QPainterPath:
    """Return a closed path through points."""
    path = QPainterPath()
    path.addPolygon(QPolygonF(points))
    path.closeSubpath()
    return path
