"""Making the next board with one thing changed: from the shelf, or from the board in the window."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QWidget

from rustboard.board.record import forerunner_of
from rustboard.support.paths import login_name
from rustboard.support.problems import InputError
from rustboard.support.settings import Settings
from rustboard.support.text import printable
from rustboard.ui.ask import Asker
from rustboard.ui.board_page import BoardPage
from rustboard.ui.bridge import JobBridge
from rustboard.ui.busy_commands import BusyCommands
from rustboard.ui.doing import Do


class NextBoardCommands(BusyCommands):
    """Asks what is repeated and what is changed, and makes the board.

    Signals:
        made(object): the board in this folder (`Path`) was made.
    """

    made = Signal(object)

    def __init__(self, window: QWidget, asker: Asker, do: Do, settings: Settings, bridge: JobBridge) -> None:
        """Start without a page."""
        super().__init__(window, asker, do, bridge)
        self._settings = settings

    def attach(self, page: BoardPage | None) -> None:
        """Serve another page; one that was not inspected yet tells what it repeats, and what is changed on it."""
        super().attach(page)
        if page is None or page.session.record.inspections:
            return
        forerunner = forerunner_of(page.session.record)
        if forerunner is not None:
            text = self.tr("This board repeats {0}, with one thing changed: {1}.")
            self.told.emit(text.format(printable(forerunner.name), printable(forerunner.changed)))

    @Slot()
    def next_of_this(self) -> None:
        """Make the next board after the one in the window."""
        if self.page is not None:
            self.next_of(self.page.session.folder)

    @Slot(object)
    def next_of(self, folder: Path) -> None:
        """Make the next board after the one in a folder."""
        from rustboard.session.new_board import free_folder, free_name
        from rustboard.session.next_board import make_next, old_board, suggested
        from rustboard.ui.next_board.dialog import NextBoardDialog

        boards = self._settings.boards_path()
        try:
            record = old_board(folder)
        except InputError as error:
            self._refuse(error)
            return
        name = free_name(boards, record.board.name)
        dialog = NextBoardDialog(record, suggested(record), name, self._window)
        if not self._asker.dialog(dialog):
            return
        choice, called = dialog.choice(), dialog.board_name()
        new = free_folder(boards, called)
        if self.attempt(lambda: make_next(folder, choice, new, called, who=self._settings.grader or login_name())):
            self.made.emit(new)
