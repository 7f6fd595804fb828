"""What all command objects about the board in the window have in common."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QWidget

from rustboard.support.problems import InputError
from rustboard.ui.ask import Asker
from rustboard.ui.board_page import BoardPage
from rustboard.ui.doing import Do


class PageCommands(QObject):
    """Commands about the page in the window.

    Signals:
        told(str): something to note.
        failed(str): a sentence to stay until read.

    Attributes:
        page: the board in the window, or None while all boards are shown.
    """

    told = Signal(str)
    failed = Signal(str)

    def __init__(self, window: QWidget, asker: Asker, do: Do) -> None:
        """Start without a page; ``do`` runs an operation and shows what the rules or the disk refuse."""
        super().__init__(window)
        self._window, self._asker, self._do = window, asker, do
        self.page: BoardPage | None = None

    def attach(self, page: BoardPage | None) -> None:
        """Serve another page."""
        self.page = page
        if page is not None:
            self._wire_page(page)

    def _wire_page(self, page: BoardPage) -> None:
        """Connect to what a page asks for; a command object that is only called needs nothing."""

    def attempt(self, work: Callable[[], object]) -> bool:
        """Run something that the disk or the user's files may refuse; a refusal is shown. Return whether it went."""
        try:
            work()
        except InputError as error:
            self._refuse(error)
            return False
        return True

    def _refuse(self, error: InputError) -> None:
        """Show what was refused."""
        self.failed.emit(str(error))

    def _ask_save(self, title: str, start: Path, kinds: str, suffix: str) -> Path | None:
        """Return where to write a file, with this ending, or None when the user thinks better of it."""
        path = self._asker.save_file(title, start, kinds)
        if path is None or path.suffix.lower() == suffix:
            return path
        return path.with_name(f"{path.name}{suffix}")
