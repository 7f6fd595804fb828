"""Command objects with work that goes on beside the window, and that the user can stop."""

from __future__ import annotations

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QWidget

from rustboard.session.jobs import Progress
from rustboard.ui.ask import Asker
from rustboard.ui.bridge import JobBridge
from rustboard.ui.doing import Do
from rustboard.ui.page_commands import PageCommands


class BusyCommands(PageCommands):
    """Commands of which some take long.

    Signals:
        working(str): what goes on beside the window.

    Attributes:
        job: what was begun last, or None.
    """

    working = Signal(str)

    def __init__(self, window: QWidget, asker: Asker, do: Do, bridge: JobBridge) -> None:
        """Start without a page and without work."""
        super().__init__(window, asker, do)
        self._bridge = bridge
        self.job: Progress | None = None

    @Slot()
    def stop_job(self) -> None:
        """Stop what goes on beside the window; it leaves nothing half done."""
        if self.job is not None and self._bridge.is_waited_for(self.job):
            self.job.cancel()
            self.told.emit(self.tr("Stopped; nothing was left half done."))
