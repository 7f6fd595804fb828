"""Weather and exposure of a board: how wet it was, by which source, and how corrosive the place is."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtGui import QKeyEvent, QShowEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QStackedWidget, QTabWidget, QVBoxLayout, QWidget

from rustboard.session.changes import ChangeSet
from rustboard.session.exposure import (
    all_gaps,
    inspection_exposures,
    inspections_before_start,
    open_exposure,
)
from rustboard.session.session import Session
from rustboard.session.weather import WEATHER_TABLES, has_weather
from rustboard.support.problems import InputError
from rustboard.ui.forms.form import ProblemLine
from rustboard.ui.own_screen import OwnScreen
from rustboard.ui.theme import Scheme
from rustboard.ui.weather.empty_page import NoWeatherPage
from rustboard.ui.weather.exposure_page import ExposurePage
from rustboard.ui.weather.files_page import FilesPage
from rustboard.ui.weather_source import WeatherSource

_SHOWN: Final = (*WEATHER_TABLES, "inspection", "board")
"""Tables from which this screen is made."""


class WeatherScreen(OwnScreen):
    """Exposure by inspection, loggers' files, and what else is about the weather of one board.

    Signals:
        left(): back to the board. inspection_asked(int): to an inspection on the board.
        add_asked(), day_asked(), site_asked(): a logger's file, a day by hand, what is known of the site.
        remove_asked(int): take a logger's file off the board.
        shown(): the weather in view is another; whoever added pages shows it there.
        changed(object): a `ChangeSet` while the screen is in view.

    Attributes:
        tabs: the pages. exposure, files: two of them. empty: in place of the first while nothing is known.
    """

    left = Signal()
    inspection_asked = Signal(int)
    add_asked = Signal()
    day_asked = Signal()
    site_asked = Signal()
    remove_asked = Signal(int)
    shown = Signal()
    changed = Signal(object)

    def __init__(
        self, session: Session, weather: WeatherSource, scheme: Scheme, parent: QWidget | None = None
    ) -> None:
        """Build the screen; the weather is worked out when it is first shown."""
        super().__init__(parent)
        self._session, self._weather = session, weather
        self.exposure = ExposurePage(scheme)
        self.files = FilesPage()
        self.empty = NoWeatherPage(session)
        self._first = QStackedWidget()
        self._first.addWidget(self.empty)
        self._first.addWidget(self.exposure)
        self.tabs = QTabWidget()
        self.tabs.setDocumentMode(True)
        self.tabs.addTab(self._first, self.tr("E&xposure"))
        self.tabs.addTab(self.files, self.tr("&Loggers' files"))
        self.state = QLabel()
        self.state.setProperty("muted", True)
        self.state.setTextFormat(Qt.TextFormat.PlainText)
        self.problem = ProblemLine()
        self._day = QPushButton(self.tr("Note the weather of a &day…"))
        self._site = QPushButton(self.tr("&Site and clock…"))
        self._back = QPushButton(self.tr("Bac&k to the board"))
        self._lay_out()
        self._wire()

    def _lay_out(self) -> None:
        title = QLabel(self.tr("Weather and exposure"))
        title.setProperty("heading", True)
        head = QHBoxLayout()
        head.setContentsMargins(4, 0, 0, 0)
        head.setSpacing(6)
        head.addWidget(title)
        head.addWidget(self.state)
        head.addStretch(1)
        for each in (self._day, self._site, self._back):
            head.addWidget(each)
        column = QVBoxLayout(self)
        column.setContentsMargins(6, 2, 6, 2)
        column.setSpacing(4)
        column.addLayout(head)
        column.addWidget(self.problem)
        column.addWidget(self.tabs, 1)

    def _wire(self) -> None:
        self._day.clicked.connect(self._ask_day)
        self._site.clicked.connect(self._ask_site)
        self._back.clicked.connect(self._leave)
        self.empty.add_asked.connect(self.add_asked)
        self.empty.day_asked.connect(self.day_asked)
        self.files.add_asked.connect(self.add_asked)
        self.files.remove_asked.connect(self.remove_asked)
        self.exposure.inspection_asked.connect(self.inspection_asked)
        self._weather.arrived.connect(self._show_arrived)
        self._weather.failed.connect(self._show_failed)
        self._session.feed.subscribe(self._apply)

    def close_feed(self) -> None:
        """Listen to the session no longer; the screen is about to go."""
        self._session.feed.unsubscribe(self._apply)

    def add_page(self, page: QWidget, title: str) -> None:
        """Add a tab; it is there also while nothing is known of the weather."""
        self.tabs.addTab(page, title)

    # ---- what is shown

    def showEvent(self, event: QShowEvent) -> None:
        """Show what changed while the screen was away."""
        super().showEvent(event)
        if event.spontaneous():
            return  # a window that was minimised comes back as it was
        self._weather.want()
        self.reload(self._session.selection.inspection)
        self.take_keyboard()

    def take_keyboard(self) -> None:
        """Put the keyboard where it is most likely wanted."""
        page = self.tabs.currentWidget()
        if page is self.files:
            (self.files.table if self.files.chosen() is not None else self.files.add).setFocus()
        elif page is self._first and self._first.currentWidget() is self.empty:
            (self.empty.add if self.empty.add.isEnabled() else self._back).setFocus()
        elif page is self._first and self.exposure.table.chosen() is not None:
            self.exposure.table.setFocus()
        else:
            self.tabs.tabBar().setFocus()

    def reload(self, inspection: int | None = None) -> None:
        """Show what is known now; the row of an inspection is chosen, or else that which was."""
        record, writable = self._session.record, not self._session.read_only_reason
        known, working = has_weather(record), self._weather.is_working()
        self._first.setCurrentWidget(self.exposure if known else self.empty)
        self.empty.show_again()
        self._day.setVisible(known)  # else the empty page has it
        self._day.setEnabled(writable)
        self._site.setEnabled(writable)
        self.state.setText(self.tr("Working out the weather…") if working else "")
        track = None if working else self._weather.track()
        if not known or track is None:
            self.exposure.show_rows([], None, self.state.text())
            self.files.show_files(record, None, writable=writable)
        else:
            rows = inspection_exposures(record, track)
            latest = open_exposure(record, track)
            wanted = inspection if inspection is not None else self.exposure.chosen_inspection()
            self.exposure.show_rows(rows if latest is None else [*rows, latest], wanted, self._why_none(bool(rows)))
            self.files.show_files(record, all_gaps(record, track), writable=writable)
        self.shown.emit()

    def _why_none(self, any_rows: bool) -> str:
        record = self._session.record
        before = len(inspections_before_start(record))
        if before:
            return self.tr("Inspections before the stated start of exposure are left out: {0}.").format(before)
        if any_rows:
            return ""
        if record.day_zero() is None:
            return self.tr(
                "The board has neither a start of exposure nor an inspection. State the start (Board menu, Describe "
                "the board), or add an inspection; from then on the weather counts."
            )
        return self.tr(
            "There is no inspection after the start of exposure yet; add one (Board menu), and its row comes here."
        )

    @Slot()
    def _show_arrived(self) -> None:
        if self._weather.track() is not None:
            self.problem.say("")
        if self.isVisible():
            self.reload()

    @Slot(object)
    def _show_failed(self, error: InputError) -> None:
        self.problem.say(str(error))
        if self.isVisible():
            self.reload()

    def _apply(self, changes: ChangeSet) -> None:
        if not self.isVisible():
            return
        if changes.touches(*_SHOWN):
            self.reload()
        self.changed.emit(changes)

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self.exposure.set_scheme(scheme)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Esc leads back to the board."""
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)

    @Slot()
    def _ask_day(self) -> None:
        self.day_asked.emit()

    @Slot()
    def _ask_site(self) -> None:
        self.site_asked.emit()

    @Slot()
    def _leave(self) -> None:
        self.left.emit()
