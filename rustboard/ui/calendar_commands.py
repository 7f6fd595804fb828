"""Saving the planned inspections for the user's calendar program."""

from __future__ import annotations

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QWidget

from rustboard.support.clock import wall_clock
from rustboard.support.problems import InputError
from rustboard.support.settings import Settings
from rustboard.ui.ask import Asker
from rustboard.ui.doing import Do
from rustboard.ui.page_commands import PageCommands


class CalendarCommands(PageCommands):
    """Writes the calendar file of the board in the window.

    Signals:
        failed(str): a sentence to stay until read.
    """

    failed = Signal(str)

    def __init__(self, window: QWidget, asker: Asker, do: Do, settings: Settings) -> None:
        """Start without a page."""
        super().__init__(window, asker, do)
        self._settings = settings

    @Slot()
    def save_ics(self) -> None:
        """Ask for a file name and write the planned inspections there; say first what is missing for that."""
        if self.page is None:
            return
        from rustboard.session.calendar_files import check_calendar, write_calendar_file

        session = self.page.session
        try:
            check_calendar(session.record)
            start = session.folder / f"{session.folder.name}.ics"
            path = self._asker.save_file(self.tr("Save for my calendar"), start, self.tr("Calendar files (*.ics)"))
            if path is None:
                return
            path = path if path.suffix.lower() == ".ics" else path.with_name(f"{path.name}.ics")
            looks = write_calendar_file(session.record, path, wall_clock())
        except InputError as error:
            self.failed.emit(str(error))
            return
        self.told.emit(
            self.tr("Wrote {0} looks to {1}; open it with your calendar program.").format(looks, str(path))
        )
