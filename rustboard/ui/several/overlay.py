"""Histories of matched treatments of two boards, one over the other, on a clock that both have."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from PySide6.QtCore import QT_TRANSLATE_NOOP, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QMouseEvent, QPainter, QPainterPath, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QToolTip, QWidget

from rustboard.board.exposure_clock import ClockKind
from rustboard.board.grade import GRADES
from rustboard.board.series import BandPoint, BandSeries, band_series, inspection_days
from rustboard.findings.boards.matching import Common, Matching
from rustboard.session.guest_board import matched_coupons
from rustboard.session.other_boards import PooledBoards
from rustboard.support.text import printable
from rustboard.ui.several.several_words import AXES, say
from rustboard.ui.theme import Scheme
from rustboard.ui.wording import number, tool_tip

_DASHES: Final = ((), (5.0, 3.0))
_POINT_PX: Final = 4.0
_REACH_PX: Final = 14.0
_GRADES_TITLE: Final = str(QT_TRANSLATE_NOOP("several", "rust grade (10 = no rust)"))
_APART_PX: Final = 3.0
_LEGEND_LINE_PX: Final = 34.0
_MOST_TICKS: Final = 8


@dataclass(frozen=True, slots=True)
class Track:
    """The history of one treatment on one board.

    Attributes:
        name: of the treatment. board: name. ink: number in `Scheme.series`. second: whether of the second board.
        series: its replicates by time. places: of all the board's inspections on the clock.
    """

    name: str
    board: str
    ink: int
    second: bool
    series: BandSeries
    places: tuple[float, ...]

    def place(self, point: BandPoint) -> float:
        """Return where a point lies on the clock."""
        return max(self.places[point.order], 0.0)


def tracks_of(pooled: PooledBoards, chosen: Sequence[Common], boards: tuple[int, int]) -> list[Track]:
    """Return the histories of treatments (and controls) on two boards (their numbers)."""
    matching: Matching = pooled.request.matching
    found = []
    for place, board in enumerate(dict.fromkeys(boards)):
        whole = pooled.whole[board]
        days = inspection_days(whole.record)
        for each in chosen:
            if not each.treatments[board]:
                continue
            coupons = matched_coupons(pooled, each, board)
            series = band_series(whole.record, coupons, days)
            if series.points:
                ink = matching.common.index(each)
                found.append(Track(each.name, matching.boards[board], ink, place > 0, series, whole.clock.places))
    return found


class OverlayPicture(QWidget):
    """The picture: the first board's lines are solid with full points, the second's dashed with hollow ones."""

    def __init__(self, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Start empty."""
        super().__init__(parent)
        self._scheme = scheme
        self.tracks: list[Track] = []
        self._kind: ClockKind = "days"
        self._failing = 0
        self.setMinimumSize(240, 180)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setMouseTracking(True)
        self.setAccessibleName(self.tr("Histories of two boards, one over the other"))

    def sizeHint(self) -> QSize:
        """Return a size that shows the lines apart."""
        return QSize(640, 380)

    def show_tracks(self, tracks: Sequence[Track], kind: ClockKind, failing_grade: int) -> None:
        """Show histories on a clock, with a line at the failing grade."""
        self.tracks, self._kind, self._failing = list(tracks), kind, failing_grade
        self.setAccessibleDescription(" ".join(self._told()))
        self.update()

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self._scheme = scheme
        self.update()

    def _told(self) -> Iterator[str]:
        for each in self.tracks:
            last = each.series.points[-1]
            text = say("{0} on {1}: grade {2} at {3} {4}.")
            yield text.format(
                printable(each.name), printable(each.board), number(last.median), number(each.place(last)),
                say(AXES[self._kind]),
            )  # fmt: skip

    # ---- where things lie

    def _legend_height(self) -> float:
        return QFontMetricsF(self.font()).height() * self._legend_lines() + 6

    def _legend_lines(self) -> int:
        room = max(self.width() - 20.0, 60.0)
        lines, left = 1, 0.0
        for each in self._legend():
            wide = self._legend_width(each)
            if left and left + wide > room:
                lines, left = lines + 1, 0.0
            left += wide
        return lines

    def _legend(self) -> list[Track]:
        return self.tracks

    def _legend_width(self, track: Track) -> float:
        return _LEGEND_LINE_PX + QFontMetricsF(self.font()).horizontalAdvance(self._legend_text(track)) + 18

    def _legend_text(self, track: Track) -> str:
        return printable(say("{0}, {1}").format(track.name[:28], track.board[:28]))

    def _area(self) -> QRectF:
        metrics = QFontMetricsF(self.font())
        left = metrics.horizontalAdvance("10") + metrics.height() + 16
        below = metrics.height() * 2 + 10 + self._legend_height()
        return QRectF(left, 10, max(self.width() - left - 14, 10), max(self.height() - below - 12, 10))

    def _extent(self) -> float:
        places = (each.place(point) for each in self.tracks for point in each.series.points)
        return max((*places, 0.0)) or 1.0

    def _at(self, area: QRectF, place: float, grade: float) -> QPointF:
        return QPointF(
            area.left() + area.width() * place / self._extent(), area.bottom() - area.height() * grade / GRADES[-1]
        )

    # ---- drawn

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw axes, histories and what is what."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), QColor(self._scheme.base))
        area = self._area()
        self._paint_axes(painter, area)
        for each in self.tracks:
            self._paint_track(painter, area, each)
        self._paint_legend(painter)
        painter.end()

    def _paint_axes(self, painter: QPainter, area: QRectF) -> None:
        metrics = QFontMetricsF(self.font())
        step = 1 if area.height() / GRADES[-1] >= metrics.height() * 0.95 else 2
        for grade in GRADES[::step]:
            at = self._at(area, 0, grade)
            painter.setPen(QPen(QColor(self._scheme.line), 1))
            painter.drawLine(at, QPointF(area.right(), at.y()))
            painter.setPen(QColor(self._scheme.muted))
            box = QRectF(
                metrics.height(), at.y() - metrics.height() / 2, area.left() - metrics.height() - 6, metrics.height()
            )
            painter.drawText(box, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter, number(grade, 0))
        self._paint_failing(painter, area, metrics)
        self._paint_ticks(painter, area, metrics)
        if metrics.horizontalAdvance(say(_GRADES_TITLE)) > area.height():
            return
        painter.save()
        painter.translate(metrics.height() * 0.2, area.center().y())
        painter.rotate(-90)
        half = area.height() / 2
        title = QRectF(-half, 0, 2 * half, metrics.height())
        painter.drawText(title, Qt.AlignmentFlag.AlignCenter, say(_GRADES_TITLE))
        painter.restore()

    def _paint_failing(self, painter: QPainter, area: QRectF, metrics: QFontMetricsF) -> None:
        failing = self._at(area, 0, self._failing).y()
        painter.setPen(QPen(QColor(self._scheme.text), 1, Qt.PenStyle.DashDotLine))
        painter.drawLine(QPointF(area.left(), failing), QPointF(area.right(), failing))
        painter.setPen(QColor(self._scheme.muted))
        box = QRectF(area.left() + 4, failing + 1, area.width(), metrics.height())
        painter.drawText(box, Qt.AlignmentFlag.AlignLeft, say("failing grade"))

    def _paint_ticks(self, painter: QPainter, area: QRectF, metrics: QFontMetricsF) -> None:
        painter.setPen(QColor(self._scheme.muted))
        extent = self._extent()
        step = _round_step(extent / _MOST_TICKS)
        at = 0.0
        while at <= extent * 1.0001:
            x = self._at(area, at, 0).x()
            painter.drawLine(QPointF(x, area.bottom()), QPointF(x, area.bottom() + 4))
            box = QRectF(x - 40, area.bottom() + 5, 80, metrics.height())
            painter.drawText(box, Qt.AlignmentFlag.AlignHCenter, number(at, 2))
            at += step
        title = QRectF(area.left(), area.bottom() + 6 + metrics.height(), area.width(), metrics.height())
        painter.drawText(title, Qt.AlignmentFlag.AlignHCenter, say(AXES[self._kind]))

    def _pen(self, track: Track) -> QPen:
        pen = QPen(QColor(self._scheme.series[track.ink % len(self._scheme.series)]), 2)
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
        if track.second:
            pen.setDashPattern(_DASHES[1])
        return pen

    def _paint_track(self, painter: QPainter, area: QRectF, track: Track) -> None:
        if track.second:  # a little lower, so that neither hides the other where they are equal
            area = area.translated(0, _APART_PX)
        painter.setPen(self._pen(track))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        points = track.series.points
        for first, last in track.series.runs:
            path = QPainterPath(self._at(area, track.place(points[first]), points[first].median))
            for at in range(first + 1, last + 1):
                place = track.place(points[at])
                path.lineTo(self._at(area, place, points[at - 1].median))  # a grade holds until the next inspection
                path.lineTo(self._at(area, place, points[at].median))
            painter.drawPath(path)
        for point in points:
            self._paint_point(painter, self._at(area, track.place(point), point.median), track)

    def _paint_point(self, painter: QPainter, at: QPointF, track: Track) -> None:
        pen = QPen(self._pen(track).color(), 1.6)
        painter.setPen(pen)
        painter.setBrush(QColor(self._scheme.base) if track.second else pen.color())
        painter.drawEllipse(at, _POINT_PX, _POINT_PX)

    def _paint_legend(self, painter: QPainter) -> None:
        metrics = QFontMetricsF(self.font())
        room, x = self.width() - 20.0, 10.0
        y = self.height() - self._legend_height() + metrics.height() / 2
        for each in self._legend():
            wide = self._legend_width(each)
            if x > 10 and x + wide > room + 10:
                x, y = 10.0, y + metrics.height()
            painter.setPen(self._pen(each))
            painter.drawLine(QPointF(x, y), QPointF(x + _LEGEND_LINE_PX - 8, y))
            self._paint_point(painter, QPointF(x + (_LEGEND_LINE_PX - 8) / 2, y), each)
            painter.setPen(QColor(self._scheme.text))
            box = QRectF(x + _LEGEND_LINE_PX, y - metrics.height() / 2, wide, metrics.height())
            painter.drawText(box, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, self._legend_text(each))
            x += wide

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Say what lies under the mouse."""
        area, found = self._area(), []
        for each in self.tracks:
            for point in each.series.points:
                if (self._at(area, each.place(point), point.median) - event.position()).manhattanLength() < _REACH_PX:
                    text = say("{0} on {1}: median {2} of {3}, {4} to {5}, at {6} {7}")
                    found.append(
                        text.format(
                            each.name, each.board, number(point.median), point.graded, point.low, point.high,
                            number(each.place(point)), say(AXES[self._kind]),
                        )
                    )  # fmt: skip
        QToolTip.showText(event.globalPosition().toPoint(), "".join(map(tool_tip, found[:6])), self)


def _round_step(least: float) -> float:
    """Return 1, 2 or 5 times a power of ten, no smaller than this."""
    power = 10.0 ** (len(str(int(least))) - 1) if least >= 1 else 1.0
    while power > least:
        power /= 10
    return next(each * power for each in (1, 2, 5, 10) if each * power >= least)
