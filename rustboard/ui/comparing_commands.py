"""Showing boards beside one another: from the shelf, or from the board in the window."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Slot

from rustboard.session.jobs import Progress
from rustboard.session.shelf import ShelfEntry, shelf_entries
from rustboard.support.settings import Settings
from rustboard.ui.chart_saving import save_chart
from rustboard.ui.free_screens import FreeScreenCommands

if TYPE_CHECKING:
    from rustboard.ui.charts.view import ChartView
    from rustboard.ui.comparing.screen import ComparingScreen


class ComparingCommands(FreeScreenCommands["ComparingScreen"]):
    """Brings the screen of boards beside one another in and out of view."""

    def _build(self) -> ComparingScreen:
        from rustboard.ui.comparing.screen import ComparingScreen

        screen = ComparingScreen(self._bridge, self._scheme)
        self._wire_screen(screen)
        return screen

    def look_again(self) -> None:
        """Read the boards anew: one of them may not be told of any more."""
        if self.screen is not None:
            self.screen.look_again()

    @Slot(object)
    def compare(self, folders: Sequence[Path]) -> None:
        """Show boards beside one another."""
        self.bring().show_folders(tuple(folders))

    def _wire_screen(self, screen: ComparingScreen) -> None:
        screen.left.connect(self.leave)
        screen.copied.connect(self.told)
        screen.save_asked.connect(self._save)

    @Slot()
    def compare_this(self) -> None:
        """Ask with which other boards the one in the window is compared."""
        if self.page is not None:
            self.page.close_grading()
            self.job = self._bridge.start(
                ("compare", id(self)), _entries, self._settings, done=self._choose, failed=self._refuse, owner=self
            )

    def _choose(self, entries: list[ShelfEntry]) -> None:
        from rustboard.board.record import forerunner_of
        from rustboard.ui.comparing.choosing_dialog import ChoosingDialog

        if self.page is None:
            return
        session = self.page.session
        dialog = ChoosingDialog(entries, session.folder, forerunner_of(session.record), self._window)
        if self._asker.dialog(dialog):
            self.compare((session.folder, *dialog.folders()))

    @Slot(object)
    def _save(self, view: ChartView) -> None:
        """Ask where a picture is to be kept, and write it."""
        path = save_chart(view, self._asker, self._settings.boards_path(), self._refuse)
        if path is not None:
            self.told.emit(self.tr("The picture was saved as {0}.").format(path.name))


def _entries(settings: Settings, progress: Progress) -> list[ShelfEntry]:
    return shelf_entries(settings, progress)
