"""Buttons of which a double click is one press: by the second, another coupon is already in view."""

from __future__ import annotations

from PySide6.QtCore import QElapsedTimer, QEvent, QObject
from PySide6.QtWidgets import QApplication, QWidget


class SinglePresses(QObject):
    """Takes the second click of a double click away from what it watches.

    Fingers that tap one button and then another are told of as a double click too; those are two presses.
    """

    def __init__(self, parent: QObject | None = None) -> None:
        """Watch nothing yet."""
        super().__init__(parent)
        self._last: QObject | None = None
        self._since = QElapsedTimer()

    def watch(self, button: QWidget) -> None:
        """Let a double click on a button be one press of it."""
        button.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Swallow the second press on the same button."""
        if event.type() == QEvent.Type.MouseButtonRelease:
            self._last = watched
            self._since.start()
        elif event.type() == QEvent.Type.MouseButtonDblClick and watched is self._last:
            return self._since.isValid() and not self._since.hasExpired(QApplication.doubleClickInterval())
        return super().eventFilter(watched, event)
