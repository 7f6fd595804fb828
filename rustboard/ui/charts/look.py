"""What every picture is painted with: inks of the scheme, the font, and how texts are fitted."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPen, QPolygonF

from rustboard.ui.theme import Scheme

LEFT: Final = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
RIGHT: Final = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
CENTRE: Final = Qt.AlignmentFlag.AlignCenter

MARKS: Final = ("disc", "square", "diamond", "triangle", "cross", "ring", "plus", "wedge")
"""Shapes that tell groups apart beside their inks."""


@dataclass(frozen=True)
class Look:
    """How a picture is painted.

    Attributes:
        scheme: its inks. font: of its texts.
    """

    scheme: Scheme
    font: QFont

    @property
    def line_height(self) -> float:
        """Height of a line of text in px."""
        return QFontMetricsF(self.font).height()

    @property
    def unit(self) -> float:
        """A quarter of a line: margins and marks are measured in it."""
        return self.line_height / 4

    def bold(self) -> QFont:
        """Return the font for what matters most."""
        found = QFont(self.font)
        found.setWeight(QFont.Weight.DemiBold)
        return found

    def width_of(self, text: str, *, bold: bool = False) -> float:
        """Return the width of a text in px."""
        return QFontMetricsF(self.bold() if bold else self.font).horizontalAdvance(text)

    def elided(self, text: str, width: float, *, bold: bool = False) -> str:
        """Return a text cut short with an ellipsis where it is too long."""
        metrics = QFontMetricsF(self.bold() if bold else self.font)
        return metrics.elidedText(text, Qt.TextElideMode.ElideRight, width)

    def ink(self, number: int) -> QColor:
        """Return the ink of the group with this number; inks begin anew when all are used up."""
        return QColor(self.scheme.series[number % len(self.scheme.series)])

    def pen(self, colour: QColor | str, width: float = 1.0, style: Qt.PenStyle = Qt.PenStyle.SolidLine) -> QPen:
        """Return a pen; ``width`` is times the scheme's own."""
        found = QPen(QColor(colour), width * self.scheme.line_width)
        found.setStyle(style)
        found.setCapStyle(Qt.PenCapStyle.FlatCap)
        return found

    def grid_pen(self) -> QPen:
        """Return the pen for lines that only guide the eye."""
        faint = QColor(self.scheme.line)
        faint.setAlpha(130)
        return self.pen(faint, 0.6)

    def write(
        self,
        painter: QPainter,
        rect: QRectF,
        text: str,
        flags: Qt.AlignmentFlag = LEFT,
        *,
        colour: str | QColor | None = None,
        bold: bool = False,
    ) -> None:
        """Write a text into a rectangle, cut short where it is too long."""
        painter.setFont(self.bold() if bold else self.font)
        painter.setPen(QColor(colour or self.scheme.text))
        painter.drawText(rect, int(flags), self.elided(text, rect.width() + 0.5, bold=bold))

    def mark(
        self, painter: QPainter, at: QPointF, shape: str, size: float, colour: QColor, *, hollow: bool = False
    ) -> None:
        """Paint a mark of half width ``size``."""
        painter.setPen(self.pen(colour, 1.4))
        painter.setBrush(Qt.BrushStyle.NoBrush if hollow or shape == "ring" else colour)
        x, y = at.x(), at.y()
        match shape:
            case "disc" | "ring":
                painter.drawEllipse(at, size, size)
            case "square":
                painter.drawRect(QRectF(x - size * 0.9, y - size * 0.9, size * 1.8, size * 1.8))
            case "cross" | "plus":
                tilt = size if shape == "cross" else 0.0
                painter.setPen(self.pen(colour, 2.2))
                painter.drawLine(QPointF(x - size, y - tilt), QPointF(x + size, y + tilt))
                painter.drawLine(QPointF(x - tilt, y + size), QPointF(x + tilt, y - size))
            case _:
                painter.drawPolygon(_polygon(shape, x, y, size))
        painter.setBrush(Qt.BrushStyle.NoBrush)


def _polygon(shape: str, x: float, y: float, size: float) -> QPolygonF:
    corners = {
        "diamond": ((0.0, -1.25), (1.25, 0.0), (0.0, 1.25), (-1.25, 0.0)),
        "triangle": ((0.0, -1.15), (1.1, 0.95), (-1.1, 0.95)),
        "wedge": ((0.0, 1.15), (1.1, -0.95), (-1.1, -0.95)),
    }[shape]
    return QPolygonF([QPointF(x + size * across, y + size * down) for across, down in corners])


def spread_apart(wanted: list[float], height: float, low: float, high: float) -> list[float]:
    """Return places for labels near those wanted, none nearer than ``height`` to another.

    Args:
        wanted: middles of the labels, in any order.
        height: of a label.
        low: least middle, kept to where there is room.
        high: greatest middle.
    """
    order = sorted(range(len(wanted)), key=lambda each: wanted[each])
    found = list(wanted)
    before = low - height
    for each in order:
        found[each] = before = max(found[each], before + height)
    limit = high
    for each in reversed(order):
        found[each] = limit = min(found[each], limit)
        limit -= height
    return found
