"""The picture of several boards' histories: matched treatments, one over the other, on a clock that all have."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen

from rustboard.board.exposure_clock import ClockKind
from rustboard.board.grade import GRADES
from rustboard.board.series import BandPoint, BandSeries, band_series, inspection_days
from rustboard.findings.boards.matching import Common
from rustboard.session.guest_board import matched_coupons
from rustboard.session.other_boards import PooledBoards
from rustboard.support.text import printable
from rustboard.ui.charts.chart import Chart, Spot
from rustboard.ui.charts.look import LEFT, Look, spread_apart
from rustboard.ui.charts.plot import Plot, plot, round_ends
from rustboard.ui.matched.several_words import AXES, say
from rustboard.ui.wording import number

_DASHES: Final = ((), (5.0, 3.0), (1.5, 2.0), (8.0, 2.5, 1.5, 2.5), (9.0, 4.0), (3.0, 2.0, 1.0, 2.0, 1.0, 2.0))
"""Of the boards in their order, beginning anew when all are used up; the first is drawn solid."""
_LOWER_PX: Final = 3.0
"""How much below the one before each board is drawn, so that none hides another where they are equal."""
_MOST_LOWER: Final = 3
_LABEL_SHARE: Final = 0.3
_LONGEST: Final = 40


@dataclass(frozen=True, slots=True)
class Track:
    """The history of one treatment on one board.

    Attributes:
        name: of the treatment; empty where the picture is of one alone. board: name.
        ink: number of its ink. order: of its board; each has its own dashes.
        series: its replicates by time. places: of all the board's inspections on the clock.
    """

    name: str
    board: str
    ink: int
    order: int
    series: BandSeries
    places: tuple[float, ...]

    def place(self, point: BandPoint) -> float:
        """Return where a point lies on the clock."""
        return max(self.places[point.order], 0.0)

    @property
    def label(self) -> str:
        """Treatment and board in one line; the board alone where all are of one treatment."""
        if not self.name:
            return printable(self.board[:_LONGEST])
        return printable(say("{0}, {1}").format(self.name[:_LONGEST], self.board[:_LONGEST]))


def tracks_of(pooled: PooledBoards, chosen: Sequence[Common], boards: tuple[int, int]) -> list[Track]:
    """Return the histories of treatments (and controls) on two boards (their numbers)."""
    matching = pooled.request.matching
    found = []
    for place, board in enumerate(dict.fromkeys(boards)):
        whole = pooled.whole[board]
        days = inspection_days(whole.record)
        for each in chosen:
            if each.treatments[board]:
                series = band_series(whole.record, matched_coupons(pooled, each, board), days)
                if series.points:
                    ink = matching.common.index(each)
                    found.append(Track(each.name, matching.boards[board], ink, place, series, whole.clock.places))
    return found


def histories_of(pooled: PooledBoards, chosen: Sequence[Common], boards: tuple[int, int]) -> Histories | None:
    """Return the picture of treatments on two boards; None where nothing was graded."""
    tracks = tracks_of(pooled, chosen, boards)
    if not tracks:
        return None
    names = [printable(pooled.findings.boards[each]) for each in dict.fromkeys(boards)]
    title = say("{0} and {1}, one over the other") if len(names) > 1 else say("{0}")
    how = say(
        "Medians of the coupons treated alike, at every inspection at which one was graded. A grade holds until the "
        "next inspection; where one was missed the line breaks. The first board is drawn solid with full points, the "
        "second dashed with hollow ones, a hair lower, so that neither hides the other."
    )
    request = pooled.request
    return Histories(title.format(*names), how, tuple(tracks), request.clock, request.failing_grade)


@dataclass(frozen=True)
class Histories(Chart):
    """The picture.

    Attributes:
        tracks: histories. kind: of the clock. failing_grade: a line is drawn there.
    """

    tracks: tuple[Track, ...]
    kind: ClockKind
    failing_grade: int

    def wanted_height(self, width: float, look: Look) -> float:
        """Return a landscape height with room for a label a line."""
        return max(min(width * 0.5, 22 * look.line_height), look.line_height * (len(self.tracks) * 1.1 + 6))

    def paint(self, painter: QPainter, rect: QRectF, look: Look) -> list[Spot]:
        """Paint axes, histories and their names."""
        labels = min(
            max(look.width_of(each.label) for each in self.tracks) + 6 * look.unit, rect.width() * _LABEL_SHARE
        )
        furthest = max(each.place(point) for each in self.tracks for point in each.series.points)
        found = plot(
            painter, rect, look, across=(0.0, round_ends(0.0, furthest)[1]), up=(GRADES[0], GRADES[-1]),
            titles=(say(AXES[self.kind]), say("Rust grade (10 = no rust)")), right=labels, whole_up=True,
        )  # fmt: skip
        self._failing(painter, look, found)
        spots = []
        for each in self.tracks:
            spots += self._track(painter, look, found, each)
        self._names(painter, look, found, rect.right())
        return spots

    def _failing(self, painter: QPainter, look: Look, found: Plot) -> None:
        height = found.up.at(self.failing_grade)
        painter.setPen(look.pen(look.scheme.text, 0.8, Qt.PenStyle.DashDotLine))
        painter.drawLine(QPointF(found.frame.left(), height), QPointF(found.frame.right(), height))
        box = QRectF(found.frame.left() + look.unit, height, found.frame.width(), look.line_height)
        look.write(painter, box, say("failing grade"), colour=look.scheme.muted)

    def _pen(self, look: Look, track: Track) -> QPen:
        pen = look.pen(look.ink(track.ink), 1.8)
        dashes = _DASHES[track.order % len(_DASHES)]
        if dashes:
            pen.setDashPattern(dashes)
        return pen

    def _point(self, found: Plot, track: Track, at: int, grade: float | None = None) -> QPointF:
        point = track.series.points[at]
        place = found.point(track.place(point), point.median if grade is None else grade)
        return place + QPointF(0, _LOWER_PX * min(track.order, _MOST_LOWER))

    def _track(self, painter: QPainter, look: Look, found: Plot, track: Track) -> list[Spot]:
        painter.setPen(self._pen(look, track))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        points = track.series.points
        for first, last in track.series.runs:
            path = QPainterPath(self._point(found, track, first))
            for before, at in pairwise(range(first, last + 1)):
                path.lineTo(self._point(found, track, at, points[before].median))
                path.lineTo(self._point(found, track, at))
            painter.drawPath(path)
        spots = []
        for at, point in enumerate(points):
            place = self._point(found, track, at)
            self._mark(painter, look, place, track)
            spots.append(Spot(place, 3 * look.unit, self._words(track, point)))
        return spots

    def _mark(self, painter: QPainter, look: Look, place: QPointF, track: Track) -> None:
        ink = look.ink(track.ink)
        painter.setPen(look.pen(ink, 1.4))
        painter.setBrush(QColor(look.scheme.base) if track.order else ink)
        painter.drawEllipse(place, look.unit, look.unit)
        painter.setBrush(Qt.BrushStyle.NoBrush)

    def _names(self, painter: QPainter, look: Look, found: Plot, right: float) -> None:
        ends = [self._point(found, each, len(each.series.points) - 1).y() for each in self.tracks]
        line, left = look.line_height, found.frame.right() + 2 * look.unit
        top, bottom = found.frame.top(), max(found.frame.bottom(), found.frame.top() + line * len(ends))
        for track, middle in zip(self.tracks, spread_apart(ends, line, top, bottom), strict=True):
            painter.setPen(self._pen(look, track))
            painter.drawLine(QPointF(left, middle), QPointF(left + 4 * look.unit, middle))
            self._mark(painter, look, QPointF(left + 2 * look.unit, middle), track)
            box = QRectF(left + 5 * look.unit, middle - line / 2, right - left - 5 * look.unit, line)
            look.write(painter, box, track.label, LEFT)

    def _words(self, track: Track, point: BandPoint) -> str:
        text = say("{0}: median {1} of {2} coupons ({3} to {4}) at {5} {6}")
        if point.graded == 1:
            text = say("{0}: grade {1} at {5} {6}")
        return text.format(
            track.label, number(point.median), point.graded, point.low, point.high, number(track.place(point)),
            say(AXES[self.kind]),
        )  # fmt: skip

    def lines(self) -> list[str]:
        """Return every point in words."""
        return [self._words(track, point) for track in self.tracks for point in track.series.points]
