"""Saving the planned inspections for the user's calendar program."""

from __future__ import annotations

from PySide6.QtCore import Slot

from rustboard.support.clock import wall_clock
from rustboard.support.problems import InputError
from rustboard.ui.page_commands import PageCommands


class CalendarCommands(PageCommands):
    """Writes the calendar file of the board in the window."""

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
            kinds = self.tr("Calendar files (*.ics)")
            path = self._ask_save(self.tr("Save for my calendar"), start, kinds, ".ics")
            if path is None:
                return
            looks = write_calendar_file(session.record, path, wall_clock())
        except InputError as error:
            self._refuse(error)
            return
        self.told.emit(
            self.tr("Wrote {0} looks to {1}; open it with your calendar program.").format(looks, str(path))
        )
