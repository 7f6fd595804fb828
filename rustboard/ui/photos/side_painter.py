"""Painting what says which day is seen, and the divider between two days."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPen, QPolygonF

from rustboard.ui.theme import Scheme


def paint_caption(painter: QPainter, pane: QRectF, caption: str, scheme: Scheme, *, right: bool) -> None:
    """Paint which day it is into an upper corner of a pane."""
    if not caption:
        return
    metrics = QFontMetricsF(painter.font())
    text = metrics.elidedText(caption, Qt.TextElideMode.ElideRight, pane.width() - 20)
    tag = QRectF(0, 0, metrics.horizontalAdvance(text) + 12, metrics.height() + 4)
    tag.moveTopLeft(pane.topLeft() + QPointF(4, 4))
    if right:
        tag.moveRight(pane.right() - 4)
    painter.setPen(QPen(QColor(scheme.line), scheme.line_width))
    painter.setBrush(QColor(scheme.base))
    painter.drawRoundedRect(tag, 4, 4)
    painter.setPen(QColor(scheme.text))
    painter.drawText(tag, Qt.AlignmentFlag.AlignCenter, text)


def paint_divider(painter: QPainter, x: float, height: float, grip: float, scheme: Scheme) -> None:
    """Paint the divider with a grip of some px to drag it by."""
    for colour, width in ((scheme.base, 4), (scheme.accent, 2)):
        painter.setPen(QPen(QColor(colour), width))
        painter.drawLine(QPointF(x, 0), QPointF(x, height))
    y = height / 2
    painter.setBrush(QColor(scheme.accent))
    painter.setPen(QPen(QColor(scheme.base), 2))
    painter.drawEllipse(QPointF(x, y), grip, grip)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(scheme.on_accent))
    for way in (-1, 1):
        tip, foot, half = x + way * grip * 0.7, x + way * grip * 0.2, grip * 0.35
        painter.drawPolygon(QPolygonF([QPointF(tip, y), QPointF(foot, y - half), QPointF(foot, y + half)]))
