"""What a window asks of whoever owns all windows of the program."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Protocol

from rustboard.support.settings import Settings

if TYPE_CHECKING:
    from rustboard.ui.main_window import MainWindow


class Windows(Protocol):
    """Whoever owns all windows of the program."""

    settings: Settings

    def open(self, board: Path | None, *, new_window: bool, source: MainWindow) -> None:
        """Open a board, or the shelf, in ``source`` or in another window."""

    def set_scheme(self, name: str) -> None:
        """Dress every window in a scheme."""

    def make_demo(self, window: MainWindow) -> None:
        """Write the demo boards and open the first in this window."""
