"""The plot itself: lines, axes and names over the days in view."""

from __future__ import annotations

from math import isnan
from typing import Final

from PySide6.QtCore import QPointF, Signal, Slot
from PySide6.QtGui import QColor, QResizeEvent
from PySide6.QtWidgets import QWidget

from rustboard.ui.clock_words import axis_title, decimals_of
from rustboard.ui.theme import Scheme
from rustboard.ui.timeline.axes import DayAxis, GradeAxis
from rustboard.ui.timeline.content import Content
from rustboard.ui.timeline.day_range import DayRange
from rustboard.ui.timeline.drawing import Drawing, make_drawing
from rustboard.ui.timeline.end_labels import EndLabel, EndLabels, gathered
from rustboard.ui.timeline.geometry import value_at_right_edge
from rustboard.ui.timeline.gestures import GestureView
from rustboard.ui.timeline.guest_item import GuestItem
from rustboard.ui.timeline.places import Places
from rustboard.ui.timeline.plot_parts import DayBox
from rustboard.ui.timeline.steps_item import HIGHEST, LOWEST, StepsItem

ZOOM_STEP: Final = 0.8

LABELS_PART: Final = 0.3
"""Most of the width that names at the lines' ends may take."""


class DayPlot(GestureView):
    """Step lines over days, or over what another clock counts.

    Signals:
        chosen(int): number (by time) of the inspection that was clicked or tapped.
        looked_at(int, int): numbers of the inspection and the track under the pointer, -1 for none.
        range_changed(): other days are in view.

    Attributes:
        guests: the lines of another board laid over these.
    """

    chosen = Signal(int)
    looked_at = Signal(int, int)
    range_changed = Signal()

    def __init__(self, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Build an empty plot."""
        super().__init__(parent)
        self._scheme = scheme
        self._drawing = make_drawing(Content(), scheme)
        self._range = self._range_at_press = DayRange.over(0.0, 1.0)
        self._strong = -1
        self._box = DayBox(enableMouse=False, enableMenu=False, defaultPadding=0.0)
        self._steps, self.guests = StepsItem(), GuestItem()
        self._grades, self._days, self._labels = GradeAxis(), DayAxis(), EndLabels()
        self._arrange()
        self._wire()
        self.set_scheme(scheme)

    def _arrange(self) -> None:
        self._box.disableAutoRange()
        self._box.setYRange(LOWEST, HIGHEST, padding=0)
        self._box.addItem(self._steps, ignoreBounds=True)
        self._box.addItem(self.guests, ignoreBounds=True)
        grid = self.centralLayout
        grid.setContentsMargins(4, 8, 4, 4)
        grid.setSpacing(0)
        grid.addItem(self._grades, 0, 0)
        grid.addItem(self._box, 0, 1)
        grid.addItem(self._labels, 0, 2)
        grid.addItem(self._days, 2, 1)
        grid.setColumnStretchFactor(1, 1)
        grid.setRowStretchFactor(0, 1)
        self._grades.linkToView(self._box)
        self._days.linkToView(self._box)
        self.setMinimumHeight(110)

    def _wire(self) -> None:
        self.tapped.connect(self._tap)
        self.pointed.connect(self._point)
        self.drag_begun.connect(self._begin_drag)
        self.dragged.connect(self._drag)
        self.tilted.connect(self._tilt)
        self.turned.connect(self._turn)
        self.zoom_asked.connect(self.zoom)
        self.whole_asked.connect(self.show_all_days)

    def set_scheme(self, scheme: Scheme) -> None:
        """Take on a scheme; the drawing is shown again by whoever made it."""
        self._scheme = scheme
        self.focus_ink = QColor(scheme.accent)
        self.setBackground(scheme.base)
        for part in (self._grades, self._days, self._labels):
            part.dress(scheme, self.font())

    def show_drawing(self, drawing: Drawing) -> None:
        """Show other lines; the days in view stay where that is possible."""
        if drawing.clock.kind != self._drawing.clock.kind:
            self._range = self._range.whole()  # what was in view means nothing on another axis
        self._drawing = drawing
        self._strong = -1
        self._days.count(axis_title(drawing.clock), decimals_of(drawing.clock.kind))
        if len(drawing.days):
            self._range = self._range.moved_to(drawing.whole_range())
        self._steps.show_drawing(drawing, self._scheme, self._range.first, self._range.last)
        self._fit_labels()
        self._show_range()

    def mark(self, in_view: int | None, pointed_at: int | None, strong: int = -1) -> None:
        """Mark inspections by number: the one in view, the one pointed at; ``strong`` is the track pointed at."""
        days = self._drawing.days
        self._steps.mark(
            None if in_view is None else float(days[in_view]),
            None if pointed_at is None else float(days[pointed_at]),
            None if strong < 0 else strong,
        )
        if strong != self._strong:
            self._strong = strong
            self._place_labels()

    def bring_into_view(self, inspection: int) -> None:
        """Pan as far as it takes to have an inspection in view."""
        self._set_range(self._range.showing(float(self._drawing.days[inspection])))

    def days_in_view(self) -> DayRange:
        """Return the days in view and their limits."""
        return self._range

    def labels(self) -> list[tuple[str, float]]:
        """Return the names at the lines' ends with their places, px from the top."""
        return self._labels.places()

    def place_of(self, inspection: int, grade: float) -> QPointF:
        """Return where a grade at an inspection lies, px of the view."""
        return self._places().of(inspection, grade)

    def under_pointer(self) -> tuple[int, int]:
        """Return the numbers of the inspection and the track that the pointer is on, -1 for none."""
        if self.pointer is None:
            return -1, -1
        places = self._places()
        inspection = places.inspection_at(self.pointer.x(), self.pointer.y())
        return inspection, places.track_at(inspection, self.pointer.y())

    @Slot(int)
    def zoom(self, steps: float, centre: float | None = None) -> None:
        """Zoom in by some steps (out when negative), around a day or the middle."""
        middle = (self._range.low + self._range.high) / 2
        self._set_range(self._range.zoomed(ZOOM_STEP**steps, middle if centre is None else centre))

    @Slot()
    def show_all_days(self) -> None:
        """Bring every inspection into view."""
        self._set_range(self._range.whole())

    def _places(self) -> Places:
        return Places(self._box.geometry(), self._range, self._drawing)

    def _set_range(self, days: DayRange) -> None:
        if days != self._range:
            self._range = days
            self._show_range()

    def _show_range(self) -> None:
        self._box.setXRange(self._range.low, self._range.high, padding=0)
        self._place_labels()
        self.range_changed.emit()

    def _fit_labels(self) -> None:
        texts = [each.label for each in self._drawing.content.tracks]
        if len(texts) > self._labels.capacity():
            texts = [self.tr("{0} lines").format(len(texts))]
        self._labels.room(self._labels.width_for(texts, self.width() * LABELS_PART))
        self.centralLayout.activate()

    def _place_labels(self) -> None:
        drawing = self._drawing
        ends = value_at_right_edge(drawing.days, drawing.values, self._range.low, self._range.high)
        scale = self._places().grade_px
        heights = (HIGHEST - drawing.heights(ends, scale)) * scale
        labels = [
            EndLabel(track.label, float(heights[row]), drawing.styles[row].colour(self._scheme), row == self._strong)
            for row, track in enumerate(drawing.content.tracks)
            if not isnan(ends[row])
        ]
        if len(labels) > self._labels.capacity():
            muted = QColor(self._scheme.muted)
            labels = gathered(labels, self.tr("{0} lines"), muted, self._labels.line() * 1.1)
        self._labels.show_labels(labels)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Let the axes and names follow the size; Qt calls this."""
        super().resizeEvent(event)
        if hasattr(self, "_labels"):  # the plotting library resizes while it is being built
            self.centralLayout.activate()
            self._grades.fit(self._box.geometry().height())
            self._fit_labels()
            self._place_labels()
            self._point()

    @Slot(QPointF)
    def _tap(self, at: QPointF) -> None:
        inspection = self._places().inspection_at(at.x(), at.y())
        if inspection >= 0:
            self.chosen.emit(inspection)

    @Slot()
    def _point(self) -> None:
        self.looked_at.emit(*self.under_pointer())

    @Slot()
    def _begin_drag(self) -> None:
        self._range_at_press = self._range

    @Slot(float)
    def _drag(self, px: float) -> None:
        self._set_range(self._range_at_press.panned(-px * self._places().days_a_px))

    @Slot(float)
    def _tilt(self, part: float) -> None:
        self._set_range(self._range.panned(part * (self._range.high - self._range.low)))

    @Slot(float, float)
    def _turn(self, steps: float, x: float) -> None:
        self.zoom(steps, self._places().day_at(x))
