"""Weather and exposure of the board in the window, as a screen of their own."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Signal, Slot

from rustboard.board.record import site_of
from rustboard.board.weather import Site
from rustboard.operations.weather import describe_site
from rustboard.ui.board_page import BoardPage
from rustboard.ui.screen_commands import ScreenCommands
from rustboard.ui.theme import Scheme

if TYPE_CHECKING:
    from rustboard.ui.weather.screen import WeatherScreen
    from rustboard.ui.weather_pages import WeatherPages


class WeatherCommands(ScreenCommands["WeatherScreen"]):
    """Brings weather and exposure in and out of view.

    Signals:
        add_asked(): a logger's file is to be added. remove_asked(int): the file with this key is to go.
        day_asked(): the weather of a day is to be noted.
        weigh_asked(): a coupon is to be weighed. weighing_asked(int), withdrawing_asked(int): what was weighed of
            this coupon is to be put right, or taken back.
    """

    add_asked = Signal()
    remove_asked = Signal(int)
    day_asked = Signal()
    weigh_asked = Signal()
    weighing_asked = Signal(int)
    withdrawing_asked = Signal(int)

    _pages: WeatherPages | None = None

    def _build(self, page: BoardPage) -> WeatherScreen:
        from rustboard.ui.weather.screen import WeatherScreen
        from rustboard.ui.weather_pages import WeatherPages

        screen = WeatherScreen(page.session, page.weather, self._scheme)
        self._pages = WeatherPages(page.session, page.weather, screen, self._scheme)
        self._wire_screen(screen, self._pages)
        return screen

    def _wire_screen(self, screen: WeatherScreen, pages: WeatherPages) -> None:
        screen.left.connect(self.leave)
        screen.inspection_asked.connect(self._go_to)
        screen.add_asked.connect(self.add_asked)
        screen.remove_asked.connect(self.remove_asked)
        screen.day_asked.connect(self.day_asked)
        screen.site_asked.connect(self.describe_site)
        pages.corrosivity.site_changed.connect(self._keep_site)
        pages.weighed.add_asked.connect(self.weigh_asked)
        pages.weighed.edit_asked.connect(self.weighing_asked)
        pages.weighed.withdraw_asked.connect(self.withdrawing_asked)

    @Slot(int)
    def _go_to(self, inspection: int) -> None:
        if self.page is not None:
            self.page.look_at(inspection)
            self.leave()

    @Slot(object)
    def _keep_site(self, site: Site) -> None:
        self._do(describe_site, site)

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        super().set_scheme(scheme)
        if self.screen is not None and self._pages is not None:
            self._pages.set_scheme(scheme)

    @Slot()
    def describe_site(self) -> None:
        """Ask for the zone of the board's clock and the assumptions by which its weather is read."""
        from rustboard.ui.weather.site_dialog import SiteDialog

        if self.page is None:
            return
        record = self.page.session.record
        dialog = SiteDialog(site_of(record), self._window, new=not record.sites)
        if self._asker.dialog(dialog):
            self._do(describe_site, dialog.site())
