"""What the user does to get photos onto the board: button, drop, paste; and their times put right."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication, Slot
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QWidget

from rustboard.operations.photos import set_taken, shift_clock
from rustboard.session.jobs import Progress
from rustboard.session.photo_days import kept_by_grades
from rustboard.support.clock import Clock, wall_clock
from rustboard.support.problems import InputError, Problem
from rustboard.support.settings import Settings
from rustboard.support.text import printable, some_of
from rustboard.ui.ask import Asker
from rustboard.ui.board_page import BoardPage
from rustboard.ui.bridge import JobBridge
from rustboard.ui.doing import Do
from rustboard.ui.dropped_photos import Brought, DroppedPhotos, look_over_brought, pasted_sources
from rustboard.ui.page_commands import PageCommands
from rustboard.ui.photo_in_view import photo_in_view
from rustboard.ui.refusals import refusal_in

if TYPE_CHECKING:
    from rustboard.session.intake import IncomingPhoto, KeptPhotos
    from rustboard.session.looked_over import LookedOver
    from rustboard.ui.intake.dialog import IntakeDialog
    from rustboard.ui.intake.rows import LookedAt
    from rustboard.ui.intake.times_dialog import TimesDialog


class IntakeCommands(PageCommands):
    """Commands about photos on their way onto the board."""

    def __init__(
        self, window: QWidget, asker: Asker, do: Do, settings: Settings, bridge: JobBridge, clock: Clock = wall_clock
    ) -> None:
        """Start without a page."""
        super().__init__(window, asker, do)
        self._settings, self._bridge, self._clock = settings, bridge, clock
        self._dialog: IntakeDialog | None = None
        self._times: TimesDialog | None = None
        self._sources: list[Brought] = []
        self._looked_at: list[Brought] = []
        self._found: tuple[IncomingPhoto, ...] = ()
        self._job: Progress | None = None
        self._drops = DroppedPhotos(self)
        self._wire_drops()

    def _wire_drops(self) -> None:
        self._drops.dropped.connect(self.add_paths)

    def _wire_page(self, page: BoardPage) -> None:
        self._drops.watch(page)

    def watch(self, screen: QWidget) -> None:
        """Take photos that are dropped on a screen of this board."""
        self._drops.watch(screen)

    # ---- ways in

    @Slot()
    def add_photos(self) -> None:
        """Ask for photos, and show them before they are added."""
        if self._may_add():
            self._show([])

    @Slot()
    def paste(self) -> None:
        """Add what the clipboard holds: files or a picture."""
        if not self._may_add():
            return
        sources = pasted_sources(self._clock())
        if sources:
            self._show(sources)
        else:
            self.told.emit(self.tr("The clipboard holds no picture and no files; copy some first."))

    @Slot(object)
    def add_paths(self, paths: Sequence[Path]) -> None:
        """Show files or folders before they are added."""
        if self.page is not None and self.page.session.read_only_reason:
            self.failed.emit(self.tr("This board is open for reading only, so no photo was added."))
        elif self._may_add() and paths:
            self._show(list(paths))

    def _may_add(self) -> bool:
        return self.page is not None and not self.page.session.read_only_reason and self._dialog is None

    def _show(self, sources: Sequence[Brought]) -> None:
        from rustboard.ui.intake.dialog import IntakeDialog

        if self.page is None:
            return
        dialog = IntakeDialog(self.page.session.record, self._window, clock=self._clock)
        self._wire_dialog(dialog)
        self._dialog, self._sources, self._found = dialog, list(sources), ()
        self._looked_at = []
        if sources:
            self._look()
        self._asker.dialog(dialog)
        self._stop()
        self._dialog = None

    def _wire_dialog(self, dialog: IntakeDialog) -> None:
        dialog.more_asked.connect(self._more)
        dialog.folder_asked.connect(self._folder)
        dialog.add_asked.connect(self._add)
        dialog.stop_asked.connect(self._stop)
        dialog.dropped.connect(self._take_more)

    @Slot()
    def _more(self) -> None:
        kinds = QCoreApplication.translate(
            "files", "Pictures (*.jpg *.jpeg *.png *.tif *.tiff *.heic *.heif *.hif);;All files (*)"
        )
        self._take_more(self._asker.open_files(self.tr("Photos of the board"), Path.home(), kinds))

    @Slot()
    def _folder(self) -> None:
        folder = self._asker.folder(self.tr("A folder of photos"), Path.home())
        if folder is not None:
            self._take_more([folder])

    @Slot(object)
    def _take_more(self, paths: Sequence[Path]) -> None:
        new = [each for each in paths if each not in self._sources]
        if new:
            self._sources.extend(new)
            self._look()

    # ---- looking

    def _look(self) -> None:
        dialog = self._dialog
        if dialog is None or self.page is None:
            return
        known = frozenset(each.sha256 for each in self.page.session.record.photos.values())
        dialog.say_busy(self.tr("Looking…"))
        self._job = self._bridge.start(
            ("look over photos", id(self)), look_over_brought, tuple(self._sources), known,
            done=self._looked, failed=self._tell_dialog, told=partial(self._tell, self.tr("Looking:")), owner=dialog,
        )  # fmt: skip

    def _looked(self, looked: LookedOver) -> None:
        from rustboard.ui.coupon_pictures import image_of
        from rustboard.ui.intake.rows import LookedAt

        self._job = None
        if self._dialog is None:
            return
        self._found, self._looked_at = looked.found, list(self._sources)
        small = {sha: image_of(rgb) for sha, rgb in looked.thumbnails.items()}
        rows = [
            LookedAt(
                each.name, each.taken,
                "nobody" if each.taken is None else "name" if each.sha256 in looked.by_name else "camera",
                thumbnail=small.get(each.sha256, QImage()), mark=each.sha256,
            )
            for each in looked.found
        ]  # fmt: skip
        self._dialog.show_photos([*rows, *(_refused(each) for each in looked.problems)])

    @Slot()
    def _stop(self) -> None:
        if self._job is not None:
            self._job.cancel()
            self._job, self._sources = None, list(self._looked_at)  # the rest can be brought again
            if self._dialog is not None:
                self._dialog.complain(self.tr("Stopped; nothing was left half done."))

    def _tell(self, what: str, done: int, total: int) -> None:
        if self._dialog is not None:
            self._dialog.say_busy(what, done, total)

    def _tell_dialog(self, error: InputError) -> None:
        self._job, self._sources = None, list(self._looked_at)
        if self._dialog is not None:
            self._dialog.complain(str(error))

    # ---- adding

    @Slot()
    def _add(self) -> None:
        from rustboard.session.intake import keep_photos

        dialog = self._dialog
        if dialog is None or self.page is None:
            return
        chosen = tuple(replace(self._found[number], taken=taken) for number, taken in dialog.wanted())
        dialog.say_busy(self.tr("Copying…"))
        self._job = self._bridge.start(
            ("keep photos", id(self)), keep_photos, self.page.session.folder, chosen,
            done=self._kept, failed=self._tell_dialog, told=partial(self._tell, self.tr("Copying:")), owner=dialog,
        )  # fmt: skip

    def _kept(self, kept: KeptPhotos) -> None:
        from rustboard.session.intake import add_kept

        self._job = None
        if self.page is None or self._dialog is None:
            return
        session = self.page.session
        try:
            added = add_kept(session, kept)
        except InputError as error:
            self._dialog.complain(str(error))
            return
        self._dialog.accept()
        if added.photos:
            newest = session.record.photos[added.photos[-1].key]
            if newest.inspection is not None:
                self.page.look_at(newest.inspection)
            count, made = len(added.photos), added.inspections_made
            text = self.tr("Photos added: {0}; new inspections: {1}. Undo takes them back.")
            self.told.emit(text.format(count, made))
        if added.problems:
            self.failed.emit(" ".join(each.sentence() for each in added.problems[:6]))

    # ---- times of photos on the board

    @Slot()
    def photo_times(self) -> None:
        """Put the times of photos right."""
        from rustboard.session.looked_over import small_pictures
        from rustboard.session.photo_files import photo_file
        from rustboard.ui.intake.times_dialog import TimesDialog

        if self.page is None or self.page.session.read_only_reason:
            return
        session = self.page.session
        photo = photo_in_view(self.page)
        dialog = TimesDialog(session.record, [] if photo is None else [photo.key], self._window, clock=self._clock)
        self._wire_times(dialog)
        self._times = dialog
        files = [photo_file(session.folder, each) for each in session.record.photos.values()]
        there = tuple(each for each in files if each is not None)
        job = self._bridge.start(
            ("small pictures", id(self)), small_pictures, there,
            done=dialog.show_pictures, failed=_forget, owner=dialog,
        )  # fmt: skip
        self._asker.dialog(dialog)
        job.cancel()
        self._times = None

    def _wire_times(self, dialog: TimesDialog) -> None:
        dialog.times_asked.connect(self._shift)
        dialog.time_asked.connect(self._set_time)

    @Slot(object, object)
    def _shift(self, photos: Sequence[int], seconds: int) -> None:
        self._keep_times(photos, shift_clock, tuple(photos), seconds)

    @Slot(int, object)
    def _set_time(self, photo: int, when: datetime) -> None:
        self._keep_times([photo], set_taken, photo, when)

    def _keep_times(self, photos: Sequence[int], operation: object, *arguments: object) -> None:
        changes = self._do(operation, *arguments)
        if self.page is None or self._times is None:
            return
        if changes is None:
            self._times.complain(refusal_in(self._window))
        else:
            record = self.page.session.record
            self._times.refresh(record)
            kept = kept_by_grades(record, photos)
            if kept:
                text = self.tr(
                    "Taken on another day, but kept with the inspection whose grades were given by them: {0}. To move"
                    " them choose Belongs to inspection in the menu Photos."
                )
                self._times.complain(text.format(printable(some_of([each.name for each in kept], 4))))


def _refused(problem: Problem) -> LookedAt:
    from rustboard.ui.intake.rows import LookedAt

    return LookedAt(problem.file or "–", refused=problem.what)


def _forget(error: InputError) -> None:
    """Small pictures are a help only; the list does without."""
