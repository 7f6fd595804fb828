"""A dialog that fits the screen it is on."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QDialog


class FittingDialog(QDialog):
    """Takes the size that its hint asks for, which is bounded to the room on the screen."""

    def showEvent(self, event: QShowEvent) -> None:
        """Take the size that fits; left to itself a dialog takes two thirds of a small screen at most."""
        if not self.testAttribute(Qt.WidgetAttribute.WA_Resized):
            self.resize(self.sizeHint())
        super().showEvent(event)

    def _room(self) -> QSize:
        # Frame and title bar of a window take some of the screen.
        return self.screen().availableGeometry().size() - QSize(16, 48)
