"""A magnifier: what is under the point that is being moved, large, where the finger does not hide it."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen, QTransform

from rustboard.ui.zooming.view import ZoomView

SIDE_PX: Final = 170.0
_TIMES: Final = 4.0
_MOST_PX_A_PIXEL: Final = 12.0
_RIM_PX: Final = 12.0


def paint_magnifier(painter: QPainter, view: ZoomView, at: QPointF) -> None:
    """Paint the picture around a place of it (its units) enlarged, in a corner away from the place."""
    if not view.has_image():
        return
    side = min(SIDE_PX, view.width() * 0.4, view.height() * 0.4)
    where = view.to_widget(at.x(), at.y())
    box = _box(view, where, side)
    # Nearer than the view, but no nearer than where single pixels are plain to see.
    pixel = view.extent().width() / max(1, view.image().width())
    scale = min(view.px_per_unit() * _TIMES, max(_MOST_PX_A_PIXEL / pixel, view.px_per_unit()))
    painter.save()
    frame = QPainterPath()
    frame.addRoundedRect(box, 8, 8)
    painter.fillPath(frame, QColor(view.scheme.tile))
    painter.setClipPath(frame)
    painter.save()
    turned = QTransform().translate(box.center().x(), box.center().y()).rotate(90 * view.turned())
    painter.setTransform(turned.scale(scale, scale).translate(-at.x(), -at.y()), True)
    half = side / scale
    source = QRectF(at.x() - half, at.y() - half, 2 * half, 2 * half) & QRectF(QPointF(0, 0), view.extent())
    per_unit = 1 / pixel
    if not source.isEmpty():
        pixels = QRectF(source.topLeft() * per_unit, source.size() * per_unit)
        painter.drawImage(source, view.image(), pixels)
    painter.restore()
    _paint_cross(painter, box)
    painter.setClipping(False)
    painter.setPen(QPen(QColor(view.scheme.text), 2))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawPath(frame)
    painter.restore()


def _box(view: ZoomView, where: QPointF, side: float) -> QRectF:
    left = where.x() > view.width() / 2
    top = where.y() > view.height() / 2 or where.y() > side + 60
    x = _RIM_PX if left else view.width() - side - _RIM_PX
    y = _RIM_PX if top else view.height() - side - _RIM_PX
    return QRectF(x, y, side, side)


def _paint_cross(painter: QPainter, box: QRectF) -> None:
    middle, gap, reach = box.center(), 5.0, 26.0
    for colour, width in (("#000000", 3.0), ("#ffffff", 1.2)):
        painter.setPen(QPen(QColor(colour), width))
        for x, y in ((1, 0), (-1, 0), (0, 1), (0, -1)):
            painter.drawLine(middle + QPointF(x * gap, y * gap), middle + QPointF(x * reach, y * reach))
