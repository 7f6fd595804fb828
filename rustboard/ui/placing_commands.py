"""What the user does about where photos show the board: four taps, and the next photo from the same place."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import Slot
from PySide6.QtWidgets import QWidget

from rustboard.board.model import Photo
from rustboard.operations.measuring import place_photo
from rustboard.support.problems import InputError
from rustboard.ui.ask import Asker
from rustboard.ui.bridge import JobBridge
from rustboard.ui.doing import Do
from rustboard.ui.page_commands import PageCommands
from rustboard.ui.photo_in_view import photo_in_view
from rustboard.ui.theme import Scheme

if TYPE_CHECKING:
    from rustboard.ui.placing.dialog import PlacingDialog

_PICTURE_PX = 3_000


class PlacingCommands(PageCommands):
    """Commands about the place of one photo."""

    def __init__(self, window: QWidget, asker: Asker, do: Do, bridge: JobBridge, scheme: Scheme) -> None:
        """Start without a page."""
        super().__init__(window, asker, do)
        self._bridge, self._scheme = bridge, scheme
        self._dialog: PlacingDialog | None = None
        self._photo: Photo | None = None

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self._scheme = scheme

    @Slot()
    def place_by_hand(self) -> None:
        """Place the photo in view by four taps, or put its place right."""
        if self.page is None:
            return
        photo = photo_in_view(self.page)
        if photo is None:
            self.told.emit(self.tr("This board has no photo yet; add one first."))
        else:
            self.place(photo.key)

    @Slot(int)
    def place(self, key: int) -> None:
        """Place a photo by four taps."""
        from rustboard.session.placing import place_by_taps
        from rustboard.ui.placing.dialog import PlacingDialog

        photo = None if self.page is None else self.page.session.record.photos.get(key)
        if self.page is None or photo is None:
            return
        session = self.page.session
        board = session.record.board
        if not (board.width_mm and board.height_mm):
            self.failed.emit(
                self.tr(
                    "Four corners place a board of known size: first enter its width and height (Describe the board)."
                )
            )
            return
        taps = partial(place_by_taps, session.record, photo)
        dialog = PlacingDialog(
            session.record, photo, taps, self._scheme, self._window, read_only=bool(session.read_only_reason)
        )
        self._dialog, self._photo = dialog, photo
        self._wire_dialog(dialog)
        self._fetch_picture(dialog, photo)
        accepted = self._asker.dialog(dialog)
        self._dialog = None
        if accepted:
            self._do(place_photo, dialog.placing())

    def _wire_dialog(self, dialog: PlacingDialog) -> None:
        dialog.find_asked.connect(self._find)

    def _fetch_picture(self, dialog: PlacingDialog, photo: Photo) -> None:
        from rustboard.session.board_views import whole_view, whole_view_request

        if self.page is None:
            return
        request = whole_view_request(self.page.session, photo, _PICTURE_PX)
        if request is None:
            dialog.complain(self.tr("The file of this photo is missing from the board's photos folder; put it back."))
            return
        self._bridge.start(
            ("placing picture", id(self)), whole_view, request,
            done=dialog.show_picture, failed=self._tell_dialog, owner=dialog,
        )  # fmt: skip

    @Slot()
    def _find(self) -> None:
        """Look for the board in the photo by markers, or by the view of other photos."""
        from rustboard.session.placing import find_board_in, find_request

        dialog, photo = self._dialog, self._photo
        request = None if self.page is None or photo is None else find_request(self.page.session, photo)
        if dialog is None or request is None:
            return
        dialog.say_looking(True)
        self._bridge.start(
            ("find board", id(self)), find_board_in, request,
            done=dialog.show_found, failed=self._tell_dialog, owner=dialog,
        )  # fmt: skip

    def _tell_dialog(self, error: InputError) -> None:
        if self._dialog is not None:
            self._dialog.complain(str(error))
