"""What happened between two inspections of the board in the window."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Slot
from PySide6.QtWidgets import QWidget

from rustboard.session.between import what_happened
from rustboard.session.weather import has_weather
from rustboard.ui.ask import Asker
from rustboard.ui.board_page import BoardPage
from rustboard.ui.doing import Do
from rustboard.ui.page_commands import PageCommands

if TYPE_CHECKING:
    from rustboard.ui.between.dialog import BetweenDialog


class BetweenCommands(PageCommands):
    """Shows weather, disturbances and drops of grades between two inspections."""

    def __init__(self, window: QWidget, asker: Asker, do: Do) -> None:
        """Start without a page."""
        super().__init__(window, asker, do)
        self._dialog: BetweenDialog | None = None

    def _wire_page(self, page: BoardPage) -> None:
        page.between_wanted.connect(self.show_before)
        page.weather.arrived.connect(self._tell_again)

    @Slot()
    def show_between(self) -> None:
        """Show what happened between the inspection in view and the one before it."""
        if self.page is None:
            return
        inspection = self.page.session.selection.inspection
        if inspection is None:
            self.told.emit(self.tr("There is no inspection yet; add the first one to see what happened before it."))
            return
        self.show_before(inspection)

    @Slot(int)
    def show_before(self, inspection: int) -> None:
        """Show what happened between an inspection and the one before it."""
        from rustboard.ui.between.dialog import BetweenDialog

        if self.page is None or inspection not in self.page.session.record.inspections or self._dialog is not None:
            return
        if has_weather(self.page.session.record):
            self.page.weather.want()
        dialog = BetweenDialog(self._window)
        self._wire_dialog(dialog)
        self._dialog = dialog
        self._tell(inspection)
        self._asker.dialog(dialog)
        self._dialog = None

    def _wire_dialog(self, dialog: BetweenDialog) -> None:
        dialog.stretch_asked.connect(self._tell)

    @Slot(int)
    def _tell(self, inspection: int) -> None:
        """Fill the dialog that is open."""
        if self.page is None or self._dialog is None:
            return
        record, weather = self.page.session.record, self.page.weather
        stretch = what_happened(record, weather.track(), inspection)
        if stretch is not None:
            self._dialog.show_stretch(record, stretch, working=weather.is_working())

    @Slot()
    def _tell_again(self) -> None:
        """Tell the same with the weather that has arrived."""
        inspection = None if self._dialog is None else self._dialog.inspection()
        if inspection is not None:
            self._tell(inspection)
