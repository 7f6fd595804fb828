"""Weather and exposure of the board in the window, as a screen of their own."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Slot
from PySide6.QtWidgets import QStackedWidget, QWidget

from rustboard.ui.ask import Asker
from rustboard.ui.board_page import BoardPage
from rustboard.ui.doing import Do
from rustboard.ui.screen_commands import ScreenCommands
from rustboard.ui.theme import Scheme

if TYPE_CHECKING:
    from rustboard.ui.weather.screen import WeatherScreen


class WeatherCommands(ScreenCommands["WeatherScreen"]):
    """Brings weather and exposure in and out of view."""

    def __init__(self, window: QWidget, asker: Asker, do: Do, scheme: Scheme, stack: QStackedWidget) -> None:
        """Start without a page."""
        super().__init__(window, asker, do, scheme, stack)

    def _build(self, page: BoardPage) -> WeatherScreen:
        from rustboard.ui.weather.screen import WeatherScreen

        return WeatherScreen(page.session, page.weather, self._do, self._scheme)

    @Slot()
    def describe_site(self) -> None:
        """Ask for the zone of the board's clock and the assumptions by which its weather is read."""
