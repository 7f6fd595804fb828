"""Importing old grades: from the file to a board, with photos of an old folder."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication, Signal, Slot
from PySide6.QtWidgets import QWidget

from rustboard.session.jobs import Progress
from rustboard.support.paths import login_name
from rustboard.support.problems import InputError, Problem
from rustboard.support.settings import Settings
from rustboard.ui.ask import Asker
from rustboard.ui.bridge import JobBridge
from rustboard.ui.busy_commands import BusyCommands
from rustboard.ui.doing import Do
from rustboard.ui.refusals import refusal_in
from rustboard.ui.theme import scheme_named

if TYPE_CHECKING:
    from rustboard.session.intake import KeptPhotos
    from rustboard.session.old_grades import OldFile
    from rustboard.ui.importing.dialog import ImportDialog

_MOST_TOLD = 6


class ImportingCommands(BusyCommands):
    """Commands about old grades: one dialog for one file.

    Signals:
        made(object): the folder (a `Path`) of a board that was made and is to be opened.
    """

    made = Signal(object)

    def __init__(self, window: QWidget, asker: Asker, do: Do, settings: Settings, bridge: JobBridge) -> None:
        """Start without a page."""
        super().__init__(window, asker, do, bridge)
        self._settings = settings
        self._dialog: ImportDialog | None = None
        self._file: OldFile | None = None
        self._jobs: list[Progress] = []

    @Slot()
    def import_grades(self) -> None:
        """Choose a file with old grades and go through the steps."""
        if self._dialog is not None:
            return
        kinds = QCoreApplication.translate(
            "files", "Tables of grades (*.xlsx *.xlsm *.csv *.txt *.tsv);;All files (*)"
        )
        path = self._asker.open_file(self.tr("Old grades"), Path.home(), kinds)
        if path is not None:
            self._show(path)

    def _show(self, path: Path) -> None:
        from rustboard.session.old_grades import load_old_file
        from rustboard.support.files import shown_name
        from rustboard.ui.importing.dialog import ImportDialog

        session = None if self.page is None else self.page.session
        may_change = session is not None and not session.read_only_reason
        record = session.record if session is not None and may_change else None
        if record is not None and record.hidden_inspection is not None:
            record = None  # while it is graded blind, nothing of the board is told, nor added to it
        dialog = ImportDialog(shown_name(path), scheme_named(self._settings.scheme), record, self._window)
        self._wire_dialog(dialog)
        self._dialog, self._file = dialog, None
        dialog.say_busy(self.tr("Reading…"))
        self._start("load old grades", load_old_file, path, done=self._loaded)
        self._asker.dialog(dialog)
        self._cancel_jobs()
        self._dialog = self._file = None

    def _wire_dialog(self, dialog: ImportDialog) -> None:
        dialog.read_asked.connect(self._read)
        dialog.folder_asked.connect(self._look_through_folder)
        dialog.stop_asked.connect(self._stop)
        dialog.make_asked.connect(self._make)

    def _start(self, name: str, function: object, *arguments: object, done: object) -> None:
        job = self._bridge.start(
            (name, id(self)),
            function,  # type: ignore[arg-type]
            *arguments,
            done=done,  # type: ignore[arg-type]
            failed=self._complain,
            told=self._tell,
            owner=self._dialog,
        )
        self._jobs.append(job)

    # ---- reading

    def _loaded(self, file: OldFile) -> None:
        self._file = file
        if self._dialog is not None:
            self._dialog.show_file(file)
            self._read()

    @Slot()
    def _read(self) -> None:
        from rustboard.session.old_grades import TableRequest, read_old_table

        dialog = self._dialog
        if dialog is None or self._file is None:
            return
        before = None if dialog.table is None else dialog.table.reading
        request = TableRequest(self._file, dialog.wanted_sheet, dialog.wanted_delimiter, dialog.wanted_layout, before)
        dialog.say_busy(self.tr("Reading the table…"))
        self._start("read old grades", read_old_table, request, done=dialog.show_table)

    def _tell(self, done: int, total: int) -> None:
        if self._dialog is not None:
            text = self.tr("Working: {0} of {1}") if total else self.tr("Working…")
            self._dialog.say_busy(text.format(done, total), done, total)

    def _complain(self, error: InputError) -> None:
        if self._dialog is not None:
            self._dialog.photos.say_busy("")
            self._dialog.complain(str(error))

    def _cancel_jobs(self) -> None:
        for each in self._jobs:
            each.cancel()
        self._jobs = []

    @Slot()
    def _stop(self) -> None:
        self._cancel_jobs()
        if self._dialog is not None:
            self._dialog.photos.say_busy("")
            self._dialog.complain(self.tr("Stopped; nothing was written."))

    # ---- photos

    @Slot()
    def _look_through_folder(self) -> None:
        from rustboard.session.old_photos import scan_folder

        dialog = self._dialog
        folder = self._asker.folder(self.tr("A folder of old photos"), Path.home())
        if dialog is None or folder is None:
            return
        photos = () if self.page is None else self.page.session.record.photos.values()
        known = frozenset(each.sha256 for each in photos if dialog.board.goes_into_open)
        dialog.photos.say_busy(self.tr("Looking through the folder…"))
        self._jobs.append(
            self._bridge.start(
                ("old photos", id(self)),
                scan_folder,
                folder,
                known,
                done=self._found_photos,
                failed=self._complain,
                told=self._tell_photos,
                owner=dialog,
            )
        )

    def _tell_photos(self, done: int, total: int) -> None:
        if self._dialog is not None:
            text = self.tr("Photo {0} of {1}") if total else self.tr("Looking through the folder…")
            self._dialog.photos.say_busy(text.format(done, total), done, total)

    def _found_photos(self, folder: object) -> None:
        if self._dialog is not None:
            self._dialog.photos.say_busy("")
            self._dialog.photos.show_folder(folder)  # type: ignore[arg-type]

    # ---- making

    @Slot()
    def _make(self) -> None:
        dialog = self._dialog
        if dialog is None:
            return
        if dialog.board.goes_into_open:
            self._keep_photos(dialog)
            return
        from rustboard.session.new_board import free_folder
        from rustboard.session.old_grades import make_past_board

        try:
            past = dialog.past_board()
        except InputError as error:
            self._complain(error)
            return
        folder = free_folder(self._settings.boards_path(), past.board.name)
        who = self._settings.grader or login_name()
        dialog.say_busy(self.tr("Making the board…"))
        self._start(
            "make a past board", make_past_board, folder, past, dialog.photos.photos(), who, done=self._board_made
        )

    def _board_made(self, made: tuple[Path, tuple[Problem, ...]]) -> None:
        folder, problems = made
        if self._dialog is not None:
            self._dialog.say_busy("")
            self._dialog.accept()
        self.made.emit(folder)
        self._tell_left_out(problems)

    def _tell_left_out(self, problems: tuple[Problem, ...]) -> None:
        if problems:
            lines = [each.sentence() for each in problems[:_MOST_TOLD]]
            self.failed.emit("\n".join([self.tr("{0} photos were left out:").format(len(problems)), *lines]))

    def _keep_photos(self, dialog: ImportDialog) -> None:
        from rustboard.session.intake import keep_photos

        photos = [each.photo for each in dialog.photos.photos()]
        if self.page is None:
            return
        dialog.say_busy(self.tr("Copying the photos…"))
        self._start("keep old photos", keep_photos, self.page.session.folder, photos, done=self._add)

    def _add(self, kept: KeptPhotos) -> None:
        from rustboard.operations.past_boards import import_old_grades
        from rustboard.session.intake import forget_kept
        from rustboard.session.old_grades import tied

        dialog = self._dialog
        if dialog is None or self.page is None or dialog.table is None:
            return
        grades = dialog.grades_for_open()
        photos = tied(kept, dialog.photos.photos())
        done = self._do(import_old_grades, grades, dialog.table.reading.grid.where, photos)
        if done is None:
            forget_kept(self.page.session.folder, kept)
            dialog.complain(refusal_in(self._window))
            return
        dialog.say_busy("")
        dialog.accept()
        self.told.emit(self.tr("Added {0} grades and {1} photos.").format(len(grades), len(photos)))
        self._tell_left_out(kept.problems)
