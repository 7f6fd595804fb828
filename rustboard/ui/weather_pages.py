"""The pages about corrosivity and weighed coupons, in the screen of weather and exposure."""

from __future__ import annotations

from PySide6.QtCore import QObject, Slot

from rustboard.scales.climate import Climate
from rustboard.session.changes import ChangeSet
from rustboard.session.climate import climate_summary
from rustboard.session.session import Session
from rustboard.ui.theme import Scheme
from rustboard.ui.weather.screen import WeatherScreen
from rustboard.ui.weather_source import WeatherSource
from rustboard.ui.weighing.corrosivity_page import CorrosivityPage
from rustboard.ui.weighing.weighed_page import WeighedPage

_SHOWN = ("weighing", "site", "coupon", "treatment", "board", "excluded_area")
"""Tables from which the two pages are made, beside the weather."""


class WeatherPages(QObject):
    """Puts two pages into the screen, and keeps them in step with the board.

    Attributes:
        corrosivity, weighed: the pages.
    """

    def __init__(self, session: Session, weather: WeatherSource, screen: WeatherScreen, scheme: Scheme) -> None:
        """Add the pages; they are filled whenever the screen shows what is known."""
        super().__init__(screen)
        self._session, self._weather, self._screen = session, weather, screen
        self.corrosivity = CorrosivityPage(scheme=scheme)
        self.weighed = WeighedPage(scheme=scheme)
        screen.add_page(self.corrosivity, self.tr("&Corrosivity"))
        screen.add_page(self.weighed, self.tr("Weighed coupo&ns"))
        for page in (self.corrosivity, self.weighed):
            page.set_read_only(session.read_only_reason)
        self._wire()

    def _wire(self) -> None:
        self._screen.shown.connect(self.reload)
        self._screen.changed.connect(self._apply)

    @Slot()
    def reload(self) -> None:
        """Show what is known now."""
        record = self._session.record
        self.corrosivity.show_record(record, self._climate())
        self.weighed.show_record(record)

    def _climate(self) -> Climate:
        track = None if self._weather.is_working() else self._weather.track()
        found = None if track is None else climate_summary(self._session.record, track)
        if found is None:
            return Climate()
        return Climate(
            found.mean_temperature_c,
            found.mean_rh_percent,
            found.wet_hours_per_year,
            found.days_known,
            " ".join(found.words),
        )

    @Slot(object)
    def _apply(self, changes: ChangeSet) -> None:
        if changes.touches(*_SHOWN):
            self.reload()

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self.corrosivity.set_scheme(scheme)
        self.weighed.set_scheme(scheme)
