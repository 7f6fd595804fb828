"""A coupon's outline as a shape to paint."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainterPath, QPolygonF


def outline_path(outline: tuple[tuple[float, float], ...], area: QRectF) -> QPainterPath:
    """Return a coupon's outline scaled into an area; an upright plate where none is given."""
    path = QPainterPath()
    points = outline or ((0.0, 0.0), (1.0, 0.0), (1.0, 2.0), (0.0, 2.0))
    xs, ys = [x for x, _ in points], [y for _, y in points]
    width, height = max(max(xs) - min(xs), 1e-6), max(max(ys) - min(ys), 1e-6)
    scale = min(area.width() / width, area.height() / height)
    left = area.center().x() - width * scale / 2
    top = area.center().y() - height * scale / 2
    polygon = QPolygonF([QPointF(left + (x - min(xs)) * scale, top + (y - min(ys)) * scale) for x, y in points])
    path.addPolygon(polygon)
    path.closeSubpath()
    return path
