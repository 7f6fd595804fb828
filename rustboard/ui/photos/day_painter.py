"""Painting one day of the strip: picture, day, date, and how far measuring it has come."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPen

from rustboard.ui.photos.photo_words import Day, PhotoState, say
from rustboard.ui.photos.thumbnails import Thumbnails
from rustboard.ui.theme import Scheme

PICTURE = 62
PAD = 4.0


@dataclass(frozen=True, slots=True)
class DayMarks:
    """How a day stands out: in view, compared with the one in view, under the keyboard."""

    here: bool
    compared: bool
    focused: bool


class DayPainter:
    """Paints days in one set of colours."""

    def __init__(self, thumbnails: Thumbnails, scheme: Scheme, font: QFont, *, compact: bool) -> None:
        """Remember the colours; ``compact`` leaves the picture out."""
        self._thumbnails, self._scheme, self._font, self._compact = thumbnails, scheme, font, compact

    def paint(self, painter: QPainter, area: QRectF, day: Day, marks: DayMarks) -> None:
        """Paint a day into an area."""
        scheme, line = self._scheme, QFontMetricsF(self._font).height()
        here, compared = marks.here, marks.compared
        colour = scheme.accent if here or compared else scheme.line
        pen = QPen(QColor(colour), 2.5 if here else 2 if compared else scheme.line_width)
        if compared and not here:
            pen.setStyle(Qt.PenStyle.DashLine)
        painter.setPen(pen)
        painter.setBrush(QColor(scheme.base))
        painter.drawRoundedRect(area.adjusted(1.5, 1.5, -1.5, -1.5), 6, 6)
        inner = area.adjusted(PAD + 1, PAD, -PAD - 1, -PAD)
        top = inner.top()
        if not self._compact:
            self._paint_picture(painter, QRectF(inner.left(), top, inner.width(), PICTURE), day)
            top += PICTURE + 1
        self._paint_words(painter, QRectF(inner.left(), top, inner.width(), line), day)
        self._paint_state(painter, QRectF(inner.left(), top + line, inner.width(), line * 1.1), day)
        if here and marks.focused:
            painter.setPen(QPen(QColor(scheme.text), 1, Qt.PenStyle.DotLine))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(area.adjusted(4, 4, -4, -4))

    def _paint_picture(self, painter: QPainter, area: QRectF, day: Day) -> None:
        image = self._thumbnails.image(day.photo)
        if image is None:
            painter.setPen(QColor(self._scheme.muted))
            words = say("no picture") if self._thumbnails.is_broken(day.photo) else "…"
            painter.drawText(area, Qt.AlignmentFlag.AlignCenter, words)
            return
        size = image.size().toSizeF().scaled(area.size(), Qt.AspectRatioMode.KeepAspectRatio)
        target = QRectF(QPointF(), size)
        target.moveCenter(area.center())
        painter.drawImage(target, image)

    def _paint_words(self, painter: QPainter, area: QRectF, day: Day) -> None:
        bold = bold_of(self._font)
        painter.setFont(bold)
        painter.setPen(QColor(self._scheme.text))
        painter.drawText(area, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, day.day)
        used = QFontMetricsF(bold).horizontalAdvance(day.day) + 5
        painter.setFont(self._font)
        painter.setPen(QColor(self._scheme.muted))
        flags = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
        painter.drawText(area.adjusted(used, 0, 0, 0), flags, day.date)

    def _paint_state(self, painter: QPainter, area: QRectF, day: Day) -> None:
        state = day.state
        ink = self._scheme.error_text if state in ("unplaced", "missing") else self._scheme.text
        sign = QRectF(area.left(), area.center().y() - 5, 10, 10)
        paint_sign(painter, sign, state, QColor(ink))
        painter.setPen(QColor(ink if state != "measured" else self._scheme.muted))
        words = area.adjusted(15, 0, 0, 0)
        metrics = QFontMetricsF(self._font)
        text = metrics.elidedText(day.state_words(), Qt.TextElideMode.ElideRight, words.width())
        painter.drawText(words, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, text)


def bold_of(font: QFont) -> QFont:
    """Return a font, bold."""
    bold = QFont(font)
    bold.setWeight(QFont.Weight.Bold)
    return bold


def paint_sign(painter: QPainter, area: QRectF, state: PhotoState, ink: QColor) -> None:
    """Paint the sign of a state: a tick, a ring, a cross, a dashed ring."""
    pen = QPen(ink, 1.8)
    pen.setCapStyle(Qt.PenCapStyle.RoundCap)
    if state == "unsearched":
        pen.setStyle(Qt.PenStyle.DotLine)
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    if state == "measured":
        corner = QPointF(area.left() + area.width() * 0.38, area.bottom() - 1)
        painter.drawLine(QPointF(area.left(), area.center().y() + 1), corner)
        painter.drawLine(corner, QPointF(area.right(), area.top() + 1))
    elif state in ("unplaced", "missing"):
        painter.drawLine(area.topLeft() + QPointF(1, 1), area.bottomRight() - QPointF(1, 1))
        painter.drawLine(area.topRight() + QPointF(-1, 1), area.bottomLeft() + QPointF(1, -1))
    else:
        painter.drawEllipse(area.adjusted(1, 1, -1, -1))
