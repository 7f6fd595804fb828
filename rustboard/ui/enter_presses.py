"""Enter presses the button that has the keyboard, as people expect of a page that looks like a dialog."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QPushButton, QWidget


def press_by_enter(page: QWidget, event: QKeyEvent) -> bool:
    """Press the button of a page that has the keyboard, where the key is Enter; return whether it was."""
    if event.key() not in (Qt.Key.Key_Return, Qt.Key.Key_Enter) or event.isAutoRepeat():
        return False
    button = page.window().focusWidget()
    if not isinstance(button, QPushButton) or not page.isAncestorOf(button):
        return False
    button.click()
    return True
