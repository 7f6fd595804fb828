"""What a window asks of whoever owns all windows of the program."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Protocol

from PySide6.QtWidgets import QWidget

from rustboard.session.session import Session
from rustboard.support.settings import Settings


class Windows(Protocol):
    """Whoever owns all windows of the program."""

    settings: Settings

    def open(self, board: Path | None, *, new_window: bool, source: QWidget) -> None:
        """Open a board, or the shelf, in ``source`` or in another window."""

    def remember(self, board: Path) -> None:
        """Put a board at the head of the recent ones, on the disk too.

        Raises:
            InputError: the disk refused.
        """

    def set_scheme(self, name: str) -> None:
        """Dress every window in a scheme."""

    def look_at_shelves_again(self) -> None:
        """Have every window that shows all boards read anew what they are."""

    def make_demo(self, window: QWidget) -> None:
        """Write the demo boards and open the first in this window."""


def is_written_by(session: Session, path: Path) -> bool:
    """Return whether a session has this board (its folder or its file) open for writing."""
    folder = os.path.realpath(session.folder)
    there = os.path.realpath(path)
    return not session.read_only_reason and there in (folder, os.path.join(folder, "board.rustboard"))
