"""The interaction picture: means of protectants over finishes; lines that are not parallel depend on the finish."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QColor, QPainter

from rustboard.ui.charts.chart import Chart, Spot
from rustboard.ui.charts.look import CENTRE, MARKS, Look, spread_apart
from rustboard.ui.charts.plot import Plot, plot, round_ends
from rustboard.ui.charts.words import say, shown

_LABEL_SHARE = 0.3


@dataclass(frozen=True, slots=True)
class InteractionLine:
    """One protectant.

    Attributes:
        name: of it. ink: number of its ink and mark.
        values: of the units with each finish; empty where the combination was not tried.
    """

    name: str
    ink: int
    values: tuple[tuple[float, ...], ...]

    def mean(self, place: int) -> float | None:
        """Return the mean with a finish, or None."""
        mine = self.values[place]
        return sum(mine) / len(mine) if mine else None


@dataclass(frozen=True)
class InteractionPicture(Chart):
    """All combinations.

    Attributes:
        finishes: from left to right. curves: a protectant each.
        axis: what the values are. ends: of the axis up, None = from the values.
    """

    finishes: tuple[str, ...]
    curves: tuple[InteractionLine, ...]
    axis: str
    ends: tuple[float, float] | None = None

    def wanted_height(self, width: float, look: Look) -> float:
        """Return a landscape height."""
        return max(min(width * 0.5, 22 * look.line_height), look.line_height * (len(self.curves) * 1.1 + 6))

    def paint(self, painter: QPainter, rect: QRectF, look: Look) -> list[Spot]:
        """Paint the lines."""
        widest = max((look.width_of(each.name) for each in self.curves), default=0.0) + 5 * look.unit
        labels = min(widest, rect.width() * _LABEL_SHARE)
        known = [value for each in self.curves for mine in each.values for value in mine]
        ends = self.ends or (round_ends(min(known), max(known)) if known else (0.0, 1.0))
        below = QRectF(rect.left(), rect.top(), rect.width(), rect.height())
        found = plot(
            painter, below, look, across=(-0.5, len(self.finishes) - 0.5), up=ends, titles=("", self.axis),
            right=labels, whole_up=self.ends is not None, numbers_across=False,
        )  # fmt: skip
        self._finishes(painter, look, found)
        spots, places = [], []
        for each in self.curves:
            spots += self._curve(painter, look, found, each)
            last = next(
                (mean for place in reversed(range(len(each.values))) if (mean := each.mean(place)) is not None),
                ends[0],
            )
            places.append(found.up.at(last))
        half = look.line_height / 2
        spread = spread_apart(places, look.line_height, found.frame.top() + half, found.frame.bottom() - half)
        for each, place in zip(self.curves, spread, strict=True):
            box = QRectF(found.frame.right() + 3 * look.unit, place - half, labels - 3 * look.unit, look.line_height)
            look.write(painter, box, each.name, colour=look.ink(each.ink))
        return spots

    def _finishes(self, painter: QPainter, look: Look, found: Plot) -> None:
        width = found.frame.width() / max(len(self.finishes), 1)
        for number, name in enumerate(self.finishes):
            middle = found.across.at(float(number))
            box = QRectF(middle - width / 2, found.frame.bottom() + look.unit, width, look.line_height)
            look.write(painter, box, name, CENTRE)

    def _curve(self, painter: QPainter, look: Look, found: Plot, each: InteractionLine) -> list[Spot]:
        ink, mark, spots = look.ink(each.ink), MARKS[each.ink % len(MARKS)], []
        before: QPointF | None = None
        soft = QColor(ink)
        soft.setAlpha(110)
        for place, mine in enumerate(each.values):
            mean = each.mean(place)
            if mean is None:
                before = None
                continue
            # Apart by protectant, so that equal means do not hide one another.
            shift = (each.ink - (len(self.curves) - 1) / 2) * look.unit * 1.2
            for value in mine:
                at = QPointF(found.across.at(float(place)) + shift, found.up.at(value))
                look.mark(painter, at, mark, look.unit * 0.55, soft, hollow=True)
            here = QPointF(found.across.at(float(place)) + shift, found.up.at(mean))
            if before is not None:
                painter.setPen(look.pen(ink, 2.0))
                painter.drawLine(before, here)
            look.mark(painter, here, mark, look.unit, ink)
            words = say("{0} on {1}: mean {2} of {3}").format(
                each.name, self.finishes[place], shown(mean), ", ".join(shown(value) for value in mine)
            )
            spots.append(Spot(here, 3 * look.unit, words))
            before = here
        return spots

    def lines(self) -> list[str]:
        """Return every combination."""
        found = [self.axis]
        for each in self.curves:
            for place, mine in enumerate(each.values):
                name = self.finishes[place]
                if mine:
                    values = ", ".join(shown(value) for value in mine)
                    mean = shown(each.mean(place))
                    found.append(say("{0} on {1}: mean {2} of {3}").format(each.name, name, mean, values))
                else:
                    found.append(say("{0} on {1}: not tried").format(each.name, name))
        return found
