"""Enter presses the button that has the keyboard, although no button of the dialog is its default."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QAbstractButton, QWidget

_ENTER = (Qt.Key.Key_Return, Qt.Key.Key_Enter)


def is_enter(event: QKeyEvent) -> bool:
    """Return whether Enter was pressed, and not held down."""
    return event.key() in _ENTER and not event.isAutoRepeat()


def focused_button(page: QWidget) -> QAbstractButton | None:
    """Return the button on a page that has the keyboard, or None."""
    focused = page.focusWidget()
    return focused if isinstance(focused, QAbstractButton) and focused.hasFocus() else None
