"""Finding photos again that are gone from the board's folder."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import Slot

from rustboard.board.model import Photo
from rustboard.session.photo_days import time_of
from rustboard.support.problems import InputError
from rustboard.support.text import printable
from rustboard.ui.busy_commands import BusyCommands
from rustboard.ui.wording import date_time

if TYPE_CHECKING:
    from rustboard.session.photo_relinking import RelinkRequest, RelinkResult
    from rustboard.session.session import Session
    from rustboard.ui.board_page import BoardPage

_MOST_SHOWN: Final = 6
_LONGEST: Final = 60


class RelinkCommands(BusyCommands):
    """Looks for missing photos in a folder that the user names."""

    def attach(self, page: BoardPage | None) -> None:
        """Serve another page; looking for photos of the board before ends."""
        if self.job is not None:
            self.job.cancel()
        super().attach(page)

    @Slot()
    def find(self) -> None:
        """Ask where the missing photos may be, and look there beside the window."""
        from rustboard.session.photo_relinking import RelinkRequest, find_photos, missing_photos

        if self.page is None:
            return
        session = self.page.session
        if session.read_only_reason:
            self.failed.emit(session.read_only_reason)
            return
        missing = missing_photos(session)
        if not missing:
            self.told.emit(self.tr("No photo of this board is missing."))
            return
        title = self.tr("Where are the missing photos? ({0})").format(len(missing))
        place = self._asker.folder(title, session.folder.parent)
        if place is None:
            return
        self.working.emit(self.tr("Looking for photos…"))
        request = RelinkRequest(session.folder, missing, place)
        self.job = self._bridge.start(
            ("missing photos", id(session)),
            find_photos,
            request,
            done=partial(self._found, session, request),
            failed=partial(self._not_found, session, request),
            told=self._tell_read,
            owner=self,
        )

    @Slot()
    def stop_job(self) -> None:
        """Stop looking; photos found until then are where they belong, and are shown."""
        looked = self.job is not None and self._bridge.is_waited_for(self.job)
        super().stop_job()
        if looked and self.page is not None:
            self._show_again(self.page.session, tuple(self.page.session.record.photos.values()))

    def _tell_read(self, number: int, total: int) -> None:
        if self.job is not None and not self.job.cancelled:
            self.working.emit(self.tr("Looking for photos: {0} of {1} files").format(number, total))

    def _found(self, session: Session, request: RelinkRequest, result: RelinkResult) -> None:
        if self.page is None or self.page.session is not session:
            return  # the board was left; the photos are where they belong all the same
        self._show_again(session, result.found)
        count = len(request.photos)
        if not result.missing:
            all_found = self.tr("Found all {0} missing photos.") if count > 1 else self.tr("Found the missing photo.")
            self.told.emit(all_found.format(count))
            return
        lines = [
            self.tr("Found {0} of {1} missing photos; these are still missing:").format(len(result.found), count)
        ]
        lines += self._listed(session, result.missing)
        if result.cut:
            lines.append(self.tr("There was more than one search looks through; choose a folder further in."))
        self.failed.emit("\n".join(lines))

    def _not_found(self, session: Session, request: RelinkRequest, error: InputError) -> None:
        self._refuse(error)
        if self.page is not None and self.page.session is session:
            self._show_again(session, request.photos)  # some may have been copied before the disk refused

    def _show_again(self, session: Session, photos: Sequence[Photo]) -> None:
        there = (each.key for each in photos if session.photo_file(each.key) is not None)
        session.photos_came_back(frozenset(there))

    def _listed(self, session: Session, photos: Sequence[Photo]) -> list[str]:
        lines = []
        for each in photos[:_MOST_SHOWN]:
            when = time_of(session.record, each)
            name = printable(each.name)[:_LONGEST]
            lines.append(name if when is None else self.tr("{0}, {1}").format(name, date_time(when)))
        if len(photos) > _MOST_SHOWN:
            lines.append(self.tr("And {0} more.").format(len(photos) - _MOST_SHOWN))
        return lines
