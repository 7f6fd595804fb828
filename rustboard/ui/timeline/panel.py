"""The timeline beside the board: step histories of what is chosen there."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtGui import QResizeEvent, QShowEvent
from PySide6.QtWidgets import QLabel, QStackedLayout, QVBoxLayout, QWidget

from rustboard.session.changes import ChangeSet
from rustboard.session.session import Session
from rustboard.support.settings import Settings
from rustboard.ui.theme import Scheme
from rustboard.ui.timeline.content import Content, ContentReader
from rustboard.ui.timeline.drawing import Drawing, make_drawing
from rustboard.ui.timeline.guest_part import GuestPart
from rustboard.ui.timeline.header import TimelineHeader
from rustboard.ui.timeline.readout import Readout, ReadoutRow
from rustboard.ui.timeline.values import (
    explanation,
    heading,
    point_at,
    spoken_value,
    summary,
    value_text,
)
from rustboard.ui.timeline.weather_part import WeatherPart
from rustboard.ui.timeline.weather_plot import WeatherPlot
from rustboard.ui.weather_source import WeatherSource

SHOWN_TABLES = ("grading", "coupon", "treatment", "inspection", "board")
LIST_PART = 0.34
"""Most of the height that the list under the plot may take."""


class TimelinePanel(QWidget):
    """Shows histories; changes nothing.

    Signals:
        inspection_chosen(int): key of the inspection the user wants in view.

    Attributes:
        weather: what is shown of the weather, and which clock the axis counts.
        guest: another board laid over this one.
    """

    inspection_chosen = Signal(int)

    def __init__(
        self,
        session: Session,
        scheme: Scheme,
        source: WeatherSource | None = None,
        settings: Settings | None = None,
        parent: QWidget | None = None,
    ) -> None:
        """Build the panel; it reads when it is first shown, and wants the weather once it has been seen."""
        super().__init__(parent)
        self._session = session
        self._scheme = scheme
        self._reader = ContentReader()
        self._content = Content()
        self._drawing: Drawing = make_drawing(self._content, scheme)
        self._coupons_read: frozenset[int] = frozenset()
        self._inspection_read: int | None = None
        self._pointed_at = self._strong = -1
        self._stale = True
        self._header = TimelineHeader()
        self._header.dress(scheme)
        self._plot = WeatherPlot(scheme)
        self.weather = WeatherPart(session, self._header, self._plot, source, settings or Settings())
        self.weather.choice.dress(scheme)
        self.guest = GuestPart(self._plot.guests)
        self._readout = Readout(scheme)
        self._empty = QLabel()
        self._pages = QStackedLayout()
        self._arrange()
        self._wire()

    def _arrange(self) -> None:
        self.setMinimumWidth(280)
        self.setAccessibleName(self.tr("Timeline"))
        self._plot.setAccessibleName(self.tr("Timeline, rust grades over days of exposure"))
        self._empty.setTextFormat(Qt.TextFormat.PlainText)
        self._empty.setWordWrap(True)
        self._empty.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self._empty.setProperty("muted", True)
        self._empty.setMargin(24)
        drawn = QWidget()
        column = QVBoxLayout(drawn)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self._plot, 1)
        column.addWidget(self.weather.line)
        column.addWidget(self._readout)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(0)
        whole.addWidget(self._header)
        whole.addWidget(self.weather.choice)
        whole.addWidget(self.weather.words)
        whole.addWidget(self.guest)
        whole.addLayout(self._pages, 1)
        # Only now: a page of a layout that belongs to no widget yet shows as a window of its own.
        self._pages.addWidget(drawn)
        self._pages.addWidget(self._empty)

    def _wire(self) -> None:
        self._header.mode_chosen.connect(self._read_when_visible)
        self.weather.changed.connect(self._read_when_visible)
        self.guest.changed.connect(self._read_when_visible)
        self._header.zoom_asked.connect(self._plot.zoom)
        self._header.whole_asked.connect(self._plot.show_all_days)
        self._plot.chosen.connect(self._go_to)
        self._plot.stepped.connect(self._step)
        self._plot.looked_at.connect(self._look_at)
        self._plot.range_changed.connect(self._show_zoom)

    def apply(self, changes: ChangeSet) -> None:
        """Show what a change did to the histories; later, when the panel is hidden."""
        if changes.touches(*SHOWN_TABLES):
            self._reader.forget(changes)
            self._read_when_visible()
        elif self.weather.touched_by(changes):
            self._read_when_visible()

    def selection_changed(self) -> None:
        """Show what is chosen now, and mark the inspection in view."""
        selection = self._session.selection
        if selection.coupons != self._coupons_read or self._stale:
            self._read_when_visible()
        elif selection.inspection != self._inspection_read and self.isVisible():
            self._follow_inspection()
            self._mark()

    def set_scheme(self, scheme: Scheme) -> None:
        """Dress in a scheme."""
        self._scheme = scheme
        self._plot.set_scheme(scheme)
        self._header.dress(scheme)
        self.weather.choice.dress(scheme)
        self._readout.set_scheme(scheme)
        self._read_when_visible()

    def plot(self) -> WeatherPlot:
        """Return the plot, for the keyboard focus and for pictures of it."""
        return self._plot

    def title(self) -> str:
        """Return what the header says is shown."""
        return self._header.title()

    def readout_text(self) -> str:
        """Return what the list under the plot says."""
        return self._readout.text()

    def empty_text(self) -> str:
        """Return the sentence shown instead of a plot, or an empty text."""
        return self._content.empty

    def showEvent(self, event: QShowEvent) -> None:
        """Catch up with what changed while the panel was hidden; Qt calls this."""
        super().showEvent(event)
        if self._stale:
            self._read()
        elif self._session.selection.inspection != self._inspection_read:
            self._follow_inspection()
            self._mark()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Share the height between plot and list; Qt calls this."""
        super().resizeEvent(event)
        self._readout.limit(round(self.height() * LIST_PART))

    @Slot()
    def _read_when_visible(self) -> None:
        self._stale = True
        if self.isVisible():
            self._read()

    def _read(self) -> None:
        selection = self._session.selection
        self._stale = False
        self._content = self._reader.read(self._session.record, selection, self._header.mode())
        clock = self.weather.read(self._content)
        with_start = self.weather.shows_lane()
        self._drawing = make_drawing(self._content, self._scheme, clock, from_start=with_start)
        self._coupons_read = selection.coupons
        self._header.show_title(self._content.title)
        self._header.show_mode(self._content.mode, chosen=self._content.chosen)
        self._readout.explain(explanation(self._content))
        self._empty.setText(self._content.empty)
        self._pages.setCurrentIndex(1 if self._content.empty else 0)
        self._plot.show_drawing(self._drawing)
        of_guest = self.guest.show_over(self._session.record, self._drawing, self._scheme)
        self.weather.show()
        if selection.inspection != self._inspection_read:
            self._follow_inspection()
        self._pointed_at, self._strong = self._plot.under_pointer()
        self._mark()
        said = " ".join((summary(self._content), of_guest, self.weather.summary())).strip()
        self.setAccessibleDescription(said)
        self._plot.setAccessibleDescription(said)

    def _follow_inspection(self) -> None:
        self._inspection_read = self._session.selection.inspection
        in_view = self._number_in_view()
        if in_view is not None:
            self._plot.bring_into_view(in_view)

    def _is_there(self, number: int) -> bool:
        """Return whether an inspection that was read is on the board still; this panel may not know yet."""
        days = self._content.days
        return 0 <= number < len(days) and days[number].inspection in self._session.record.inspections

    def _number_in_view(self) -> int | None:
        """Return the number by time of the inspection in view, or None."""
        key = self._session.selection.inspection
        found = next((at for at, each in enumerate(self._content.days) if each.inspection == key), -1)
        return found if self._is_there(found) else None

    def _newest(self) -> int | None:
        """Return the number by time of the newest inspection, or None."""
        return next((at for at in reversed(range(len(self._content.days))) if self._is_there(at)), None)

    def _mark(self) -> None:
        in_view = self._number_in_view()
        pointed_at = self._pointed_at if self._is_there(self._pointed_at) else None
        self._plot.mark(in_view, pointed_at, self._strong)
        self.weather.tell()
        at = next((each for each in (pointed_at, in_view, self._newest()) if each is not None), None)
        if at is None or self._content.empty:
            self._readout.show_rows("", ())
            return
        self._readout.show_rows(
            heading(self._session.record, self._content, at, self._drawing.clock),
            [self._row(number, at) for number in range(len(self._content.tracks))],
        )

    def _row(self, number: int, at: int) -> ReadoutRow:
        track, record = self._content.tracks[number], self._session.record
        point = point_at(track, at)
        return ReadoutRow(
            name=track.name,
            value=value_text(record, self._content, track, at),
            spoken=spoken_value(record, self._content, track, at),
            style=self._drawing.styles[number],
            strong=number == self._strong,
            hollow=point is not None and track.is_partial(point),
        )

    @Slot(int)
    def _go_to(self, number: int) -> None:
        if self._is_there(number):
            self.inspection_chosen.emit(self._content.days[number].inspection)

    @Slot(int)
    def _step(self, by: int) -> None:
        in_view = self._number_in_view()
        to = self._newest() if in_view is None else max(in_view + by, 0)
        if to is not None and to != in_view:
            self._go_to(to)

    @Slot(int, int)
    def _look_at(self, number: int, track: int) -> None:
        if (number, track) != (self._pointed_at, self._strong):
            self._pointed_at, self._strong = number, track
            self._mark()

    @Slot()
    def _show_zoom(self) -> None:
        self._header.show_zoom(whole=self._plot.days_in_view().is_whole, drawable=not self._content.empty)
