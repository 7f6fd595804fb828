"""The weather's part of the timeline: which clock the axis counts, what lies under the lines, and what is said."""

from __future__ import annotations

from contextlib import suppress

import numpy as np
from PySide6.QtCore import QEvent, QObject, Qt, QTimer, Signal, Slot
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QWidget

from rustboard.board.exposure_clock import ExposureClock, day_clock
from rustboard.session.changes import ChangeSet
from rustboard.session.session import Session
from rustboard.session.weather import has_weather
from rustboard.support.problems import InputError
from rustboard.support.settings import Settings, save_settings
from rustboard.ui import wording
from rustboard.ui.clock_words import WhyNot, explained_in_full
from rustboard.ui.timeline.axis_choice import AxisChoice
from rustboard.ui.timeline.clock_reader import ClockReader
from rustboard.ui.timeline.content import Content
from rustboard.ui.timeline.header import TimelineHeader
from rustboard.ui.timeline.lane_content import LaneContent, marks_of
from rustboard.ui.timeline.lane_data import LaneAxis, LaneWeather
from rustboard.ui.timeline.lane_words import span_text, stretch_text, told, weather_text
from rustboard.ui.timeline.weather_plot import WeatherPlot, bin_around
from rustboard.ui.weather_source import WeatherSource

LANE_TABLES = ("disturbance", "weather_file", "day_note", "site")
LINES, LOW_LINES = 3, 2
"""Lines told under the plot, and in a low window."""
LOW_PX = 600
EDGE_DAYS = 0.06
"""How far beyond the first and last inspection the weather may come into view, as a part of the days between."""


