"""What the user does to hand a board on: the report in its forms."""

from __future__ import annotations

from functools import partial
from pathlib import Path

from PySide6.QtCore import Slot
from PySide6.QtWidgets import QWidget

from rustboard.session.reporting import write_report
from rustboard.session.weather import weather_request
from rustboard.support.clock import wall_clock
from rustboard.support.problems import InputError
from rustboard.support.settings import Settings
from rustboard.ui.ask import Asker
from rustboard.ui.bridge import JobBridge
from rustboard.ui.busy_commands import BusyCommands
from rustboard.ui.doing import Do


class ReportCommands(BusyCommands):
    """Commands that write the report of the board in the window."""

    def __init__(self, window: QWidget, asker: Asker, do: Do, settings: Settings, bridge: JobBridge) -> None:
        """Start without a page."""
        super().__init__(window, asker, do, bridge)
        self._settings = settings

    @Slot()
    def report(self) -> None:
        """Write the workbook beside the window."""
        if self.page is None:
            return
        session = self.page.session
        start = session.folder / f"{session.folder.name}.xlsx"
        path = self._ask_save(self.tr("Write the workbook"), start, self.tr("Workbooks (*.xlsx)"), ".xlsx")
        if path is None:
            return
        try:
            weather = weather_request(session)
        except InputError as error:
            self._refuse(error)
            return
        self.working.emit(self.tr("Writing the workbook…"))
        self.job = self._bridge.start(
            "report",
            partial(write_report, weather=weather),
            session.record.snapshot(),
            path,
            wall_clock(),
            self._settings.grader,
            done=self._report_done,
            failed=self._refuse,
        )

    def _report_done(self, path: Path) -> None:
        self.told.emit(self.tr("Wrote {0}").format(str(path)))
