"""Small drawn signs for the weather of a day: told apart by shape, whatever the colours."""

from __future__ import annotations

from math import cos, pi, sin

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen, QPolygonF

from rustboard.board.weather import Condition


def paint_sign(painter: QPainter, area: QRectF, condition: Condition, ink: QColor) -> None:
    """Paint the sign of a condition into a square.

    A ring is dry, an open drop dew, a full drop rain, three lines fog, a cross of three lines frost, three dots snow.
    """
    pen = QPen(ink, max(1.2, area.width() / 9))
    pen.setCapStyle(Qt.PenCapStyle.RoundCap)
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    inner = area.adjusted(1.5, 1.5, -1.5, -1.5)
    if condition == "dry":
        painter.drawEllipse(inner)
    elif condition in ("dew", "rain"):
        painter.setBrush(ink if condition == "rain" else Qt.BrushStyle.NoBrush)
        painter.drawPath(_drop(inner))
    elif condition == "fog":
        for part in (0.2, 0.5, 0.8):
            height = inner.top() + inner.height() * part
            painter.drawLine(QPointF(inner.left(), height), QPointF(inner.right(), height))
    elif condition == "frost":
        for turn in range(3):
            reach = QPointF(cos(turn * pi / 3), sin(turn * pi / 3)) * (inner.width() / 2)
            painter.drawLine(inner.center() - reach, inner.center() + reach)
    else:
        painter.setBrush(ink)
        radius = inner.width() / 8
        for x, y in ((0.5, 0.2), (0.2, 0.8), (0.8, 0.8)):
            centre = QPointF(inner.left() + inner.width() * x, inner.top() + inner.height() * y)
            painter.drawEllipse(centre, radius, radius)


def paint_inspection(painter: QPainter, area: QRectF, ink: QColor) -> None:
    """Paint the mark of a day with an inspection: an open square."""
    painter.setPen(QPen(ink, 1.5))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRect(area)


def paint_disturbance(painter: QPainter, area: QRectF, ink: QColor) -> None:
    """Paint the mark of a day on which something happened: a full triangle."""
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(ink)
    painter.drawPolygon(QPolygonF([area.bottomLeft(), area.bottomRight(), QPointF(area.center().x(), area.top())]))


def _drop(area: QRectF) -> QPainterPath:
    path = QPainterPath(QPointF(area.center().x(), area.top()))
    side, low = area.width() * 0.36, area.bottom()
    belly = area.top() + area.height() * 0.62
    path.cubicTo(
        QPointF(area.center().x() + side * 0.4, area.top() + area.height() * 0.3),
        QPointF(area.center().x() + side, belly - area.height() * 0.15),
        QPointF(area.center().x() + side, belly),
    )
    path.cubicTo(
        QPointF(area.center().x() + side, low),
        QPointF(area.center().x() - side, low),
        QPointF(area.center().x() - side, belly),
    )
    path.cubicTo(
        QPointF(area.center().x() - side, belly - area.height() * 0.15),
        QPointF(area.center().x() - side * 0.4, area.top() + area.height() * 0.3),
        QPointF(area.center().x(), area.top()),
    )
    return path