class StretchLine(QWidget):
    """One line under the plot: the weather pointed at, and the way to all that happened before an inspection.

    Attributes:
        words: what is told. ask: the button.
    """

    def __init__(self, parent: QWidget | None = None) -> None:
        """Build it empty."""
        super().__init__(parent)
        self._text = ""
        self.words = QLabel()
        self.words.setTextFormat(Qt.TextFormat.PlainText)
        self.words.setWordWrap(True)
        self.ask = QPushButton(self.tr("What happened…"))
        self.ask.setToolTip(self.tr("Show what happened before the inspection in view"))
        row = QHBoxLayout(self)
        row.setContentsMargins(8, 2, 6, 2)
        row.addWidget(self.words, 1)
        row.addWidget(self.ask)

    def say(self, text: str) -> None:
        """Tell something, in as many lines as are there; all of it is in the tool tip."""
        if text != self._text:
            self._text = text
            self.words.setToolTip(wording.tool_tip(text))
            self.words.setAccessibleName(text)
            self._fit()

    def text(self) -> str:
        """Return what is told, also what there is no room for."""
        return self._text

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Cut off what there is no room for; Qt calls this."""
        super().resizeEvent(event)
        self._fit()

    def changeEvent(self, event: QEvent) -> None:
        """Fit the lines again in another font; Qt calls this."""
        super().changeEvent(event)
        if event.type() in (QEvent.Type.FontChange, QEvent.Type.StyleChange) and hasattr(self, "words"):
            self._fit()

    def _fit(self) -> None:
        metrics = self.fontMetrics()  # the words have the same font, but are told of another one later
        lines = LOW_LINES if self.window().height() < LOW_PX else LINES
        self.words.setFixedHeight(lines * metrics.lineSpacing())
        # Lines break at words, so that not all of their room can be used.
        room = lines * self.words.width() * 0.86
        self.words.setText(metrics.elidedText(self._text, Qt.TextElideMode.ElideRight, round(room)))


class WeatherPart(QObject):
    """Keeps the clock of the axis and the lane in step with the board.

    Signals:
        changed(): another clock, other weather or other marks: the timeline is to be read again.
        between_asked(int): show what happened before an inspection (its key).

    Attributes:
        choice: of the axis. line: under the plot. words: an explanation of the clock, under the choices.
    """

    changed = Signal()
    between_asked = Signal(int)

    def __init__(
        self,
        session: Session,
        header: TimelineHeader,
        plot: WeatherPlot,
        source: WeatherSource | None,
        settings: Settings,
    ) -> None:
        """Start without weather; it is asked for once the plot has been painted."""
        super().__init__(plot)
        self._session, self._header, self._plot, self._source = session, header, plot, source
        self._reader = ClockReader()
        self._content = Content()
        self._clock = day_clock(())
        self._lane: LaneContent | None = None
        self._weather: LaneWeather | None = None
        self._weather_of: tuple[object, ...] = ()
        self._failed = self._painted = False
        self._settings = settings
        self.choice, self.line, self.words = AxisChoice(), StretchLine(), QLabel()
        self.words.setTextFormat(Qt.TextFormat.PlainText)
        self.words.setWordWrap(True)
        self.words.setProperty("muted", True)
        self.words.setContentsMargins(8, 0, 6, 2)
        self._wire()

    def _wire(self) -> None:
        self.choice.chosen.connect(self.changed)
        self.line.ask.clicked.connect(self._ask_in_view)
        self._header.weather_switched.connect(self._switch)
        self._plot.first_painted.connect(self._want)
        self._plot.stretch_chosen.connect(self._choose_stretch)
        self._plot.lane_pointed.connect(self.tell)
        if self._source is not None:
            self._source.arrived.connect(self._take_track)
            self._source.failed.connect(self._take_failure)

    def touched_by(self, changes: ChangeSet) -> bool:
        """Return whether a change reaches what the lane shows."""
        return changes.touches(*LANE_TABLES)

    def read(self, content: Content) -> ExposureClock:
        """Take over what the timeline shows; return the clock of its axis."""
        record = self._session.record
        if self._source is not None and self._source.track() is not self._reader.track:
            self._reader.take_track(self._source.track(), "no weather")
        if self._reader.track is None:
            self._reader.take_track(None, self._why_missing())
        if self._painted:
            QTimer.singleShot(0, self, self._want)  # the first weather of this board may have come just now
        self._content = content
        self._clock = self._reader.read(record, content.days, self.choice.kind())
        self.choice.show_reasons(self._reader.reasons(record, content.days))
        self.choice.show_kind(self._clock.kind)
        self._lane = self._read_lane()
        return self._clock

    def _why_missing(self) -> WhyNot:
        if self._source is None or not has_weather(self._session.record):
            return "no weather"
        return "failed" if self._failed else "working"

    def shows_lane(self) -> bool:
        """Return whether there is a lane to be seen."""
        return self._settings.weather_lane and self._lane is not None and not self._lane.is_empty

    def show(self) -> None:
        """Bring into view what was read."""
        there = self._lane is not None and not self._lane.is_empty
        self._header.show_weather(there=there, shown=self._settings.weather_lane)
        self._plot.show_lane(self._lane if self._settings.weather_lane else None)
        self.words.setText("" if self._clock.kind == "days" else explained_in_full(self._clock))
        self.words.setVisible(self._clock.kind != "days")
        self.line.setVisible(self._settings.weather_lane and there)

    def said(self) -> str:
        """Return what the line under the plot says."""
        return self.line.text()

    def summary(self) -> str:
        """Return the weather of the whole time in words, for those who hear the screen."""
        lane, days = self._lane, self._content.days
        if lane is None or not days:
            return ""
        weather = lane.weather
        first, last = min(0.0, days[0].day), days[-1].day
        text = weather_text(weather.exposure(first, last)) if weather is not None and last > first else ""
        entries = [each.entry for each in lane.marks if first <= each.day <= last]
        return stretch_text(span_text(first, last), text, told(self._session.record, entries))

    def _read_lane(self) -> LaneContent | None:
        record, days = self._session.record, self._content.days
        zero = record.day_zero()
        if not days or zero is None:
            return None
        axis = LaneAxis.of(self._clock)
        weather = self._read_weather(zero)
        marks = marks_of(record, axis, self._session.selection.coupons)
        return LaneContent(axis, weather, marks, np.array(self._clock.places), self._clock.at_day(0.0))

    def _read_weather(self, zero: object) -> LaneWeather | None:
        """Return the weather ready for drawing; made anew only when something it is made from changed."""
        record, days, track = self._session.record, self._content.days, self._reader.track
        started = record.day_zero()
        if track is None or started is None or track.is_empty():
            self._weather, self._weather_of = None, ()
            return None
        first, last = min(0.0, days[0].day), max(days[-1].day, 1.0)
        made_of = (track, zero, first, last, tuple(record.day_notes.values()))
        if self._weather is None or made_of != self._weather_of:
            edge = max(1.0, (last - first) * EDGE_DAYS)
            notes = record.day_notes.values()
            self._weather = LaneWeather(track, started, first - edge, last + edge, notes)
            self._weather_of = made_of
        return self._weather

    @Slot()
    def _want(self) -> None:
        self._painted = True
        if self._source is not None and has_weather(self._session.record):
            self._source.want()

    @Slot()
    def _take_track(self) -> None:
        self._failed = False
        self.changed.emit()

    @Slot(object)
    def _take_failure(self, error: InputError) -> None:
        self._failed = True
        self.changed.emit()

    @Slot(bool)
    def _switch(self, shown: bool) -> None:
        self._settings.weather_lane = shown
        with suppress(InputError):  # it is a small thing to lose, and the lane is shown or hidden all the same
            save_settings(self._settings)
        self.changed.emit()

    @Slot(int)
    def _choose_stretch(self, number: int) -> None:
        if number < len(self._content.days):
            self.between_asked.emit(self._content.days[number].inspection)

    @Slot()
    def _ask_in_view(self) -> None:
        inspection = self._session.selection.inspection
        if inspection is not None:
            self.between_asked.emit(inspection)

    @Slot()
    def tell(self) -> None:
        """Tell the weather pointed at, else that before the inspection in view."""
        text = self._pointed_text() or self._in_view_text()
        if not self._plot.lane().has_room():
            text = self.tr("There is no room here for the weather: make the window higher. {0}").format(text)
        self.line.say(text)
        self.line.ask.setEnabled(self._session.selection.inspection is not None)

    def _pointed_text(self) -> str:
        """Return what is told of the bar, or of the marks, that the pointer is on."""
        lane, place = self._lane, self._plot.pointed_place()
        drawing = self._plot.lane().painter_for()
        if lane is None or place is None or drawing is None:
            return ""
        pointed = self._plot.pointed_marks()
        day = self._clock.day_at(place)
        if lane.weather is None:
            entries = [each.entry for each in pointed]
            return stretch_text(wording.day_text(day), "", told(self._session.record, entries))
        start, end = bin_around(day, drawing.bar_days(), lane.weather.first, lane.weather.last)
        if end <= start:
            return ""
        marks = pointed or [each for each in lane.marks if start <= each.day < end]
        weather = weather_text(lane.weather.exposure(start, end))
        return stretch_text(
            span_text(start, end), weather, told(self._session.record, [each.entry for each in marks])
        )

    def _in_view_text(self) -> str:
        """Return what is told of the time before the inspection in view."""
        days, key = self._content.days, self._session.selection.inspection
        number = next((at for at, each in enumerate(days) if each.inspection == key), -1)
        if self._lane is None or number < 0:
            return ""
        start, end = (days[number - 1].day if number else min(0.0, days[0].day)), days[number].day
        weather = self._lane.weather
        text = weather_text(weather.exposure(start, end)) if weather is not None and end > start else ""
        entries = [each.entry for each in self._lane.marks if start < each.day <= end]
        said = stretch_text(span_text(start, end), text, told(self._session.record, entries))
        return self.tr("Before this inspection, {0}").format(said)
