"""Weather and exposure of a board: how wet it was, by which source, and how corrosive the place is."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from rustboard.session.session import Session
from rustboard.ui.doing import Do
from rustboard.ui.own_screen import OwnScreen
from rustboard.ui.theme import Scheme
from rustboard.ui.weather_source import WeatherSource


class WeatherScreen(OwnScreen):
    """Exposure by inspection, loggers' files, corrosivity, weighed coupons."""

    def __init__(
        self, session: Session, weather: WeatherSource, do: Do, scheme: Scheme, parent: QWidget | None = None
    ) -> None:
        """Show a board's weather."""
        super().__init__(parent)
