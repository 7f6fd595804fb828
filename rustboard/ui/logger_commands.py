"""Taking loggers' files in, and out again."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication, Slot
from PySide6.QtWidgets import QWidget

from rustboard.board.record import site_of
from rustboard.operations.weather import add_weather_file, describe_site, remove_weather_file
from rustboard.session.jobs import Progress
from rustboard.support.problems import InputError
from rustboard.support.settings import Settings
from rustboard.support.text import printable
from rustboard.ui.ask import Asker
from rustboard.ui.board_page import BoardPage
from rustboard.ui.bridge import JobBridge
from rustboard.ui.doing import Do
from rustboard.ui.dropped_logger_files import DroppedLoggerFiles
from rustboard.ui.page_commands import PageCommands
from rustboard.ui.refusals import refusal_in
from rustboard.ui.theme import Scheme

if TYPE_CHECKING:
    from rustboard.operations.weather import GivenReadings
    from rustboard.session.weather_intake import LoadedFile, LoggerReading
    from rustboard.ui.loggers.dialog import LoggerFileDialog
    from rustboard.weather.logger_file.options import FileOptions


class LoggerCommands(PageCommands):
    """Commands about loggers' files: one dialog after the other, one for each file."""

    def __init__(
        self, window: QWidget, asker: Asker, do: Do, settings: Settings, bridge: JobBridge, scheme: Scheme
    ) -> None:
        """Start without a page."""
        super().__init__(window, asker, do)
        self._settings, self._bridge, self._scheme = settings, bridge, scheme
        self._dialog: LoggerFileDialog | None = None
        self._path = Path()
        self._file: LoadedFile | None = None
        self._like: FileOptions | None = None
        self._jobs: list[Progress] = []
        self._said: list[str] = []
        self._drops = DroppedLoggerFiles(self)
        self._wire_drops()

    def _wire_drops(self) -> None:
        self._drops.dropped.connect(self.add_paths)

    def _wire_page(self, page: BoardPage) -> None:
        self._drops.watch(page)

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self._scheme = scheme

    # ---- ways in and out

    @Slot()
    def add_file(self) -> None:
        """Ask for loggers' files and take their readings over."""
        if not self._may_add():
            return
        kinds = QCoreApplication.translate("files", "Loggers' files (*.csv *.txt *.tsv *.dat);;All files (*)")
        self.add_paths(self._asker.open_files(self.tr("Readings of a logger"), Path.home(), kinds))

    @Slot(object)
    def add_paths(self, paths: Sequence[Path]) -> None:
        """Take over the readings of files that were dropped on the window or chosen."""
        if not paths or not self._may_add():
            return
        self._like, self._said = None, []
        for number, each in enumerate(paths, 1):
            if not self._show(each, more=len(paths) - number):
                break
        if self._said:
            self.told.emit(" ".join(self._said))

    @Slot(int)
    def remove(self, key: int) -> None:
        """Take the readings of a file off the board."""
        if self.page is None:
            return
        file = self.page.session.record.weather_files.get(key)
        if self._do(remove_weather_file, key) is not None and file is not None:
            text = self.tr("The readings of {0} are off the board. Undo brings them back.")
            self.told.emit(text.format(printable(file.name)))

    def _may_add(self) -> bool:
        if self.page is None or self._dialog is not None:
            return False
        reason = self.page.session.read_only_reason
        if reason:
            self.failed.emit(self.tr("{0} No readings were added.").format(reason))
        return not reason

    # ---- one file

    def _show(self, path: Path, *, more: int) -> bool:
        """Show one file; return whether the next one is wanted after it."""
        from rustboard.session.logger_profiles import LoggerProfiles
        from rustboard.session.weather_intake import LARGE_BYTES, file_bytes
        from rustboard.support.files import shown_name
        from rustboard.ui.loggers.dialog import LoggerFileDialog

        if self.page is None:
            return False
        try:
            size = file_bytes(path)
            profiles = [each.name for each in LoggerProfiles().profiles()]
        except InputError as error:
            self._refuse(error)
            return True
        record = self.page.session.record
        dialog = LoggerFileDialog(
            shown_name(path), self._scheme, self._window,
            loggers=sorted({each.logger for each in record.weather_files.values()}),
            profiles=profiles, board_zone=site_of(record).zone, more=more,
        )  # fmt: skip
        self._wire_dialog(dialog)
        self._dialog, self._path, self._file = dialog, path, None
        if size > LARGE_BYTES:
            self._look_at_beginning()
        self._load()
        goes_on = self._asker.dialog(dialog) or dialog.is_skipped
        self._cancel_jobs()
        self._dialog = self._file = None
        return goes_on

    def _wire_dialog(self, dialog: LoggerFileDialog) -> None:
        dialog.read_asked.connect(self._read_again)
        dialog.profile_chosen.connect(self._read_by_profile)
        dialog.keep_asked.connect(self._keep_profile)
        dialog.stop_asked.connect(self._stop)
        dialog.add_asked.connect(self._add)

    def _look_at_beginning(self) -> None:
        from rustboard.session.weather_intake import preview_beginning

        self._jobs.append(
            self._bridge.start(
                ("look at a logger's file", id(self)),
                preview_beginning,
                self._path,
                done=self._show_beginning,
                failed=_forget,
                owner=self._dialog,
            )
        )

    def _show_beginning(self, reading: LoggerReading) -> None:
        if self._dialog is not None and self._dialog.reading is None:
            self._dialog.show_beginning(reading)

    def _load(self) -> None:
        from rustboard.session.weather_intake import load_logger_file

        if self._dialog is None:
            return
        self._dialog.say_busy(self.tr("Reading…"))
        self._jobs.append(
            self._bridge.start(
                ("load a logger's file", id(self)),
                load_logger_file,
                self._path,
                done=self._loaded,
                failed=self._complain,
                told=partial(self._tell, self.tr("Reading: {0} %")),
                owner=self._dialog,
            )
        )

    def _loaded(self, file: LoadedFile) -> None:
        self._file = file
        self._read(fill=True)

    # ---- reading

    @Slot()
    def _read_again(self) -> None:
        if self._dialog is not None:
            self._read(self._dialog.options, profile=self._dialog.profile())

    @Slot(str)
    def _read_by_profile(self, name: str) -> None:
        self._like = None
        self._read(profile=name, fill=True)

    def _read(self, options: FileOptions | None = None, *, profile: str | None = None, fill: bool = False) -> None:
        from rustboard.session.weather_intake import ReadRequest, read_readings

        dialog = self._dialog
        if dialog is None or self._file is None or self.page is None:
            return
        request = ReadRequest(
            self._file, options, self._like, profile=profile, zone=dialog.zone(), before=dialog.reading,
            on_board=tuple(self.page.session.record.weather_files.values()),
        )  # fmt: skip
        dialog.say_busy(self.tr("Reading the rows…"))
        self._jobs.append(
            self._bridge.start(
                ("read a logger's file", id(self)),
                read_readings,
                request,
                done=partial(self._arrived, fill),
                failed=self._complain,
                owner=dialog,
            )
        )

    def _arrived(self, fill: bool, reading: LoggerReading) -> None:
        if self._dialog is not None:
            self._dialog.show_reading(reading, fill=fill)

    def _tell(self, what: str, done: int, total: int) -> None:
        if self._dialog is not None and total:
            self._dialog.say_busy(what.format(round(100 * done / total)), done, total)

    def _complain(self, error: InputError) -> None:
        if self._dialog is not None:
            self._dialog.complain(str(error))

    def _cancel_jobs(self) -> None:
        for each in self._jobs:
            each.cancel()
        self._jobs = []

    @Slot()
    def _stop(self) -> None:
        self._cancel_jobs()
        dialog = self._dialog
        if dialog is None:
            return
        if self._file is None:  # there is nothing yet to change anything in
            dialog.say_busy("")
            dialog.reject()
        else:
            dialog.complain(self.tr("Stopped; nothing was added. Any change in the fields reads the file anew."))

    # ---- what is asked with a reading

    @Slot()
    def _keep_profile(self) -> None:
        from rustboard.session.logger_profiles import LoggerProfiles
        from rustboard.ui.dialogs.name import NameDialog

        dialog = self._dialog
        if dialog is None or dialog.options is None:
            return
        suggested = dialog.profile() or dialog.options.logger
        ask = NameDialog(self.tr("Keep how such files are read"), self.tr("&Name"), suggested, dialog)
        if not self._asker.dialog(ask):
            return
        kept = LoggerProfiles()
        try:
            name = kept.keep(ask.text(), dialog.options).name
            names = [each.name for each in kept.profiles()]
        except InputError as error:
            dialog.complain(str(error))
            return
        dialog.show_profiles(names, name)

    @Slot()
    def _add(self) -> None:
        dialog = self._dialog
        if dialog is None or self.page is None or dialog.reading is None or dialog.reading.given is None:
            return
        session, given = self.page.session, dialog.reading.given
        if self._do(add_weather_file, given) is None:
            dialog.complain(refusal_in(self._window))
            return
        if dialog.wants_zone():
            site = replace(site_of(session.record), zone=dialog.zone())
            self._do(describe_site, site, joins=session.newest_step())
        self._like = dialog.options
        self._said.append(self._told_of(given))
        dialog.accept()

    def _told_of(self, given: GivenReadings) -> str:
        from rustboard.ui.loggers.logger_words import count

        if not given.left_out:
            text = self.tr("{0} readings of {1} added.")
            return text.format(count(given.count), printable(given.logger))
        if given.left_out == 1:
            text = self.tr("{0} readings of {1} added, 1 row left out (see the file under Weather and exposure).")
            return text.format(count(given.count), printable(given.logger))
        text = self.tr("{0} readings of {1} added, {2} rows left out (see the file under Weather and exposure).")
        return text.format(count(given.count), printable(given.logger), count(given.left_out))


def _forget(error: InputError) -> None:
    """The beginning is a help only; what is wrong with the file is told when all of it is read."""
