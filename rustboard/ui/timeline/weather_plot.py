"""The plot with the weather under its lines, on one axis."""

from __future__ import annotations

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt, QTimer, Signal, Slot
from PySide6.QtGui import QMouseEvent, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QWidget

from rustboard.ui.theme import Scheme
from rustboard.ui.timeline.day_plot import DayPlot
from rustboard.ui.timeline.lane_content import LaneContent, Mark
from rustboard.ui.timeline.weather_lane import WeatherLane

MARK_REACH_PX = 9.0


class WeatherPlot(DayPlot):
    """Step lines with the lane of the weather under them.

    Signals:
        first_painted(): the plot has been on the screen for the first time; what is dear may begin.
        stretch_chosen(int): the time before an inspection (its number by time) was clicked in the lane.
        lane_pointed(): the pointer is elsewhere, and may be over the lane or not.
    """

    first_painted = Signal()
    stretch_chosen = Signal(int)
    lane_pointed = Signal()

    def __init__(self, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Build an empty plot, its lane hidden."""
        self._lane = WeatherLane()
        self._painted = False
        super().__init__(scheme, parent)

    def _arrange(self) -> None:
        super()._arrange()
        self.centralLayout.addItem(self._lane, 1, 0, 1, 3)

    def _wire(self) -> None:
        super()._wire()
        self._box.geometryChanged.connect(self._follow_box)

    def set_scheme(self, scheme: Scheme) -> None:
        """Take on a scheme."""
        super().set_scheme(scheme)
        self._lane.dress(scheme, self.font())

    def show_lane(self, content: LaneContent | None) -> None:
        """Show the weather under the lines; None hides it."""
        shown = None if content is None or content.is_empty else content
        if shown is None and self._lane.content() is None:
            return  # at every grade of a board without weather
        self._lane.show_content(shown, self.height())
        self._settle()

    def lane(self) -> WeatherLane:
        """Return the lane, for pictures of it."""
        return self._lane

    def mark(self, in_view: int | None, pointed_at: int | None, strong: int = -1) -> None:
        """Mark inspections by number, in the lane too."""
        super().mark(in_view, pointed_at, strong)
        self._lane.mark(None if in_view is None else float(self._drawing.days[in_view]))

    def lane_area(self) -> QRectF:
        """Return where the lane's pictures are, px of the view; empty while it is hidden."""
        lane, box = self._lane.geometry(), self._box.geometry()
        return QRectF(box.left(), lane.top(), box.width(), lane.height() if self._lane.content() is not None else 0.0)

    def pointed_place(self) -> float | None:
        """Return the place of the axis that is pointed at in the lane, or None."""
        return self._place_in_lane(self.pointer)

    def pointed_marks(self) -> tuple[Mark, ...]:
        """Return the disturbances whose mark is pointed at in the lane, whatever the height."""
        drawing = self._lane.painter_for()
        if self.pointer is None or drawing is None or self.pointed_place() is None:
            return ()
        x = self.pointer.x() - self._lane.geometry().left()
        near = (each for each in drawing.groups() if abs(each.x - x) <= MARK_REACH_PX)
        return next((each.marks for each in near), ())

    def _place_in_lane(self, at: QPointF | None) -> float | None:
        if at is None or not self.lane_area().contains(at):
            return None
        return self._places().day_at(at.x())

    def _settle(self) -> None:
        """Give lane and lines their rooms, and let everything follow."""
        self.centralLayout.activate()
        self._grades.fit(self._box.geometry().height())
        self.centralLayout.activate()  # without its title the axis is narrower
        self._show_range()

    @Slot()
    def _follow_box(self) -> None:
        """Keep the lane under the lines, whatever moved them."""
        box = self._box.geometry()
        self._lane.show_range(box.left(), box.right(), self._range.low, self._range.high)

    def _show_range(self) -> None:
        super()._show_range()
        self._follow_box()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Share the height anew; Qt calls this."""
        if hasattr(self, "_labels"):  # the plotting library resizes while it is being built
            self._lane.fit(event.size().height())
        super().resizeEvent(event)
        if hasattr(self, "_labels"):
            self._show_range()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint, and tell when that has been done for the first time; Qt calls this."""
        super().paintEvent(event)
        if not self._painted:
            self._painted = True
            QTimer.singleShot(0, self, self._tell_painted)

    @Slot()
    def _tell_painted(self) -> None:
        self.first_painted.emit()

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Ask for all days, but not over the lane, where the first click was answered; Qt calls this."""
        if self._place_in_lane(event.position()) is None:
            super().mouseDoubleClickEvent(event)
        else:
            event.accept()

    @Slot(QPointF)
    def _tap(self, at: QPointF) -> None:
        place, content = self._place_in_lane(at), self._lane.content()
        if place is None or content is None:
            super()._tap(at)
            return
        number = content.stretch_at(place)
        if number >= 0:
            self.stretch_chosen.emit(number)

    @Slot()
    def _point(self) -> None:
        super()._point()
        place, content = self.pointed_place(), self._lane.content()
        number = -1 if place is None or content is None else content.stretch_at(place)
        self._lane.point(None if number < 0 or content is None else content.stretch(number))
        cursor = Qt.CursorShape.PointingHandCursor if number >= 0 else Qt.CursorShape.ArrowCursor
        if self.viewport().cursor().shape() != cursor:
            self.viewport().setCursor(cursor)
        self.lane_pointed.emit()

    def under_pointer(self) -> tuple[int, int]:
        """Return the inspection and the track that the pointer is on; in the lane there is no track."""
        inspection, track = super().under_pointer()
        return inspection, track if self.pointed_place() is None else -1

    def place_in_lane(self, place: float) -> QPointF:
        """Return the middle of the lane at a place of the axis, px of the view."""
        x = self._places().to_view().map(QPointF(place, 0.0)).x()
        return QPointF(x, self.lane_area().center().y())


def bin_around(day: float, length: float, first: float, last: float) -> tuple[float, float]:
    """Return the stretch of whole bars that a day lies in, within the days from first to last."""
    low = float(np.floor(day / length)) * length
    return max(low, first), min(low + length, last)
