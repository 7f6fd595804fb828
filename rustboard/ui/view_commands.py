"""How the window shows its board: table or tiles, timeline, colours, large keys, and what it says aloud."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QWidget

from rustboard.support.settings import save_settings
from rustboard.ui.ask import Asker
from rustboard.ui.doing import Do
from rustboard.ui.page_commands import PageCommands
from rustboard.ui.windows import Windows


class ViewCommands(PageCommands):
    """Commands about what is seen; none of them changes the board.

    Signals:
        changed(): another view is shown. keys_resized(): the keys for grading are to be larger or as usual.
    """

    changed = Signal()
    keys_resized = Signal()

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
    def toggle_large_keys(self) -> None:
        """Make what is pressed while grading large enough for gloves, or as usual again."""
        settings = self._windows.settings
        settings.large_keys = not settings.large_keys
        if self.page is not None and self.page.panel is not None:
            self.page.panel.follow_settings()
        self.keys_resized.emit()
        self._keep_settings()

    @Slot()
    def toggle_say_grades(self) -> None:
        """Have each grade said through the desktop's screen reader, or be silent again."""
        settings = self._windows.settings
        settings.say_grades = not settings.say_grades
        self._keep_settings()

    def _keep_settings(self) -> None:
        self.attempt(partial(save_settings, self._windows.settings))
        self.changed.emit()

    @Slot()
    def choose_scheme(self) -> None:
        """Take the colours that the sending action is named after."""
        self._windows.set_scheme(self.sender().objectName().removeprefix("view."))
