"""What the user does to get photos onto the board: button, drop, paste; and their times put right."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import Slot
from PySide6.QtWidgets import QWidget

from rustboard.support.settings import Settings
from rustboard.ui.ask import Asker
from rustboard.ui.bridge import JobBridge
from rustboard.ui.doing import Do
from rustboard.ui.page_commands import PageCommands


class IntakeCommands(PageCommands):
    """Commands about photos on their way onto the board."""

    def __init__(self, window: QWidget, asker: Asker, do: Do, settings: Settings, bridge: JobBridge) -> None:
        """Start without a page."""
        super().__init__(window, asker, do)
        self._settings, self._bridge = settings, bridge

    @Slot()
    def add_photos(self) -> None:
        """Ask for photos and show them before they are added."""

    @Slot()
    def paste(self) -> None:
        """Add what the clipboard holds: files or a picture."""

    @Slot()
    def photo_times(self) -> None:
        """Put the times of photos right."""

    def add_paths(self, paths: Sequence[Path]) -> None:
        """Show files or folders before they are added."""
