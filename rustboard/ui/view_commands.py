"""How the window shows its board: table or tiles, timeline, colours."""

from __future__ import annotations

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QWidget

from rustboard.ui.ask import Asker
from rustboard.ui.doing import Do
from rustboard.ui.page_commands import PageCommands
from rustboard.ui.windows import Windows


class ViewCommands(PageCommands):
    """Commands about what is seen; none of them changes the board.

    Signals:
        changed(): another view is shown.
    """

    changed = Signal()

    def __init__(self, window: QWidget, asker: Asker, do: Do, windows: Windows) -> None:
        """Start without a page."""
        super().__init__(window, asker, do)
        self._windows = windows

    @Slot()
    def toggle_table(self) -> None:
        """Show the board as a table, or as tiles again."""
        if self.page is not None:
            self.page.tiles.show_table(not self.page.tiles.is_table())
            self.changed.emit()

    @Slot()
    def toggle_timeline(self) -> None:
        """Show or hide the timeline."""
        if self.page is not None:
            self.page.show_timeline(not self.page.has_timeline())

    @Slot()
    def choose_scheme(self) -> None:
        """Take the colours that the sending action is named after."""
        self._windows.set_scheme(self.sender().objectName().removeprefix("view."))
