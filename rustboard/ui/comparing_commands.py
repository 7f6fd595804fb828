"""Showing boards beside one another: from the shelf, or from the board in the window."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QStackedWidget, QWidget

from rustboard.session.jobs import Progress
from rustboard.session.shelf import ShelfEntry, shelf_entries
from rustboard.support.settings import Settings
from rustboard.ui.ask import Asker
from rustboard.ui.board_page import BoardPage
from rustboard.ui.bridge import JobBridge
from rustboard.ui.busy_commands import BusyCommands
from rustboard.ui.chart_saving import save_chart
from rustboard.ui.doing import Do
from rustboard.ui.theme import Scheme

if TYPE_CHECKING:
    from rustboard.ui.charts.view import ChartView
    from rustboard.ui.comparing.screen import ComparingScreen


class ComparingCommands(BusyCommands):
    """Brings the screen of boards beside one another in and out of view; it needs no open board.

    Signals:
        changed(): the screen came into view or left it.

    Attributes:
        screen: once it was wanted.
    """

    changed = Signal()

    def __init__(
        self,
        window: QWidget,
        asker: Asker,
        do: Do,
        settings: Settings,
        bridge: JobBridge,
        scheme: Scheme,
        stack: QStackedWidget,
    ) -> None:
        """Start without a screen."""
        super().__init__(window, asker, do, bridge)
        self._settings, self._scheme, self._stack = settings, scheme, stack
        self._from: QWidget | None = None
        self.screen: ComparingScreen | None = None

    def attach(self, page: BoardPage | None) -> None:
        """Serve another page; what was compared goes with the one before."""
        self.forget()
        super().attach(page)

    def forget(self) -> None:
        """Let the screen go, and what it shows."""
        screen, self.screen = self.screen, None
        self._from = None
        if screen is not None:
            self._stack.removeWidget(screen)
            screen.setParent(None)
            screen.deleteLater()

    def is_shown(self) -> bool:
        """Return whether the screen is in view."""
        return self.screen is not None and self._stack.currentWidget() is self.screen

    def look_again(self) -> None:
        """Read the boards anew: one of them may not be told of any more."""
        if self.screen is not None:
            self.screen.look_again()

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self._scheme = scheme
        if self.screen is not None:
            self.screen.set_scheme(scheme)

    @Slot(object)
    def compare(self, folders: Sequence[Path]) -> None:
        """Show boards beside one another."""
        if self.page is not None:
            self.page.close_grading()
        if self.screen is None:
            from rustboard.ui.comparing.screen import ComparingScreen

            self.screen = ComparingScreen(self._bridge, self._scheme)
            self._wire_screen(self.screen)
            self._stack.addWidget(self.screen)
        if not self.is_shown():
            self._from = self._stack.currentWidget()
        self._stack.setCurrentWidget(self.screen)
        self.screen.show_folders(tuple(folders))
        self.screen.tiles.setFocus()
        self.changed.emit()

    def _wire_screen(self, screen: ComparingScreen) -> None:
        screen.left.connect(self.leave)
        screen.copied.connect(self.told)
        screen.save_asked.connect(self._save)

    @Slot()
    def leave(self) -> None:
        """Go back to where the user came from."""
        if self.is_shown() and self._from is not None and self._stack.indexOf(self._from) >= 0:
            self._stack.setCurrentWidget(self._from)
            self._from.setFocus()
            self.forget()
            self.changed.emit()

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
