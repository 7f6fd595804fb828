"""The command objects about weather, put together for the window."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QStackedWidget, QWidget

from rustboard.support.settings import Settings
from rustboard.ui.ask import Asker
from rustboard.ui.between_commands import BetweenCommands
from rustboard.ui.bridge import JobBridge
from rustboard.ui.daylog_commands import DayLogCommands
from rustboard.ui.doing import Do
from rustboard.ui.logger_commands import LoggerCommands
from rustboard.ui.page_commands import PageCommands
from rustboard.ui.theme import Scheme
from rustboard.ui.weather_commands import WeatherCommands
from rustboard.ui.weighing_commands import WeighingCommands


class WeatherDesk:
    """All that the window does about weather.

    Attributes:
        screen: weather and exposure. loggers: loggers' files. day_log: weather and disturbances by hand.
        between: what happened between two inspections. weighing: weighed coupons.
    """

    def __init__(
        self,
        window: QWidget,
        asker: Asker,
        do: Do,
        settings: Settings,
        bridge: JobBridge,
        scheme: Scheme,
        stack: QStackedWidget,
    ) -> None:
        """Start without a page."""
        self.screen = WeatherCommands(window, asker, do, scheme, stack)
        self.loggers = LoggerCommands(window, asker, do, settings, bridge, scheme)
        self.day_log = DayLogCommands(window, asker, do)
        self.between = BetweenCommands(window, asker, do)
        self.weighing = WeighingCommands(window, asker, do, scheme)
        self._wire()

    def _wire(self) -> None:
        self.screen.add_asked.connect(self.loggers.add_file)
        self.screen.remove_asked.connect(self.loggers.remove)
        self.screen.day_asked.connect(self.day_log.note_day)
        self.screen.weigh_asked.connect(self.weighing.weigh_another)
        self.screen.weighing_asked.connect(self.weighing.weigh_coupon)
        self.screen.withdrawing_asked.connect(self.weighing.withdraw)

    def commands(self) -> tuple[PageCommands, ...]:
        """Return all command objects."""
        return (self.screen, self.loggers, self.day_log, self.between, self.weighing)

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self.screen.set_scheme(scheme)
        self.loggers.set_scheme(scheme)
        self.weighing.set_scheme(scheme)

    def handlers(self) -> dict[str, Callable[[], object]]:
        """Return the handlers of the actions about weather, by id."""
        return {
            "weather.show": self.screen.toggle,
            "weather.quiet_day": self.day_log.quiet_day,
            "weather.day": self.day_log.note_day,
            "weather.day_log": self.day_log.day_log,
            "weather.add": self.loggers.add_file,
            "weather.between": self.between.show_between,
            "weather.weigh": self.weighing.weigh,
            "weather.site": self.screen.describe_site,
        }
