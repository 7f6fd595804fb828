"""A photo taken off the board, or said to belong to another inspection."""

from __future__ import annotations

from PySide6.QtCore import QPoint, Qt, Signal, Slot
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QMenu

from rustboard.operations.photos import remove_photo, tie_photo, tie_photo_alone
from rustboard.support.text import printable
from rustboard.ui.page_commands import PageCommands
from rustboard.ui.photo_in_view import photo_in_view


class PhotoKeepingCommands(PageCommands):
    """Commands about one photo that is on the board.

    Signals:
        find_asked(): missing photos are to be looked for.
    """

    find_asked = Signal()

    @Slot()
    def remove(self) -> None:
        """Take the photo in view off the board, and say what becomes of its file."""
        photo = None if self.page is None else photo_in_view(self.page)
        if photo is None or self._do(remove_photo, photo.key) is None:
            return
        text = self.tr(
            "Took {0} off the board, with what was measured in it. Undo brings it back; its file stays in the board's"
            " photos folder."
        )
        self.told.emit(text.format(printable(photo.name)))

    @Slot()
    def belongs(self) -> None:
        """Ask to which inspection the photo in view belongs."""
        from rustboard.ui.dialogs.belongs import BelongsDialog

        photo = None if self.page is None else photo_in_view(self.page)
        if self.page is None or photo is None or self.page.session.read_only_reason:
            return
        dialog = BelongsDialog(self.page.session.record, photo, self._window)
        if not self._asker.dialog(dialog):
            return
        chosen = dialog.chosen()
        if chosen == "own":
            self._do(tie_photo_alone, photo.key)
        else:
            self._do(tie_photo, photo.key, chosen)

    @Slot(object)
    def show_menu(self, where: QPoint) -> None:
        """Show what can be done with the photo in view, at a place on the screen."""
        if self.page is None or self.page.session.read_only_reason:
            return
        menu = QMenu(self._window)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        menu.addAction(self.tr("Belongs to &inspection…")).setData("belongs")
        menu.addAction(self.tr("&Remove this photo")).setData("remove")
        self._wire_menu(menu)
        menu.popup(where)

    def _wire_menu(self, menu: QMenu) -> None:
        menu.triggered.connect(self._chosen)

    @Slot(QAction)
    def _chosen(self, action: QAction) -> None:
        if action.data() == "remove":
            self.remove()
        else:
            self.belongs()
