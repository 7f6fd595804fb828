"""Grades of groups over the clock: what was seen, and how it may go on."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPolygonF

from rustboard.ui.charts.chart import Chart, Spot
from rustboard.ui.charts.look import LEFT, Look, spread_apart
from rustboard.ui.charts.plot import Plot, plot, round_ends
from rustboard.ui.charts.words import range_words, say, shown

_LABEL_SHARE = 0.3


@dataclass(frozen=True, slots=True)
class BandPoint:
    """The grade at one place: its middle, and the ends of its band."""

    place: float
    middle: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class GradeBand:
    """One group.

    Attributes:
        name: of it. ink: number of its ink. points: by place. seen_until: the rest is forecast.
    """

    name: str
    ink: int
    points: tuple[BandPoint, ...]
    seen_until: float


@dataclass(frozen=True)
class GradeBands(Chart):
    """All groups.

    Attributes:
        bands: of the groups. axis: what the clock counts. now: last place seen, None = no forecast.
        limit: failing grade, None = not shown.
    """

    bands: tuple[GradeBand, ...]
    axis: str
    now: float | None = None
    limit: float | None = None

    def wanted_height(self, width: float, look: Look) -> float:
        """Return a landscape height with room for a label a group."""
        return max(min(width * 0.5, 24 * look.line_height), look.line_height * (len(self.bands) * 1.1 + 6))

    def paint(self, painter: QPainter, rect: QRectF, look: Look) -> list[Spot]:
        """Paint the bands, then the lines over them."""
        widest = max((look.width_of(each.name) for each in self.bands), default=0.0) + 5 * look.unit
        labels = min(widest, rect.width() * _LABEL_SHARE)
        farthest = max((point.place for each in self.bands for point in each.points), default=1.0)
        found = plot(
            painter, rect, look, across=(0.0, round_ends(0.0, farthest)[1]), up=(0.0, 10.0),
            titles=(self.axis, self._grade_title()), right=labels, whole_up=True,
        )  # fmt: skip
        for each in self.bands:
            self._band(painter, look, found, each)
        spots: list[Spot] = []
        for each in self.bands:
            spots += self._line(painter, look, found, each)
        self._marks(painter, look, found)
        self._labels(painter, look, found, labels)
        return spots

    def _grade_title(self) -> str:
        if self.limit is None:
            return say("grade")
        return say("grade (dotted line: failing grade {0})").format(shown(self.limit))

    def _band(self, painter: QPainter, look: Look, found: Plot, each: GradeBand) -> None:
        soft = QColor(look.ink(each.ink))
        soft.setAlpha(38)
        painter.setPen(Qt.PenStyle.NoPen)
        for forecast in (False, True):
            points = _part(each, forecast=forecast)
            if len(points) < 2:
                continue
            upper = [found.point(point.place, point.high) for point in points]
            lower = [found.point(point.place, point.low) for point in reversed(points)]
            hatched = QColor(look.ink(each.ink))
            hatched.setAlpha(90)
            painter.setBrush(QBrush(hatched, Qt.BrushStyle.BDiagPattern) if forecast else QBrush(soft))
            painter.drawPolygon(QPolygonF([*upper, *lower]))
        painter.setBrush(Qt.BrushStyle.NoBrush)

    def _line(self, painter: QPainter, look: Look, found: Plot, each: GradeBand) -> list[Spot]:
        spots = []
        for forecast in (False, True):
            points = _part(each, forecast=forecast)
            style = Qt.PenStyle.DashLine if forecast else Qt.PenStyle.SolidLine
            painter.setPen(look.pen(look.ink(each.ink), 2.0, style))
            painter.drawPolyline([found.point(point.place, point.middle) for point in points])
            step = max(1, len(points) // 12)
            spots += [
                Spot(found.point(point.place, point.middle), 3 * look.unit, self._words(each, point))
                for point in points[::step]
            ]
        return spots

    def _marks(self, painter: QPainter, look: Look, found: Plot) -> None:
        if self.limit is not None:
            painter.setPen(look.pen(look.scheme.text, 1.0, Qt.PenStyle.DotLine))
            left, right = found.point(found.across.low, self.limit), found.point(found.across.high, self.limit)
            painter.drawLine(left, right)
        if self.now is None:
            return
        place = found.across.at(self.now)
        painter.setPen(look.pen(look.scheme.text, 1.4))
        painter.drawLine(QPointF(place, found.frame.top()), QPointF(place, found.frame.bottom()))
        told = say("forecast")
        width = look.width_of(told) + 2 * look.unit
        at = place + look.unit if place + look.unit + width < found.frame.right() else place - width
        box = QRectF(at, found.frame.top() - look.line_height * 0.1, width, look.line_height)
        look.write(painter, box, told, LEFT, colour=look.scheme.muted)

    def _labels(self, painter: QPainter, look: Look, found: Plot, width: float) -> None:
        known = [each for each in self.bands if each.points]
        ends = [found.up.at(each.points[-1].middle) for each in known]
        half, edge = look.line_height / 2, found.frame.right()
        places = spread_apart(ends, look.line_height, found.frame.top() + half, found.frame.bottom() - half)
        for each, end, place in zip(known, ends, places, strict=True):
            painter.setPen(look.pen(look.ink(each.ink), 0.8))
            last = found.across.at(each.points[-1].place)
            painter.drawLine(QPointF(min(last, edge) + 1, end), QPointF(edge + 2.5 * look.unit, place))
            box = QRectF(edge + 3 * look.unit, place - half, width - 3 * look.unit, look.line_height)
            look.write(painter, box, each.name, colour=look.ink(each.ink))

    def _words(self, each: GradeBand, point: BandPoint) -> str:
        told = say("{0} at {1}: grade {2} ({3})").format(
            each.name, shown(point.place), shown(point.middle), range_words(point.low, point.high)
        )
        ahead = self.now is not None and point.place > each.seen_until + 1e-9
        return say("{0}, forecast").format(told) if ahead else told

    def lines(self) -> list[str]:
        """Return each group now, and where the forecast ends."""
        found = [self.axis]
        for each in self.bands:
            for forecast in (False, True):
                points = _part(each, forecast=forecast)
                if points and (not forecast or len(points) > 1):
                    found.append(self._words(each, points[-1]))
        return found


def _part(band: GradeBand, *, forecast: bool) -> list[BandPoint]:
    """Return the points that were seen, or those from the last of them on."""
    seen = [each for each in band.points if each.place <= band.seen_until + 1e-9]
    if not forecast:
        return seen
    ahead = [each for each in band.points if each.place > band.seen_until + 1e-9]
    return [*seen[-1:], *ahead] if ahead else []
