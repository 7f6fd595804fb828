"""The small history of one coupon, as tiles paint it: steps that break where the coupon was not graded."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen

from rustboard.ui.theme import Scheme


def paint_steps(
    painter: QPainter,
    inner: QRectF,
    history: Iterable[tuple[float, int, bool]],
    *,
    first: float,
    span: float,
    scheme: Scheme,
    line: float,
    dot: float,
) -> None:
    """Paint grades as a step line with 10 at the top and a dot at its end.

    Args:
        painter: where.
        inner: what the line may fill.
        history: place on the clock, grade, and whether an inspection before it was missed.
        first: place at the left edge.
        span: places over the whole width; above 0.
        scheme: colours.
        line: width of the line before the scheme's own.
        dot: radius.
    """
    path = QPainterPath()
    last: QPointF | None = None
    for place, grade, missed in history:
        point = QPointF(
            inner.left() + (place - first) / span * inner.width(), inner.bottom() - grade / 10 * inner.height()
        )
        if last is None or missed:
            path.moveTo(point)
        else:
            path.lineTo(point.x(), last.y())
            path.lineTo(point)
        last = point
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(QColor(scheme.accent), line * scheme.line_width))
    painter.drawPath(path)
    if last is not None:
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(scheme.accent))
        painter.drawEllipse(last, dot, dot)
