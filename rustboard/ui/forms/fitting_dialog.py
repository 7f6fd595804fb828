"""A dialog that fits the screen it is on."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QKeyEvent, QShowEvent
from PySide6.QtWidgets import QDialog


class FittingDialog(QDialog):
    """Takes the size that its hint asks for, which is bounded to the room on the screen."""

    def showEvent(self, event: QShowEvent) -> None:
        """Take the size that fits; left to itself a dialog takes two thirds of a small screen at most."""
        if not self.testAttribute(Qt.WidgetAttribute.WA_Resized):
            self.resize(self.sizeHint())
        super().showEvent(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Close by Esc, pressed and not held: a second press may mean that something is given up for good."""
        if not (event.key() == Qt.Key.Key_Escape and event.isAutoRepeat()):
            super().keyPressEvent(event)

    def _room(self) -> QSize:
        # Frame and title bar of a window take some of the screen.
        return self.screen().availableGeometry().size() - QSize(16, 48)
