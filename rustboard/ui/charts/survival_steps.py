"""Survival as steps, where nobody knows when within an interval a coupon failed: boxes in place of drops."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter

from rustboard.ui.charts.chart import Chart, Spot
from rustboard.ui.charts.look import MARKS, Look, spread_apart
from rustboard.ui.charts.plot import Plot, plot, round_ends
from rustboard.ui.charts.words import say, shown

_LABEL_SHARE = 0.3


@dataclass(frozen=True, slots=True)
class Fall:
    """A part of the coupons that failed somewhere between two places.

    Attributes:
        after, before: the places. share: of the coupons, 0 to 1.
    """

    after: float
    before: float
    share: float


@dataclass(frozen=True, slots=True)
class SurvivalLine:
    """One group.

    Attributes:
        name: of the group. ink: number of its ink and mark.
        falls: by place. followed: how far those that have not failed were followed.
        count, failed: coupons. median: in words, or empty.
        fitted: points of a smooth curve, share against place; empty = none.
    """

    name: str
    ink: int
    falls: tuple[Fall, ...]
    followed: float
    count: int
    failed: int
    median: str = ""
    fitted: tuple[tuple[float, float], ...] = ()


@dataclass(frozen=True)
class SurvivalSteps(Chart):
    """Curves of all groups.

    Attributes:
        curves: the groups. axis: what the clock counts.
    """

    curves: tuple[SurvivalLine, ...]
    axis: str

    def wanted_height(self, width: float, look: Look) -> float:
        """Return a landscape height with room for a label a group."""
        return max(min(width * 0.5, 24 * look.line_height), look.line_height * (len(self.curves) * 1.1 + 6))

    def paint(self, painter: QPainter, rect: QRectF, look: Look) -> list[Spot]:
        """Paint the curves."""
        widest = max((look.width_of(each.name) for each in self.curves), default=0.0) + 5 * look.unit
        labels = min(widest, rect.width() * _LABEL_SHARE)
        farthest = max(
            (max(each.followed, *(fall.before for fall in each.falls), 0.0) for each in self.curves), default=1.0
        )
        found = plot(
            painter, rect, look, across=(0.0, round_ends(0.0, farthest)[1]), up=(0.0, 100.0),
            titles=(self.axis, say("% of coupons above the failing grade")), right=labels,
        )  # fmt: skip
        spots: list[Spot] = []
        ends = []
        for each in self.curves:
            end, more = self._curve(painter, look, found, each)
            ends.append(end.y())
            spots += more
        half = look.line_height / 2
        places = spread_apart(ends, look.line_height, found.frame.top() + half, found.frame.bottom())
        for each, level, place in zip(self.curves, ends, places, strict=True):
            self._label(painter, look, found, each, level, place, labels)
        return spots

    def _curve(self, painter: QPainter, look: Look, found: Plot, each: SurvivalLine) -> tuple[QPointF, list[Spot]]:
        ink, left, place = look.ink(each.ink), 100.0, 0.0
        # Curves that lie on one another are moved apart by a line's width, so that none hides another.
        middle = (len(self.curves) - 1) / 2
        apart = min(1.6, 7.0 / max(len(self.curves) - 1, 1)) * look.scheme.line_width
        painter.save()
        painter.translate(0.0, (each.ink - middle) * apart)
        soft = QColor(ink)
        soft.setAlpha(60)
        spots = []
        for fall in each.falls:
            after = left - 100 * fall.share
            start, end = found.point(fall.after, left), found.point(fall.before, after)
            painter.setPen(look.pen(ink, 2.0))
            painter.drawLine(found.point(place, left), start)
            painter.fillRect(QRectF(start, end).normalized(), soft)
            painter.setPen(look.pen(ink, 1.2, Qt.PenStyle.DotLine))
            painter.drawLine(start, end)
            inside = QPointF((start.x() + end.x()) / 2, (start.y() + end.y()) / 2)
            words = say("{0}: from {1} % to {2} % between {3} and {4}").format(
                each.name, shown(left, 0), shown(max(after, 0.0), 0), shown(fall.after), shown(fall.before)
            )
            spots.append(Spot(inside, 3 * look.unit, words))
            left, place = after, fall.before
        painter.setPen(look.pen(ink, 2.0))
        last = found.point(max(each.followed, place), left)
        painter.drawLine(found.point(place, left), last)
        if each.failed < each.count:
            look.mark(painter, last, MARKS[each.ink % len(MARKS)], look.unit * 0.9, ink, hollow=True)
            words = say("{0}: {1} of {2} had not failed at {3}").format(
                each.name, each.count - each.failed, each.count, shown(each.followed)
            )
            spots.append(Spot(last, 3 * look.unit, words))
        if each.fitted:
            painter.setPen(look.pen(ink, 1.0, Qt.PenStyle.DashLine))
            points = [found.point(x, 100 * share) for x, share in each.fitted]
            painter.drawPolyline(points)
        painter.restore()
        return last, spots

    def _label(
        self, painter: QPainter, look: Look, found: Plot, each: SurvivalLine, end: float, place: float, width: float
    ) -> None:
        edge, unit = found.frame.right(), look.unit
        painter.setPen(look.pen(look.ink(each.ink), 0.8))
        painter.drawLine(QPointF(edge + unit * 0.5, end), QPointF(edge + 2.5 * unit, place))
        box = QRectF(edge + 3 * unit, place - look.line_height / 2, width - 3 * unit, look.line_height)
        look.write(painter, box, each.name, colour=look.ink(each.ink))

    def lines(self) -> list[str]:
        """Return where each group fell."""
        found = [self.axis]
        for each in self.curves:
            falls = "; ".join(
                say("{0} % between {1} and {2}").format(
                    shown(100 * fall.share, 0), shown(fall.after), shown(fall.before)
                )
                for fall in each.falls
            )
            told = say("{0}: {1} of {2} failed").format(each.name, each.failed, each.count)
            more = [part for part in (falls, each.median) if part]
            found.append(". ".join([told, *more]))
        return found
