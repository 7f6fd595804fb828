"""What the user does to take the next photo from where an earlier one was taken."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication, Slot
from PySide6.QtWidgets import QWidget

from rustboard.session.jobs import Progress
from rustboard.session.photo_days import photos_in_order
from rustboard.support.files import write_whole
from rustboard.support.problems import InputError
from rustboard.support.text import one_line
from rustboard.ui.ask import Asker
from rustboard.ui.bridge import JobBridge
from rustboard.ui.doing import Do
from rustboard.ui.dropped_photos import png_bytes
from rustboard.ui.page_commands import PageCommands
from rustboard.ui.photo_in_view import photo_in_view
from rustboard.ui.theme import Scheme

if TYPE_CHECKING:
    from rustboard.ui.placing.next_dialog import NextPhotoDialog


class NextPhotoCommands(PageCommands):
    """Commands about a photo that is still to be taken, or was just taken."""

    def __init__(self, window: QWidget, asker: Asker, do: Do, bridge: JobBridge, scheme: Scheme) -> None:
        """Start without a page."""
        super().__init__(window, asker, do)
        self._bridge, self._scheme = bridge, scheme
        self._dialog: NextPhotoDialog | None = None
        self._checking: Progress | None = None

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self._scheme = scheme

    @Slot()
    def next_photo(self) -> None:
        """Show the newest placed photo, or the one in view, as a guide for the next."""
        from rustboard.ui.placing.next_dialog import NextPhotoDialog

        if self.page is None:
            return
        record = self.page.session.record
        photos = [each for each in reversed(photos_in_order(record)) if each.mm_to_px is not None]
        chosen = photo_in_view(self.page, placed=True)
        if chosen is None:
            self.told.emit(self.tr("There is no photo yet in which the board was found; place one first."))
            return
        dialog = NextPhotoDialog(record, photos, chosen.key, self._scheme, self._window)
        self._wire_dialog(dialog)
        self._dialog = dialog
        self._fetch(chosen.key)
        self._asker.dialog(dialog)
        self._dialog = None
        self._stop_checking()

    def _stop_checking(self) -> None:
        """Look no longer at a new photo; what is said of it is about the earlier photo it was held against."""
        if self._checking is not None:
            self._checking.cancel()

    def _wire_dialog(self, dialog: NextPhotoDialog) -> None:
        dialog.photo_wanted.connect(self._fetch)
        dialog.check_asked.connect(self._check)
        dialog.sheet_asked.connect(self._save_sheet)

    @Slot(int)
    def _fetch(self, key: int) -> None:
        from rustboard.session.board_views import whole_view, whole_view_request
        from rustboard.session.same_place import VIEW_PX

        self._stop_checking()
        dialog = self._dialog
        photo = None if self.page is None else self.page.session.record.photos.get(key)
        if dialog is None or self.page is None or photo is None:
            return
        request = whole_view_request(self.page.session, photo, VIEW_PX)
        if request is None:
            dialog.complain(self.tr("The file of this photo is missing from the board's photos folder; put it back."))
            return
        self._bridge.start(
            ("earlier photo", id(self)), whole_view, request,
            done=dialog.show_picture, failed=self._tell_dialog, owner=dialog,
        )  # fmt: skip

    @Slot()
    def _check(self) -> None:
        from rustboard.session.same_place import held_against_request, hold_against

        dialog = self._dialog
        if dialog is None or self.page is None:
            return
        kinds = QCoreApplication.translate("files", "Pictures (*.jpg *.jpeg *.png *.tif *.tiff *.heic *.heif *.hif)")
        file = self._asker.open_file(self.tr("A new photo"), Path.home(), kinds)
        if file is None:
            return
        request = held_against_request(self.page.session, dialog.photo(), file)
        if request is None:
            dialog.complain(self.tr("The file of this photo is missing from the board's photos folder; put it back."))
            return
        dialog.say_checking()
        self._checking = self._bridge.start(
            ("hold against", id(self)), hold_against, request,
            done=dialog.show_held, failed=self._tell_dialog, owner=dialog,
        )  # fmt: skip

    @Slot()
    def _save_sheet(self) -> None:
        dialog = self._dialog
        if dialog is None or self.page is None:
            return
        start = Path.home() / f"{self.page.session.folder.name} next photo.png"
        title = self.tr("Save a picture for the phone")
        path = self._ask_save(title, start, self.tr("Pictures (*.png)"), ".png")
        if path is None:
            return
        content = png_bytes(dialog.sheet())
        if self.attempt(lambda: write_whole(path, content)):
            dialog.note(self.tr("Saved {0}").format(one_line(str(path))))

    def _refuse(self, error: InputError) -> None:
        """Show what was refused, in the dialog as well."""
        self._tell_dialog(error)
        super()._refuse(error)

    def _tell_dialog(self, error: InputError) -> None:
        if self._dialog is not None:
            self._dialog.complain(str(error))
