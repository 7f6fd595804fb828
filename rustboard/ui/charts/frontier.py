"""Cost against protection: what nothing else beats stands on the frontier."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter

from rustboard.ui.charts.chart import Chart, Spot
from rustboard.ui.charts.look import Look
from rustboard.ui.charts.plot import Plot, plot, round_ends
from rustboard.ui.charts.words import range_words, say, shown


@dataclass(frozen=True, slots=True)
class Offer:
    """One treatment.

    Attributes:
        name: of it. price: cost or minutes. protection: mean. low, high: of its coupons.
        is_best: whether it stands on the frontier.
    """

    name: str
    price: float
    protection: float
    low: float
    high: float
    is_best: bool


@dataclass(frozen=True)
class Frontier(Chart):
    """All treatments whose price is known.

    Attributes:
        offers: the treatments. price_axis, protection_axis: titles. ends: of protection, None = from the values.
    """

    offers: tuple[Offer, ...]
    price_axis: str
    protection_axis: str
    ends: tuple[float, float] | None = None

    def wanted_height(self, width: float, look: Look) -> float:
        """Return a landscape height."""
        return max(min(width * 0.55, 24 * look.line_height), 12 * look.line_height)

    def paint(self, painter: QPainter, rect: QRectF, look: Look) -> list[Spot]:
        """Paint the frontier, then the treatments over it."""
        prices = [each.price for each in self.offers]
        values = [value for each in self.offers for value in (each.low, each.high)]
        up = self.ends or (round_ends(min(values), max(values)) if values else (0.0, 1.0))
        across = (0.0, round_ends(0.0, max(prices) * 1.05)[1]) if prices else (0.0, 1.0)
        found = plot(
            painter, rect, look, across=across, up=up, titles=(self.price_axis, self.protection_axis),
            right=2 * look.unit, whole_up=self.ends is not None,
        )  # fmt: skip
        self._steps(painter, look, found)
        spots = []
        for each in self.offers:
            ink = QColor(look.scheme.accent if each.is_best else look.scheme.muted)
            painter.setPen(look.pen(ink, 1.0))
            painter.drawLine(found.point(each.price, each.low), found.point(each.price, each.high))
            place = found.point(each.price, each.protection)
            shape = "disc" if each.is_best else "ring"
            look.mark(painter, place, shape, look.unit * 1.2, ink, hollow=not each.is_best)
            spots.append(Spot(place, 3 * look.unit, self._words(each)))
        self._labels(painter, look, found)
        return spots

    def _steps(self, painter: QPainter, look: Look, found: Plot) -> None:
        best = sorted((each for each in self.offers if each.is_best), key=lambda each: (each.price, each.protection))
        painter.setPen(look.pen(look.scheme.accent, 1.6, Qt.PenStyle.DashLine))
        for one, other in pairwise(best):
            corner = found.point(other.price, one.protection)
            painter.drawLine(found.point(one.price, one.protection), corner)
            painter.drawLine(corner, found.point(other.price, other.protection))
        if best:
            last = found.point(best[-1].price, best[-1].protection)
            painter.drawLine(last, QPointF(found.frame.right(), last.y()))

    def _labels(self, painter: QPainter, look: Look, found: Plot) -> None:
        """Write every name beside its mark, where it covers no other name and no mark."""
        taken = [self._mark_box(look, found, each) for each in self.offers]
        for each in sorted(self.offers, key=lambda each: (not each.is_best, -each.protection)):
            place = found.point(each.price, each.protection)
            width = min(look.width_of(each.name, bold=each.is_best), found.frame.width() * 0.45) + 1
            boxes = _places(place, width, look, beside_steps=each.is_best)
            inside = [box for box in boxes if found.frame.adjusted(0, -look.line_height, 0, 0).contains(box)]
            free = next((box for box in inside if not any(box.intersects(other) for other in taken)), None)
            box = free or (inside or boxes)[0]
            taken.append(box)
            colour = look.scheme.text if each.is_best else look.scheme.muted
            ground = QColor(look.scheme.base)
            ground.setAlpha(215)
            painter.fillRect(box.adjusted(-2, 0, 2, 0), ground)
            look.write(painter, box, each.name, colour=colour, bold=each.is_best)

    def _mark_box(self, look: Look, found: Plot, each: Offer) -> QRectF:
        place, size = found.point(each.price, each.protection), look.unit * 1.4
        return QRectF(place.x() - size, place.y() - size, 2 * size, 2 * size)

    def _words(self, each: Offer) -> str:
        told = say("{0}: {1} for {2} (coupons {3})").format(
            each.name, shown(each.protection), shown(each.price, 2), range_words(each.low, each.high)
        )
        return say("{0}. Nothing as cheap protects better.").format(told) if each.is_best else told

    def lines(self) -> list[str]:
        """Return every treatment with its price."""
        return [f"{self.protection_axis} / {self.price_axis}", *(self._words(each) for each in self.offers)]


def _places(place: QPointF, width: float, look: Look, *, beside_steps: bool) -> list[QRectF]:
    """Return where a label may stand: right, left, above and below its mark, and a little farther.

    The steps run from below and to the right of a mark: beside them a label stands higher first.
    """
    line, gap = look.line_height, 2 * look.unit
    right, left = place.x() + gap, place.x() - gap - width
    rows = (0.0, -0.8, 0.8, -1.6, 1.6)
    beside = [QRectF(x, place.y() + shift * line - line / 2, width, line) for shift in rows for x in (right, left)]
    middle = [
        QRectF(place.x() - width / 2, place.y() + shift * line - line / 2, width, line) for shift in (-1.1, 1.1)
    ]
    higher = [QRectF(x, place.y() - 1.5 * line, width, line) for x in (left, right)] if beside_steps else []
    return [*higher, *beside[:2], *middle, *beside[2:]]
