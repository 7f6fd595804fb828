"""The frame of a picture with two axes: ticks at round numbers, grid lines, titles."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, floor, isfinite, log10
from typing import Final

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainter

from rustboard.ui.charts.look import CENTRE, RIGHT, Look
from rustboard.ui.wording import number

_STEPS: Final = (1.0, 2.0, 2.5, 5.0, 10.0)


@dataclass(frozen=True, slots=True)
class Scale:
    """Values laid out between two places in px; the places may run down as well as up."""

    low: float
    high: float
    start: float
    end: float

    def at(self, value: float) -> float:
        """Return the place of a value; beyond the ends it stays at them."""
        if self.high <= self.low:
            return (self.start + self.end) / 2
        share = min(1.0, max(0.0, (value - self.low) / (self.high - self.low)))
        return self.start + (self.end - self.start) * share


def round_ends(low: float, high: float) -> tuple[float, float]:
    """Return ends at round numbers that hold both; a little room where they are one."""
    if not (isfinite(low) and isfinite(high)):
        return 0.0, 1.0
    if high - low < 1e-9:
        low, high = low - 0.5, high + 0.5
    step = tick_step(low, high, 6)
    return floor(low / step + 1e-9) * step, ceil(high / step - 1e-9) * step


def tick_step(low: float, high: float, most: int) -> float:
    """Return the smallest round step that makes no more ticks than ``most``."""
    rough = max(high - low, 1e-12) / max(most, 1)
    size = 10.0 ** floor(log10(rough))
    return next((each * size for each in _STEPS if each * size >= rough * (1 - 1e-9)), 10 * size)


def ticks(low: float, high: float, most: int) -> list[float]:
    """Return round numbers between two ends."""
    step = tick_step(low, high, most)
    first = ceil(low / step - 1e-9)
    return [each * step + 0.0 for each in range(first, floor(high / step + 1e-9) + 1)]


def tick_text(value: float, step: float) -> str:
    """Return a tick with as many decimals as its step needs."""
    decimals = max(0, -floor(log10(step) + 1e-9)) if step < 1 else (1 if step % 1 else 0)
    return number(value, decimals)


@dataclass(frozen=True)
class Plot:
    """A frame with a scale across and one up.

    Attributes:
        frame: where values are painted. across, up: their scales.
    """

    frame: QRectF
    across: Scale
    up: Scale

    def point(self, x: float, y: float) -> QPointF:
        """Return the place of a pair of values."""
        return QPointF(self.across.at(x), self.up.at(y))


def plot(
    painter: QPainter,
    rect: QRectF,
    look: Look,
    *,
    across: tuple[float, float],
    up: tuple[float, float],
    titles: tuple[str, str],
    right: float = 0.0,
    whole_up: bool = False,
    numbers_across: bool = True,
) -> Plot:
    """Paint a frame with its axes and return it.

    Args:
        painter: to paint with.
        rect: of the whole picture.
        look: how.
        across: values at the left and right end.
        up: values at the lower and upper end.
        titles: of the axis across and of the axis up.
        right: room for labels at the right, px.
        whole_up: every whole number has a tick on the axis up, as grades have.
        numbers_across: whether the axis across has ticks.
    """
    line, unit = look.line_height, look.unit
    up_ticks = [float(each) for each in range(ceil(up[0]), floor(up[1]) + 1)] if whole_up else ticks(*up, 6)
    up_step = 1.0 if whole_up else tick_step(*up, 6)
    widest = max((look.width_of(tick_text(each, up_step)) for each in up_ticks), default=0.0)
    frame = QRectF(
        rect.left() + widest + 2 * unit,
        rect.top() + line + 2 * unit,
        max(rect.width() - widest - 4 * unit - right, 10.0),
        max(rect.height() - 3 * line - 5 * unit, 10.0),
    )
    found = Plot(frame, Scale(*across, frame.left(), frame.right()), Scale(*up, frame.bottom(), frame.top()))
    if whole_up and frame.height() / max(len(up_ticks) - 1, 1) < line * 0.9:
        up_ticks = up_ticks[::2]
    _grid(painter, look, found, up_ticks, up_step)
    if numbers_across:
        _numbers_across(painter, look, found, across)
    below = QRectF(frame.left(), frame.bottom() + line + 1.5 * unit, frame.width(), line)
    look.write(painter, below, titles[0], CENTRE, colour=look.scheme.muted)
    look.write(painter, QRectF(rect.left(), rect.top(), rect.width(), line), titles[1], colour=look.scheme.muted)
    return found


def _numbers_across(painter: QPainter, look: Look, found: Plot, across: tuple[float, float]) -> None:
    frame, line, unit = found.frame, look.line_height, look.unit
    most = max(2, int(frame.width() / (look.width_of("0000") + 4 * unit)))
    across_ticks, step = ticks(*across, min(most, 10)), tick_step(*across, min(most, 10))
    for each in across_ticks:
        place = found.across.at(each)
        painter.setPen(look.pen(look.scheme.line))
        painter.drawLine(QPointF(place, frame.bottom()), QPointF(place, frame.bottom() + unit))
        box = QRectF(place - 5 * line, frame.bottom() + unit, 10 * line, line)
        look.write(painter, box, tick_text(each, step), CENTRE, colour=look.scheme.muted)


def _grid(painter: QPainter, look: Look, found: Plot, up_ticks: Sequence[float], up_step: float) -> None:
    frame, line = found.frame, look.line_height
    for each in up_ticks:
        place = found.up.at(each)
        painter.setPen(look.grid_pen())
        painter.drawLine(QPointF(frame.left(), place), QPointF(frame.right(), place))
        box = QRectF(frame.left() - 6 * line - look.unit, place - line / 2, 6 * line, line)
        look.write(painter, box, tick_text(each, up_step), RIGHT, colour=look.scheme.muted)
