"""What the user does to make a time-lapse film of the board in the window."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QWidget

from rustboard.session.jobs import Progress
from rustboard.support.problems import InputError
from rustboard.support.text import printable
from rustboard.ui.ask import Asker
from rustboard.ui.bridge import JobBridge
from rustboard.ui.doing import Do
from rustboard.ui.page_commands import PageCommands
from rustboard.ui.theme import Scheme

if TYPE_CHECKING:
    from rustboard.session.session import Session
    from rustboard.session.timelapse import FilmRequest, FilmResult
    from rustboard.ui.films.choice import FilmChoice
    from rustboard.ui.films.dialog import FilmDialog

_MOST_SHOWN = 6


class FilmCommands(PageCommands):
    """Commands about films. A film goes on being made when its board is left, for it needs only the photos' files.

    Signals:
        working(str): how far the film is.
    """

    working = Signal(str)

    def __init__(self, window: QWidget, asker: Asker, do: Do, bridge: JobBridge, scheme: Scheme) -> None:
        """Start without a page."""
        super().__init__(window, asker, do)
        self._bridge, self._scheme = bridge, scheme
        self._dialog: FilmDialog | None = None
        self._job: Progress | None = None

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self._scheme = scheme

    @Slot()
    def film(self) -> None:
        """Ask what to film and where to, then make the film beside the window."""
        from rustboard.session.timelapse import film_coupons, film_photos, film_photos_missing

        if self.page is None:
            return
        if self._job is not None and self._bridge.busy():
            self.told.emit(self.tr("A film is being made; wait until it is done, or stop it first."))
            return
        session = self.page.session
        photos, missing = film_photos(session), film_photos_missing(session)
        if not photos:
            self.told.emit(self._why_none(session, missing=bool(missing)))
            return
        from rustboard.ui.films.dialog import FilmDialog

        dialog = FilmDialog(session.record, photos, film_coupons(session), self._scheme, self._window)
        dialog.options.name_missing(missing)
        self._wire_dialog(dialog)
        self._dialog = dialog
        dialog.begin(self.page.current_coupon())
        accepted = self._asker.dialog(dialog)
        self._dialog = None
        if accepted:
            self._ask_and_write(session, dialog.choice())

    def _wire_dialog(self, dialog: FilmDialog) -> None:
        dialog.picture_wanted.connect(self._fetch)

    def _why_none(self, session: Session, *, missing: bool) -> str:
        if missing:
            return self.tr("The files of this board's photos are missing from its photos folder; put them back.")
        if not session.record.photos:
            return self.tr("This board has no photo yet; add photos first.")
        return self.tr("The board was found in none of its photos yet; place a photo first.")

    # ---- the picture in the dialog

    @Slot()
    def _fetch(self) -> None:
        from rustboard.session.timelapse import film_frame

        dialog = self._dialog
        if dialog is None or self.page is None:
            return
        choice = dialog.choice()
        try:
            request = self._request(self.page.session, choice, Path(), dialog.picture_photo().key)
        except InputError as error:
            dialog.complain(str(error), fatal=True)
            return
        self._bridge.start(
            ("film picture", id(self)), film_frame, request,
            done=dialog.show_picture, failed=self._tell_dialog, owner=dialog,
        )  # fmt: skip

    def _tell_dialog(self, error: InputError) -> None:
        if self._dialog is not None:
            self._dialog.complain(str(error), fatal=False)  # one photo is damaged; the film goes without it

    def _request(self, session: Session, choice: FilmChoice, target: Path, only: int | None = None) -> FilmRequest:
        """Return how to write the film chosen, or the picture of one of its photos.

        Raises:
            InputError: there can be no such film.
        """
        from rustboard.session.timelapse import film_request
        from rustboard.ui.films.choice import line_of

        record = session.record
        subject = record.board.name if choice.coupon is None else record.coupons[choice.coupon].id
        line = partial(line_of, printable(subject)) if choice.stamped else None
        photos = [each for each in choice.photos if only is None or each.key == only]
        return film_request(session, photos, target, choice.kind, choice.seconds_each, line, choice.coupon)

    # ---- the film

    def _ask_and_write(self, session: Session, choice: FilmChoice) -> None:
        from rustboard.session.new_board import folder_name
        from rustboard.session.timelapse import write_timelapse
        from rustboard.ui.films.choice import KIND_FILES, say

        name = session.folder.name
        if choice.coupon is not None:
            name = f"{name} {session.record.coupons[choice.coupon].id}"
        start = session.folder.parent / f"{folder_name(name)}.{choice.kind}"
        path = self._ask_save(self.tr("Save the film"), start, say(KIND_FILES[choice.kind]), f".{choice.kind}")
        if path is None:
            return
        try:
            request = self._request(session, choice, path)
        except InputError as error:
            self._refuse(error)
            return
        self._tell_progress(0, len(request.pictures))
        self._job = Progress()  # until the real one is known; a job may be done before `start` returns
        job = self._bridge.start(
            ("film", id(self)), write_timelapse, request,
            done=self._written, failed=self._not_written, told=self._tell_progress, owner=self,
        )  # fmt: skip
        self._job = None if self._job is None else job

    @Slot()
    def stop(self) -> None:
        """Stop making the film; nothing of it is left."""
        job, self._job = self._job, None
        if job is not None and self._bridge.busy():
            job.cancel()
            self.told.emit(self.tr("Stopped making the film; nothing of it is left."))

    def _tell_progress(self, done: int, total: int) -> None:
        if self._job is not None and self._job.cancelled:
            return
        if done < total:
            self.working.emit(self.tr("Making the film: picture {0} of {1}").format(done + 1, total))
        else:
            self.working.emit(self.tr("Making the film: writing the file"))

    def _written(self, result: FilmResult) -> None:
        self._job = None
        said = self.tr("Wrote the film, {0} pictures, to {1}").format(result.pictures, str(result.target))
        if not result.problems:
            self.told.emit(said)
            return
        lines = [said, self.tr("Left out of it:")]
        lines.extend(str(InputError(each.what, file=each.file)) for each in result.problems[:_MOST_SHOWN])
        if len(result.problems) > _MOST_SHOWN:
            lines.append(self.tr("And {0} more.").format(len(result.problems) - _MOST_SHOWN))
        self.failed.emit("\n".join(lines))

    def _not_written(self, error: InputError) -> None:
        self._job = None
        self._refuse(error)
