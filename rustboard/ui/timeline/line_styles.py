"""How tracks are told apart: ink, dashes and the shape of the points, so that colour is never the only cue."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen, QPixmap, QPolygonF

from rustboard.ui.theme import Scheme

INKS: Final = 8
DASHES: Final[tuple[tuple[float, ...], ...]] = ((), (4.0, 3.0), (1.5, 2.5), (7.0, 2.5, 1.5, 2.5))
"""Lengths in line widths; the first is a solid line."""

MOST_TOLD_APART: Final = INKS * len(DASHES)
SYMBOL_PX: Final = 9.0
HOLLOW_RIM_PX: Final = 1.6

_CORNERS: Final[tuple[tuple[tuple[float, float], ...], ...]] = (
    ((-0.8, -0.8), (0.8, -0.8), (0.8, 0.8), (-0.8, 0.8)),  # square
    ((0, -1.1), (1.05, 0.8), (-1.05, 0.8)),  # triangle up
    ((0, -1.15), (1.15, 0), (0, 1.15), (-1.15, 0)),  # diamond
    ((0, 1.1), (1.05, -0.8), (-1.05, -0.8)),  # triangle down
    ((-1.1, 0), (0.8, -1.05), (0.8, 1.05)),  # triangle left
    ((1.1, 0), (-0.8, -1.05), (-0.8, 1.05)),  # triangle right
    (  # cross
        (-0.35, -1.05), (0.35, -1.05), (0.35, -0.35), (1.05, -0.35), (1.05, 0.35), (0.35, 0.35),
        (0.35, 1.05), (-0.35, 1.05), (-0.35, 0.35), (-1.05, 0.35), (-1.05, -0.35), (-0.35, -0.35),
    ),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class LineStyle:
    """How one track is drawn.

    Attributes:
        ink: number in `Scheme.series`. dash: number in `DASHES`. symbol: shape of its points, 0 to 7.
        width: px of the line.
    """

    ink: int
    dash: int
    symbol: int
    width: float

    def colour(self, scheme: Scheme) -> QColor:
        """Return the ink."""
        return QColor(scheme.series[self.ink % len(scheme.series)])

    def pen(self, scheme: Scheme, *, wider: float = 0.0) -> QPen:
        """Return the pen of the line; ``wider`` px for one that is pointed at."""
        solid = not self.dash
        pen = QPen(self.colour(scheme), self.width + wider)
        # A square end fills the corner of a step; dashes need flat ends to stay apart.
        pen.setCapStyle(Qt.PenCapStyle.SquareCap if solid else Qt.PenCapStyle.FlatCap)
        if not solid:
            pen.setDashPattern(DASHES[self.dash])
        return pen

    @property
    def dash_period(self) -> float:
        """Px after which the dashes repeat; 0 for a solid line."""
        return sum(DASHES[self.dash]) * self.width


def line_style(number: int, count: int, scheme: Scheme) -> LineStyle:
    """Return the look of track ``number`` of ``count``; beyond `MOST_TOLD_APART` only thin lines in inks."""
    crowd = count > MOST_TOLD_APART
    width = 1.0 if crowd else 2.0 if count <= INKS else 1.5
    extra = scheme.line_width - 1.0
    dash = 0 if crowd else number // INKS % len(DASHES)
    return LineStyle(number % INKS, dash, number % INKS, width + (0.5 if crowd else 1.0) * extra)


def symbol_path(symbol: int, size: float = SYMBOL_PX) -> QPainterPath:
    """Return the outline of a symbol around (0, 0), about ``size`` px across."""
    path = QPainterPath()
    radius = size / 2
    if symbol % INKS == 0:
        path.addEllipse(QRectF(-radius * 0.95, -radius * 0.95, radius * 1.9, radius * 1.9))
        return path
    corners = _CORNERS[symbol % INKS - 1]
    path.addPolygon(QPolygonF([QPointF(x * radius, y * radius) for x, y in corners]))
    path.closeSubpath()
    return path


def draw_symbol(
    painter: QPainter,
    at: QPointF,
    style: LineStyle,
    scheme: Scheme,
    size: float = SYMBOL_PX,
    *,
    hollow: bool = False,
) -> None:
    """Draw a symbol with a rim of the ground's colour that lifts it off the lines; hollow: less is known."""
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    ground, ink = QColor(scheme.base), style.colour(scheme)
    path = symbol_path(style.symbol, size).translated(at)
    painter.setPen(QPen(ground, HOLLOW_RIM_PX + 2 if hollow else 1.5))
    painter.setBrush(ground if hollow else ink)
    painter.drawPath(path)
    if hollow:
        painter.setPen(QPen(ink, HOLLOW_RIM_PX))
        painter.drawPath(path)


def symbol_stamp(
    style: LineStyle, scheme: Scheme, pixel_ratio: float, size: float = SYMBOL_PX, *, hollow: bool = False
) -> QPixmap:
    """Return a symbol as a picture to be stamped at every point; its middle is the point."""
    side = round(size + 6)
    stamp = QPixmap(round(side * pixel_ratio), round(side * pixel_ratio))
    stamp.setDevicePixelRatio(pixel_ratio)
    stamp.fill(Qt.GlobalColor.transparent)
    painter = QPainter(stamp)
    draw_symbol(painter, QPointF(side / 2, side / 2), style, scheme, size, hollow=hollow)
    painter.end()
    return stamp
