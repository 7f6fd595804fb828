"""What happened between two inspections of the board in the window."""

from __future__ import annotations

from PySide6.QtCore import Slot

from rustboard.ui.page_commands import PageCommands


class BetweenCommands(PageCommands):
    """Shows weather, disturbances and drops of grades between two inspections."""

    @Slot()
    def show_between(self) -> None:
        """Show what happened between the inspection in view and the one before it."""

    @Slot(int)
    def show_before(self, inspection: int) -> None:
        """Show what happened between an inspection and the one before it."""
