"""The row of buttons under a picture with zoom."""

from __future__ import annotations

from PySide6.QtWidgets import QPushButton, QWidget

from rustboard.ui.flow_layout import FlowLayout
from rustboard.ui.zooming.view import ZoomView


class ZoomButtons(QWidget):
    """Nearer, farther, whole; and where wanted, what is seen turned by quarters."""

    def __init__(self, view: ZoomView, *, turning: bool = False, parent: QWidget | None = None) -> None:
        """Serve a view."""
        super().__init__(parent)
        self._view = view
        self._nearer = _button("+", self.tr("Nearer"))
        self._farther = _button("–", self.tr("Farther"))
        self._whole = _button(self.tr("Whole picture"), self.tr("Show the whole picture (0)"))
        self._left = _button("⟲", self.tr("Turn what is seen to the left; the photo stays as it is"))
        self._right = _button("⟳", self.tr("Turn what is seen to the right; the photo stays as it is"))
        row = FlowLayout(self)
        for each in (self._farther, self._nearer, self._whole):
            row.addWidget(each)
        for each in (self._left, self._right):
            each.setVisible(turning)
            if turning:
                row.addWidget(each)
            else:
                each.setParent(self)
        self._wire()

    def _wire(self) -> None:
        self._nearer.clicked.connect(self._view.zoom_in)
        self._farther.clicked.connect(self._view.zoom_out)
        self._whole.clicked.connect(self._view.fit)
        self._left.clicked.connect(self._view.turn_left)
        self._right.clicked.connect(self._view.turn_right)


def _button(text: str, name: str) -> QPushButton:
    button = QPushButton(text)
    button.setAccessibleName(name)
    button.setToolTip(name)
    button.setAutoDefault(False)
    return button
