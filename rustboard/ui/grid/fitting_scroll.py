"""A scroll area that tells its widget how much room there is."""

from __future__ import annotations

from PySide6.QtCore import QSizeF, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QScrollArea


class FittingScroll(QScrollArea):
    """A scroll area that tells how much room there is without scroll bars.

    Signals:
        room_changed(): the room to see through changed.
    """

    room_changed = Signal()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Tell of the new room."""
        super().resizeEvent(event)
        self.room_changed.emit()

    def room(self) -> QSizeF:
        """Return the room without scroll bars."""
        return QSizeF(self.maximumViewportSize())
