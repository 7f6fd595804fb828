"""Taking loggers' files in, and out again."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import Slot
from PySide6.QtWidgets import QWidget

from rustboard.operations.weather import remove_weather_file
from rustboard.support.settings import Settings
from rustboard.ui.ask import Asker
from rustboard.ui.bridge import JobBridge
from rustboard.ui.doing import Do
from rustboard.ui.page_commands import PageCommands
from rustboard.ui.theme import Scheme


class LoggerCommands(PageCommands):
    """Commands about loggers' files."""

    def __init__(
        self, window: QWidget, asker: Asker, do: Do, settings: Settings, bridge: JobBridge, scheme: Scheme
    ) -> None:
        """Start without a page."""
        super().__init__(window, asker, do)
        self._settings, self._bridge, self._scheme = settings, bridge, scheme

    @Slot()
    def add_file(self) -> None:
        """Ask for a logger's file and take its readings over."""

    def add_paths(self, paths: Sequence[Path]) -> None:
        """Take over the readings of files that were dropped on the window or chosen."""

    @Slot(int)
    def remove(self, key: int) -> None:
        """Take the readings of a file off the board."""
        self._do(remove_weather_file, key)

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self._scheme = scheme
