"""A screen about the board in the window that takes the place of its tiles."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from rustboard.ui.theme import Scheme


class OwnScreen(QWidget):
    """What the plan and the photos have in common for whoever shows them."""

    def close_feed(self) -> None:
        """Listen to the session no longer; the screen is about to go."""

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
